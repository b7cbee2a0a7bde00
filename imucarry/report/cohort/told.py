"""What the cohort page says in sentences: whom it covers, and what its findings mean."""

from __future__ import annotations

from imucarry.basics.settings import Settings, as_tree
from imucarry.basics.words import counted
from imucarry.report.cohort.data import CohortData
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.say import sentence_case
from imucarry.report.wording.words_cohort import COHORT, FINDINGS
from imucarry.report.wording.words_findings import FINDING_MARK


def covered(data: CohortData) -> str:
    """Return how many sessions were scored, of what manifest, and when they were."""
    links = data.sessions
    people = len({link.participant for link in links})
    counts = COHORT["counts"].format(
        manifest=f"{data.manifest}: " if data.manifest else "",
        scored=counted(len(links), "session"),
        people=counted(people, "participant"),
        failed=len(data.failures),
    )
    dates = sorted(link.date for link in links if link.date)
    if not dates:
        return counts
    span = dates[0] if dates[0] == dates[-1] else f"{dates[0]} to {dates[-1]}"
    n_undated = len(links) - len(dates)
    undated = COHORT["undated"].format(n=n_undated) if n_undated else ""
    return f"{counts} {COHORT['dates'].format(span=span, undated=undated)}"


def meanings(settings: Settings) -> str:
    """Return what the words of the findings mean, by the settings of the run."""
    carry = settings.carry
    limit = carry.pain_limit_0_10
    above = COHORT["pain_limit"].format(limit=kilograms(limit)) if limit else ""
    marks = {finding: FINDING_MARK[finding] for finding in FINDINGS}
    marks["rotates"] = sentence_case(marks["rotates"])
    words = COHORT["findings_words"].format(
        line=f"{carry.reduced_pct:g}", minimal_line=f"{carry.minimal_pct:g}", **marks
    )
    return " ".join((words, COHORT["findings_pain"].format(limit=above), changed(settings)))


def changed(settings: Settings) -> str:
    """Return the settings that are not at their default, with the default."""
    usual = as_tree(Settings())
    found = [
        COHORT["setting"].format(name=f"{room}.{name}", value=value, usual=usual[room][name])
        for room, values in as_tree(settings).items()
        for name, value in values.items()
        if value != usual[room][name]
    ]
    return COHORT["changed"].format(settings="; ".join(found)) if found else COHORT["unchanged"]

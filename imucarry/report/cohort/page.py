"""The page of a study cohort: one HTML file beside the joined tables."""

from __future__ import annotations

from markupsafe import Markup

from imucarry import __version__
from imucarry.basics.evidence import cohort as evidence
from imucarry.basics.records import Notice
from imucarry.basics.words import counted
from imucarry.carry.cautions import caution_groups
from imucarry.report.cohort.charts import kept_view, measure_views
from imucarry.report.cohort.checks import sessions_to_look_at, shown_and_more
from imucarry.report.cohort.common import pace_told
from imucarry.report.cohort.data import CohortData, SessionLink
from imucarry.report.cohort.outliers import outliers
from imucarry.report.cohort.reliability import reliability_tables
from imucarry.report.cohort.tables import (
    failures_table,
    findings_table,
    quality_table,
)
from imucarry.report.cohort.told import covered, meanings
from imucarry.report.page import environment, style_sheet
from imucarry.report.views import CheckView
from imucarry.report.wording import texts
from imucarry.report.wording.say import place, sentence_case
from imucarry.report.wording.words_cohort import COHORT, OUTLIER_HEADS

__all__ = ["CohortData", "SessionLink", "render", "sessions_to_look_at"]


def render(data: CohortData) -> str:
    """Return the cohort page as one HTML text that asks nothing of the network.

    Parameters
    ----------
    data : CohortData
    """
    apart, n_more = outliers(data)
    main, others = reliability_tables(data)
    doubtful, n_more_doubtful = shown_and_more(sessions_to_look_at(data.sessions, data.bouts))
    study = [notice for notice in data.notices if notice.severity == "check"]
    return environment().get_template("cohort.html").render(
        c=COHORT,
        w=texts.PAGE,
        lang=texts.LANGUAGE,
        css=Markup(style_sheet()),
        counts=covered(data),
        failures=failures_table(data),
        doubtful=doubtful,
        doubtful_more=_more(COHORT["doubtful_more"], n_more_doubtful, "more session"),
        other_pace=pace_told(data.sessions, data.bouts),
        findings=findings_table(data),
        findings_words=meanings(data.settings),
        kept=kept_view(data),
        measures=measure_views(data),
        quality=quality_table(data),
        outliers_main=[item for item in apart if item.is_main],
        outliers_others=[item for item in apart if not item.is_main],
        outliers_more=_more(COHORT["outliers_more"], n_more, "more bout"),
        outlier_heads=OUTLIER_HEADS,
        sessions=data.sessions,
        outliers_rule=COHORT["outliers_rule"].format(
            limit=evidence.OUTLIER_SDS.value, least=evidence.OUTLIER_LEAST_BOUTS.value
        ),
        reliability=main,
        reliability_none=COHORT["reliability_none"].format(
            least=evidence.SEM_LEAST_PARTICIPANTS.value
        ),
        reliability_others=others,
        notices=[_told(notice) for notice in data.notices],
        notes=[_told(notice) for notice in data.notices if notice not in study],
        study=[_told(notice) for notice in study[: evidence.CHECKED_SESSIONS_SHOWN.value]],
        study_more=[_told(notice) for notice in study[evidence.CHECKED_SESSIONS_SHOWN.value :]],
        cautions=caution_groups(),
        made_with=texts.PAGE["made_with"].format(version=__version__),
    )  # fmt: skip


def _told(notice: Notice) -> CheckView:
    return CheckView(place("", notice), sentence_case(notice.message))


def _more(words: str, n_more: int, noun: str) -> str:
    return words.format(more=counted(n_more, noun)) if n_more else ""

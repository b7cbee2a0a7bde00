"""A study's joined results: tables, page and ``run.json``, moved into place together."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from imucarry import __version__
from imucarry.basics.errors import OutputError
from imucarry.basics.records import Notice
from imucarry.basics.settings import Settings, as_tree
from imucarry.basics.words import counted
from imucarry.cohort.failures import Failed, write_failures
from imucarry.cohort.gather import Scored, groups_of, join_tables
from imucarry.cohort.plan import KEYS_FOLDER, SESSIONS_FOLDER, Plan
from imucarry.cohort.results import (
    describe,
    links_of,
    names_of,
    read_bouts,
    read_scores,
    visits_in_order,
    write_page,
    write_parquet,
    write_reliability,
)
from imucarry.cohort.same_visits import same_recordings
from imucarry.cohort.schema import CHECKS, FAILURES, JOINED, RELIABILITY, SESSIONS
from imucarry.cohort.session_tables import write_checks, write_sessions
from imucarry.cohort.study_checks import StudyCheck, contradictions
from imucarry.cohort.task import Outcome, Task
from imucarry.outputs import RUN_FILE, OutputFolder, remove_owned, staged
from imucarry.provenance import PROGRAM, json_text
from imucarry.readers.sheets import ManifestRow
from imucarry.tables.columns import Table
from imucarry.tables.schema import RETEST

if TYPE_CHECKING:
    import pandas as pd

    from imucarry.report.cohort import SessionLink

COMMAND = "cohort"
KEPT_OF_RUN = ("body_mass_kg", "files", "notices", "sensors")
"""What the study needs of a session's ``run.json``."""
MOST_NAMED = 5
"""Sessions that a message names."""


@dataclass(frozen=True, slots=True)
class Joined:
    """What was joined: how many sessions, which failed, which to look at, what was odd."""

    n_scored: int
    failed: tuple[Failed, ...]
    to_look_at: tuple[str, ...]
    notices: tuple[Notice, ...]


def finished_sessions(target: Path) -> list[Path]:
    """Return the session folders that hold results, also such of an earlier manifest."""
    return sorted(path.parent for path in (target / SESSIONS_FOLDER).glob(f"*/{RUN_FILE}"))


def unlisted_sessions(plan: Plan, target: Path) -> list[Path]:
    """Return the session folders with results of sessions that the manifest does not list."""
    listed = {task.out for task in plan.tasks}
    return [path for path in finished_sessions(target) if path.resolve() not in listed]


def will_be_removed(sessions: Sequence[Path]) -> str:
    """Return what to tell, before the work, of results whose sessions left the manifest.

    Parameters
    ----------
    sessions : sequence of Path
        Their folders.
    """
    named = [_who(path) for path in sessions[:MOST_NAMED]]
    named += ["..."] if len(sessions) > MOST_NAMED else []
    are = "is" if len(sessions) == 1 else "are"
    return (
        f"{counted(len(sessions), 'session')} of an earlier run {are} not in this manifest "
        f"({'; '.join(named)}); at the end of this run their results are removed"
    )


def _who(session: Path) -> str:
    """Return participant and session of results; the folder's name where they do not tell."""
    try:
        run = json.loads((session / RUN_FILE).read_text(encoding="utf-8"))
        return f"{run['participant']}, {run['session']}"
    except (OSError, ValueError, KeyError, TypeError):
        return session.name


def write_study(
    plan: Plan,
    outcomes: Sequence[Outcome],
    folder: OutputFolder,
    settings: Settings,
    *,
    parquet: bool,
) -> Joined:
    """Write the joined tables, the failures, the reliability and the page.

    Parameters
    ----------
    plan : Plan
    outcomes : sequence of Outcome
        One a task, in the tasks' order.
    folder : OutputFolder
    settings : Settings
    parquet : bool
        Also write the joined tables as Parquet.
    """
    from imucarry.report.cohort import CohortData

    scored = [
        _scored(plan.rows[outcome.number], plan.tasks[outcome.number])
        for outcome in outcomes
        if not outcome.error
    ]
    failed = tuple((plan.rows[one.number], one) for one in outcomes if one.error)
    links = links_of(scored)
    columns = list(dict.fromkeys(name for row in plan.rows for name, _ in row.extra))
    order, doubts = visits_in_order(scored, plan.file, failed)
    study = study_checks(plan, scored, doubts)
    notices = tuple(one.notice for one in study)
    _drop_stale(plan, outcomes, folder.path)
    with staged(folder, locked=True) as aside:
        tables = [
            _join(scored, name, table, aside, columns, parquet=parquet) for name, table in JOINED
        ]
        tables.append((SESSIONS.file, SESSIONS, write_sessions(scored, aside, columns, study)))
        tables.append((CHECKS.file, CHECKS, write_checks(scored, aside, columns, study)))
        tables.append((FAILURES.file, FAILURES, write_failures(failed, aside, plan.rows)))
        scores = read_scores(aside)
        reliability = write_reliability(aside, scores, order, settings.carry, groups_of(scored))
        tables.append((RELIABILITY.file, RELIABILITY, names_of(RELIABILITY)))
        _write_json(aside / "datapackage.json", describe(aside, tables))
        bouts = read_bouts(aside)
        data = CohortData(
            bouts=bouts,
            scores=scores,
            failures=tuple((row.folder, one.error, one.message) for row, one in failed),
            sessions=links,
            reliability=reliability,
            notices=notices,
            settings=settings,
            manifest=plan.file,
        )
        write_page(aside, data)
        files = sorted([*(path.name for path in aside.iterdir()), RUN_FILE])
        _write_json(aside / RUN_FILE, _run_record(plan, outcomes, notices, settings, files))
    return Joined(len(scored), failed, _to_look_at(links, bouts, study), notices)


def study_checks(
    plan: Plan, scored: Sequence[Scored], doubts: Iterable[Notice]
) -> tuple[StudyCheck, ...]:
    """Return what is to be told of the study beyond its sessions' own notices.

    Parameters
    ----------
    plan : Plan
    scored : sequence of Scored
    doubts : iterable of Notice
        Of the order of the visits.
    """
    return (
        *same_recordings(scored, plan.file),
        *contradictions(scored, plan.file),
        *(StudyCheck(notice) for notice in (*plan.notices, *doubts)),
    )


def _to_look_at(
    links: Sequence[SessionLink], bouts: pd.DataFrame, study: Iterable[StudyCheck]
) -> tuple[str, ...]:
    """Return the names of the sessions with checks, the worst first."""
    from imucarry.report.cohort import sessions_to_look_at

    own = (item.who for item in sessions_to_look_at(links, bouts))
    between = (
        f"{item.participant}, {item.session}"
        for one in study
        if one.notice.severity == "check"
        for item in one.sessions
    )
    return tuple(dict.fromkeys((*own, *between)))


def _join(
    scored: Sequence[Scored],
    name: str,
    table: Table,
    aside: Path,
    manifest: Sequence[str],
    *,
    parquet: bool,
) -> tuple[str, Table, list[str]]:
    """Write one joined table; return its file, schema and columns."""
    file = f"{name}.csv"
    if table is RETEST:  # only sessions with shoulder tests have it
        scored = [item for item in scored if table.file in item.run["files"]]
    names = join_tables(scored, table.file, names_of(table), aside / file, manifest)
    if parquet:
        write_parquet(aside, name, table, names)
    return file, table, names


def _scored(row: ManifestRow, task: Task) -> Scored:
    try:
        run = json.loads((task.out / RUN_FILE).read_text(encoding="utf-8"))
        return Scored(
            run["participant"], run["session"], task.out, dict(row.extra),
            run.get("date") or "", {name: run[name] for name in KEPT_OF_RUN}, row.folder,
            row.line,
        )  # fmt: skip
    except (OSError, ValueError, KeyError) as error:
        raise OutputError(
            "a session's results are damaged; run again with --fresh", file=str(task.out)
        ) from error


def _drop_stale(plan: Plan, outcomes: Iterable[Outcome], target: Path) -> None:
    """Remove our results of sessions that left the manifest or no longer score."""
    kept = {plan.tasks[outcome.number].out for outcome in outcomes if not outcome.error}
    for path in finished_sessions(target):
        if path.resolve() not in kept:
            remove_owned(path)
    keys = {task.key_file.name for task in plan.tasks}
    for path in (target / KEYS_FOLDER).glob("*.json"):
        if path.name not in keys:
            path.unlink()


def _write_json(path: Path, content: dict[str, Any]) -> None:
    path.write_bytes(json_text(content).encode())


def _run_record(
    plan: Plan,
    outcomes: Sequence[Outcome],
    notices: Sequence[Notice],
    settings: Settings,
    files: list[str],
) -> dict[str, Any]:
    sessions = [
        {
            "folder": row.folder,
            "error": outcome.error,
            "results": "" if outcome.error else f"{SESSIONS_FOLDER}/{task.out.name}",
        }
        for row, task, outcome in zip(plan.rows, plan.tasks, outcomes, strict=True)
    ]
    return {
        "program": PROGRAM,
        "command": COMMAND,
        "version": __version__,
        "settings": as_tree(settings),
        "sessions": sessions,
        "notices": [asdict(notice) for notice in notices],
        "files": files,
    }

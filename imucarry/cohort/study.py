"""A whole study, in order: plan, score, gather, tables, page."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from imucarry import __version__
from imucarry.basics.errors import OutputError
from imucarry.basics.settings import Settings, as_tree, read_settings
from imucarry.cohort.cluster import require_dask, run_on_dask
from imucarry.cohort.gather import Scored, join_tables
from imucarry.cohort.local import run_locally, usable_cores
from imucarry.cohort.plan import KEYS_FOLDER, SESSIONS_FOLDER, Plan, make_plan
from imucarry.cohort.results import write_failures, write_page, write_parquet, write_reliability
from imucarry.cohort.task import Outcome, Task, finished, session_key
from imucarry.outputs import (
    RUN_FILE,
    OutputFolder,
    claim,
    only_run,
    plain_errors,
    staged,
    write_bytes,
)
from imucarry.provenance import PROGRAM, json_text
from imucarry.readers.sheets import ManifestRow
from imucarry.tables import package
from imucarry.tables.schema import BOUT_SUMMARY, SCORES, STRIDES, Table

Progress = Callable[[str, int, int, int], None]
"""Called with a stage's name, how many sessions are done, how many there are, how many failed."""

JOINED: tuple[tuple[str, Table], ...] = (
    ("cohort_strides", STRIDES),
    ("cohort_scores", SCORES),
    ("cohort_bouts", BOUT_SUMMARY),
)


@dataclass(frozen=True, slots=True)
class CohortOptions:
    """How a cohort is run.

    Attributes
    ----------
    workers : int or None
        Local processes; None is one a core.
    dask : str or None
        Address of a dask cluster to use instead of local processes.
    fresh : bool
        Score everything again.
    force : bool
        Write even into a folder that holds files of others.
    parquet : bool
        Also write the joined tables as Parquet.
    """

    workers: int | None = None
    dask: str | None = None
    fresh: bool = False
    force: bool = False
    parquet: bool = False


@dataclass(frozen=True, slots=True)
class CohortSummary:
    """How a cohort ended, with the lines that the console shows."""

    n_scored: int
    n_failed: int
    lines: tuple[str, ...]


def score_cohort(
    manifest: str | Path,
    out: str | Path,
    settings: Settings | str | Path | None = None,
    options: CohortOptions | None = None,
    *,
    progress: Progress | None = None,
) -> CohortSummary:
    """Score every session of a manifest and join the results.

    Parameters
    ----------
    manifest : str or Path
        CSV with the column ``folder`` and any further columns.
    out : str or Path
        Folder for the results; a run that was stopped goes on in it.
    settings : Settings or path of a TOML file, optional
    options : CohortOptions, optional
    progress : callable, optional
        Called with a stage's name, how many sessions are done, how many there
        are, and how many failed.

    Returns
    -------
    CohortSummary

    Raises
    ------
    SessionError
        If the manifest cannot be used.
    OutputError
        If the folder is refused or cannot be written to.
    """
    chosen = options or CohortOptions()
    tree = settings if isinstance(settings, Settings) else read_settings(_path(settings))
    target = Path(out)
    if chosen.dask is not None:
        require_dask()
    plan = make_plan(Path(manifest), target, tree)
    inputs = [Path(manifest), *(row.path for row in plan.rows)]
    folder = claim(target, inputs=inputs, force=chosen.force)
    with plain_errors(target), only_run(target):
        _begin(target, fresh=chosen.fresh)
        outcomes = _score_all(plan, chosen, progress or _silent)
        return _write_study(plan, outcomes, folder, tree, chosen)


def _path(path: str | Path | None) -> Path | None:
    return None if path is None else Path(path)


def _silent(stage: str, done: int, total: int, failed: int) -> None:
    """Tell nobody."""


def _begin(target: Path, *, fresh: bool) -> None:
    """Mark the folder as ours from the start, so that a stopped run is recognised."""
    if fresh:
        for name in (SESSIONS_FOLDER, KEYS_FOLDER):
            shutil.rmtree(target / name, ignore_errors=True)
    if not (target / RUN_FILE).exists():
        marker: dict[str, Any] = {"program": PROGRAM, "version": __version__, "files": []}
        write_bytes(target / RUN_FILE, json_text(marker).encode())


# --- scoring -----------------------------------------------------------------


def _score_all(plan: Plan, options: CohortOptions, progress: Progress) -> list[Outcome]:
    """Score what is not finished yet; return one outcome a task, in the tasks' order."""
    outcomes: dict[int, Outcome] = {}
    open_tasks = []
    for task in plan.tasks:
        kept = _kept(task)
        if kept is None:
            open_tasks.append(task)
        else:
            outcomes[task.number] = kept
    n_failed = sum(bool(outcome.error) for outcome in outcomes.values())
    for outcome in _outcomes(open_tasks, options):
        if outcome.stops_all:
            raise OutputError(outcome.message)
        outcomes[outcome.number] = outcome
        n_failed += bool(outcome.error)
        progress("sessions", len(outcomes), len(plan.tasks), n_failed)
    return [outcomes[task.number] for task in plan.tasks]


def _kept(task: Task) -> Outcome | None:
    if not task.key_file.is_file():
        return None
    try:
        return finished(task, session_key(task.folder, task.settings))
    except OSError:
        return None


def _outcomes(tasks: list[Task], options: CohortOptions) -> Iterator[Outcome]:
    if not tasks:
        return iter(())
    if options.dask is not None:
        return run_on_dask(tasks, options.dask)
    workers = options.workers or usable_cores()
    return run_locally(tasks, min(workers, len(tasks)))


# --- joined results ----------------------------------------------------------


def _write_study(
    plan: Plan,
    outcomes: list[Outcome],
    folder: OutputFolder,
    settings: Settings,
    options: CohortOptions,
) -> CohortSummary:
    """Write the joined tables, the failures, the reliability and the page."""
    scored = [
        _scored(plan.rows[outcome.number], plan.tasks[outcome.number])
        for outcome in outcomes
        if not outcome.error
    ]
    failed = [(plan.rows[one.number].folder, one) for one in outcomes if one.error]
    _drop_stale(plan, outcomes, folder.path)
    with staged(folder, locked=True) as aside:
        tables = [
            (table, name, join_tables(scored, table.file, _names(table), aside / f"{name}.csv"))
            for name, table in JOINED
        ]
        write_failures(failed, aside)
        reliability = write_reliability(aside)
        if options.parquet:
            write_parquet(aside, [name for name, _ in JOINED])
        resources = [_resource(table, name, names, aside) for table, name, names in tables]
        _write_json(
            aside / "datapackage.json",
            package.package("imucarry-cohort", "Scores of a study cohort", resources, __version__),
        )
        write_page(aside, scored, failed, reliability)
        files = sorted([*(path.name for path in aside.iterdir()), RUN_FILE])
        _write_json(aside / RUN_FILE, _run_record(plan, outcomes, settings, files))
    return _summary(len(scored), failed)


def _names(table: Table) -> list[str]:
    return [column.name for column in table.columns]


def _scored(row: ManifestRow, task: Task) -> Scored:
    try:
        run = json.loads((task.out / RUN_FILE).read_text(encoding="utf-8"))
        return Scored(run["participant"], run["session"], task.out, dict(row.extra))
    except (OSError, ValueError, KeyError) as error:
        raise OutputError(
            "a session's results are damaged; run again with --fresh", file=str(task.out)
        ) from error


def _drop_stale(plan: Plan, outcomes: Iterable[Outcome], target: Path) -> None:
    """Remove results of sessions that left the manifest or no longer score."""
    kept = {plan.tasks[outcome.number].out for outcome in outcomes if not outcome.error}
    sessions = target / SESSIONS_FOLDER
    for path in sessions.iterdir() if sessions.is_dir() else ():
        if path not in kept and path.is_dir():
            shutil.rmtree(path)
    keys = {task.key_file for task in plan.tasks}
    for path in (target / KEYS_FOLDER).glob("*.json"):
        if path not in keys:
            path.unlink()


def _resource(table: Table, name: str, names: list[str], aside: Path) -> dict[str, Any]:
    extra = names[len(table.columns) :]
    described = package.resource(table, (aside / f"{name}.csv").read_bytes(), extra)
    return {**described, "name": name.replace("_", "-"), "path": f"{name}.csv"}


def _write_json(path: Path, content: dict[str, Any]) -> None:
    path.write_bytes(json_text(content).encode())


def _run_record(
    plan: Plan, outcomes: list[Outcome], settings: Settings, files: list[str]
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
        "version": __version__,
        "settings": as_tree(settings),
        "sessions": sessions,
        "files": files,
    }


def _summary(n_scored: int, failed: list[tuple[str, Outcome]]) -> CohortSummary:
    lines = [f"{n_scored} sessions scored, {len(failed)} failed"]
    lines += [f"  {name}: {outcome.message}" for name, outcome in failed]
    return CohortSummary(n_scored, len(failed), tuple(lines))

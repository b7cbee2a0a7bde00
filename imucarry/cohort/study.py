"""A whole study, in order: plan, score, gather, tables, page."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Callable, Generator, Iterable, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from imucarry import __version__
from imucarry.basics.errors import OutputError
from imucarry.basics.records import Notice
from imucarry.basics.settings import Settings, as_tree, read_settings
from imucarry.basics.words import counted
from imucarry.cohort.cluster import require_dask, run_on_dask
from imucarry.cohort.gather import Scored, join_tables
from imucarry.cohort.local import run_locally, usable_cores
from imucarry.cohort.plan import KEYS_FOLDER, SESSIONS_FOLDER, Plan, make_plan
from imucarry.cohort.results import (
    Failed,
    describe,
    names_of,
    read_scores,
    require_parquet,
    visits_in_order,
    write_failures,
    write_page,
    write_parquet,
    write_reliability,
)
from imucarry.cohort.schema import FAILURES, JOINED, RELIABILITY
from imucarry.cohort.task import Outcome, Task
from imucarry.outputs import (
    RUN_FILE,
    OutputFolder,
    claim,
    only_run,
    plain_errors,
    remove_owned,
    staged,
    sweep,
    sweep_inside,
    write_bytes,
)
from imucarry.provenance import PROGRAM, json_text
from imucarry.readers.sheets import ManifestRow
from imucarry.tables.columns import Table

Progress = Callable[[str, int, int, int], None]
"""Called with a stage's name, how many sessions are done, how many there are, how many failed.

The stage is "kept" where the last session was found finished, "sessions" where it was scored.
"""


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
    """How a cohort ended, with the lines that the console shows, and what was odd."""

    n_scored: int
    n_failed: int
    lines: tuple[str, ...]
    notices: tuple[Notice, ...] = ()


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
    ImucarryError
        If no worker can start.

    Notes
    -----
    Workers are fresh processes, which import the script that calls this: call it
    below ``if __name__ == "__main__":``.
    """
    chosen = options or CohortOptions()
    tree = settings if isinstance(settings, Settings) else read_settings(_path(settings))
    _require_extras(chosen)
    plan = make_plan(Path(manifest), Path(out), tree, force=chosen.force)
    inputs = [Path(manifest), *(row.path for row in plan.rows)]
    if isinstance(settings, str | Path):
        inputs.append(Path(settings))
    folder = claim(Path(out), inputs=inputs, force=chosen.force)
    with plain_errors(folder.path), only_run(folder.path):
        _begin(folder, fresh=chosen.fresh)
        outcomes = _score_all(plan, chosen, progress or _silent)
        _sweep_up(folder.path)  # a worker may have been killed while it wrote
        return _write_study(plan, outcomes, folder, tree, chosen)


def _require_extras(options: CohortOptions) -> None:
    """Fail now rather than after a night of scoring."""
    if options.dask is not None:
        require_dask()
    if options.parquet:
        require_parquet()


def _path(path: str | Path | None) -> Path | None:
    return None if path is None else Path(path)


def _silent(stage: str, done: int, total: int, failed: int) -> None:
    """Tell nobody."""


def _begin(folder: OutputFolder, *, fresh: bool) -> None:
    """Mark the folder as ours from the start, so that a stopped run is recognised."""
    target = folder.path
    sweep(target / RUN_FILE)
    _sweep_up(target)
    if fresh:
        for path in _finished_sessions(target):
            remove_owned(path)
        for key in (target / KEYS_FOLDER).glob("*.json"):
            key.unlink()
    if not folder.owned:
        marker: dict[str, Any] = {"program": PROGRAM, "version": __version__, "files": []}
        write_bytes(target / RUN_FILE, json_text(marker).encode())


def _sweep_up(target: Path) -> None:
    """Remove what killed workers left; nobody else writes to these folders meanwhile."""
    for name in (SESSIONS_FOLDER, KEYS_FOLDER):
        sweep_inside(target / name)


def _finished_sessions(target: Path) -> list[Path]:
    """Return the session folders that hold results, also such of an earlier manifest."""
    return sorted(path.parent for path in (target / SESSIONS_FOLDER).glob(f"*/{RUN_FILE}"))


# --- scoring -----------------------------------------------------------------


def _score_all(plan: Plan, options: CohortOptions, progress: Progress) -> list[Outcome]:
    """Score what is not finished yet; return one outcome a task, in the tasks' order."""
    outcomes: dict[int, Outcome] = {}
    n_failed = 0
    progress("sessions", 0, len(plan.tasks), 0)
    with contextlib.closing(_outcomes(plan.tasks, options)) as coming:
        for outcome in coming:
            if outcome.stops_all:
                raise OutputError(outcome.message)
            outcomes[outcome.number] = outcome
            n_failed += bool(outcome.error)
            stage = "kept" if outcome.kept else "sessions"
            progress(stage, len(outcomes), len(plan.tasks), n_failed)
    return [outcomes[task.number] for task in plan.tasks]


def _outcomes(tasks: Sequence[Task], options: CohortOptions) -> Generator[Outcome, None, None]:
    # Workers tell themselves which sessions are finished already: reading all the
    # inputs of a large study again takes its time, too.
    if options.dask is not None:
        yield from run_on_dask(tasks, options.dask)
    else:
        yield from run_locally(tasks, min(options.workers or usable_cores(), len(tasks)))


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
    failed = [(plan.rows[one.number], one) for one in outcomes if one.error]
    _drop_stale(plan, outcomes, folder.path)
    order, told = visits_in_order(scored, plan.file)
    plan = replace(plan, notices=(*plan.notices, *told))
    with staged(folder, locked=True) as aside:
        tables = [_join(scored, name, table, aside, options) for name, table in JOINED]
        tables.append((FAILURES.file, FAILURES, write_failures(failed, aside, plan.rows)))
        scores = read_scores(aside)
        reliability = write_reliability(aside, scores, order)
        tables.append((RELIABILITY.file, RELIABILITY, names_of(RELIABILITY)))
        _write_json(aside / "datapackage.json", describe(aside, tables))
        write_page(aside, scored, failed, scores, reliability, plan.notices)
        files = sorted([*(path.name for path in aside.iterdir()), RUN_FILE])
        _write_json(aside / RUN_FILE, _run_record(plan, outcomes, settings, files))
    return _summary(len(scored), failed, plan.notices)


def _join(
    scored: list[Scored], name: str, table: Table, aside: Path, options: CohortOptions
) -> tuple[str, Table, list[str]]:
    """Write one joined table; return its file, schema and columns."""
    file = f"{name}.csv"
    names = join_tables(scored, table.file, names_of(table), aside / file)
    if options.parquet:
        write_parquet(aside, name, table, names)
    return file, table, names


def _scored(row: ManifestRow, task: Task) -> Scored:
    try:
        run = json.loads((task.out / RUN_FILE).read_text(encoding="utf-8"))
        carried = dict(row.extra)
        return Scored(run["participant"], run["session"], task.out, carried, run["date"] or "")
    except (OSError, ValueError, KeyError) as error:
        raise OutputError(
            "a session's results are damaged; run again with --fresh", file=str(task.out)
        ) from error


def _drop_stale(plan: Plan, outcomes: Iterable[Outcome], target: Path) -> None:
    """Remove our results of sessions that left the manifest or no longer score."""
    kept = {plan.tasks[outcome.number].out for outcome in outcomes if not outcome.error}
    for path in _finished_sessions(target):
        if path.resolve() not in kept:
            remove_owned(path)
    keys = {task.key_file.name for task in plan.tasks}
    for path in (target / KEYS_FOLDER).glob("*.json"):
        if path.name not in keys:
            path.unlink()


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
        "notices": [asdict(notice) for notice in plan.notices],
        "files": files,
    }


def _summary(n_scored: int, failed: list[Failed], notices: tuple[Notice, ...]) -> CohortSummary:
    lines = [f"{counted(n_scored, 'session')} scored, {len(failed)} failed"]
    for row, outcome in failed:
        # A message about the folder itself begins with its name already.
        lines.append(f"  {row.folder}: {outcome.message.removeprefix(f'{row.folder}: ')}")
    return CohortSummary(n_scored, len(failed), tuple(lines), notices)

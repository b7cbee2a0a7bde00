"""A whole study, in order: plan, score, join."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Generator, Sequence
from dataclasses import dataclass
from pathlib import Path

from imucarry.basics.errors import OutputError, SettingsError
from imucarry.basics.records import Notice
from imucarry.basics.settings import Settings, settings_from
from imucarry.basics.words import counted
from imucarry.cohort.cluster import require_dask, run_on_dask
from imucarry.cohort.joined import (
    COMMAND,
    Joined,
    finished_sessions,
    unlisted_sessions,
    will_be_removed,
    write_study,
)
from imucarry.cohort.local import run_locally, usable_cores
from imucarry.cohort.plan import KEYS_FOLDER, SESSIONS_FOLDER, Plan, make_plan
from imucarry.cohort.results import require_parquet
from imucarry.cohort.task import Outcome, Task
from imucarry.cohort.unfinished import begun, mark_unfinished
from imucarry.outputs import (
    RUN_FILE,
    OutputFolder,
    claim,
    only_run,
    plain_errors,
    remove_owned,
    sweep,
    sweep_inside,
)

NAMED_FIRST = 3
"""Sessions to look at that the console names."""
CHECKS_SHOWN = 10
"""Checks between sessions that the console tells."""
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
        Local processes, 1 or more; None is one a core.
    dask : str or None
        Address of a dask cluster to use instead of local processes.
    fresh : bool
        Score everything again.
    force : bool
        Write even into a folder that holds files of others.
    parquet : bool
        Also write the joined tables as Parquet.

    Raises
    ------
    SettingsError
        If `workers` is no such number.
    """

    workers: int | None = None
    dask: str | None = None
    fresh: bool = False
    force: bool = False
    parquet: bool = False

    def __post_init__(self) -> None:
        given = self.workers
        if given is not None and (not isinstance(given, int) or given < 1):
            raise SettingsError(f"workers must be a whole number from 1 on, got {given!r}")


@dataclass(frozen=True, slots=True)
class CohortSummary:
    """How a cohort ended, with the lines that the console shows, and what was odd."""

    n_scored: int
    n_failed: int
    lines: tuple[str, ...]
    notices: tuple[Notice, ...] = ()

    @property
    def checks(self) -> tuple[str, ...]:
        """What is to be checked between the sessions, for the console: the first lines of it."""
        found = [_line(notice) for notice in self.notices if notice.severity == "check"]
        n_more = len(found) - CHECKS_SHOWN
        more = [f"{n_more} more such in cohort_checks.csv"] if n_more > 0 else []
        return (*found[:CHECKS_SHOWN], *more)

    @property
    def notes(self) -> tuple[str, ...]:
        """What is good to know of the manifest, for the console."""
        return tuple(_line(notice) for notice in self.notices if notice.severity != "check")


def _line(notice: Notice) -> str:
    place = ", ".join(part for part in (notice.file, notice.where) if part)
    return f"{place}: {notice.message}"


def score_cohort(
    manifest: str | Path,
    out: str | Path,
    settings: Settings | str | Path | None = None,
    options: CohortOptions | None = None,
    *,
    progress: Progress | None = None,
    tell: Callable[[str], None] | None = None,
) -> CohortSummary:
    """Score every session of a manifest and join the results.

    Parameters
    ----------
    manifest : str or Path
        CSV with the column ``folder`` and any further columns.
    out : str or Path
        Folder for the results; a run that was stopped goes on in it.
    settings : Settings or path of a TOML file, optional
        Settings, or the file that holds them; the defaults without.
    options : CohortOptions, optional
        How it is run and what is written.
    progress : callable, optional
        Called with a stage's name, how many sessions are done, how many there
        are, and how many failed.
    tell : callable, optional
        Called before the work with what the run will remove, in words.

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
    tree = settings_from(settings)
    _require_extras(chosen)
    plan = make_plan(Path(manifest), Path(out), tree, force=chosen.force)
    inputs = [Path(manifest), *(row.path for row in plan.rows)]
    if isinstance(settings, str | Path):
        inputs.append(Path(settings))
    folder = claim(Path(out), inputs=inputs, force=chosen.force, command=COMMAND)
    with plain_errors(folder.path), only_run(folder.path):
        left_out = unlisted_sessions(plan, folder.path)
        if left_out and tell is not None:
            tell(will_be_removed(left_out))
        _begin(folder, fresh=chosen.fresh)
        with begun(folder):
            outcomes = _score_all(plan, chosen, progress or _silent)
            _sweep_up(folder.path)  # a worker may have been killed while it wrote
            joined = write_study(plan, outcomes, folder, tree, parquet=chosen.parquet)
    return _summary(joined, len(left_out))


def _require_extras(options: CohortOptions) -> None:
    """Fail now rather than after a night of scoring."""
    if options.dask is not None:
        require_dask()
    if options.parquet:
        require_parquet()


def _silent(stage: str, done: int, total: int, failed: int) -> None:
    """Tell nobody."""


def _begin(folder: OutputFolder, *, fresh: bool) -> None:
    """Mark the folder as ours and as not finished, so that a stopped run is recognised."""
    target = folder.path
    sweep(target / RUN_FILE)
    _sweep_up(target)
    mark_unfinished(folder, COMMAND)
    if fresh:
        for path in finished_sessions(target):
            remove_owned(path)
        for key in (target / KEYS_FOLDER).glob("*.json"):
            key.unlink()


def _sweep_up(target: Path) -> None:
    """Remove what killed workers left; nobody else writes to these folders meanwhile."""
    for name in (SESSIONS_FOLDER, KEYS_FOLDER):
        sweep_inside(target / name)


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


def _summary(joined: Joined, n_left_out: int) -> CohortSummary:
    n_failed = len(joined.failed)
    lines = [f"{counted(joined.n_scored, 'session')} scored, {n_failed} failed"]
    for row, outcome in joined.failed:
        # A message about the folder itself begins with its name already.
        lines.append(f"  {row.folder}: {outcome.message.removeprefix(f'{row.folder}: ')}")
    if n_left_out:
        gone = "its results are" if n_left_out == 1 else "their results are"
        said = counted(n_left_out, "session")
        lines.append(f"{said} of an earlier run left the manifest: {gone} removed")
    if joined.to_look_at:
        named = "; ".join(joined.to_look_at[:NAMED_FIRST])
        said = counted(len(joined.to_look_at), "session")
        lines.append(f"{said} to check, in cohort_checks.csv; look first at {named}")
    return CohortSummary(joined.n_scored, n_failed, tuple(lines), joined.notices)

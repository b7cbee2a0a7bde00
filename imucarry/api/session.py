"""Score one session; its tables as DataFrames."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import pandas as pd

from imucarry.api.shown import as_html, in_short
from imucarry.basics.errors import SessionError
from imucarry.basics.records import Notice, SessionScores
from imucarry.basics.settings import Settings, settings_from
from imucarry.carry.earlier import History, over_weeks
from imucarry.carry.visits import current_visit, read_reliability, read_visit
from imucarry.pipeline import Progress, run
from imucarry.readers.session import read_session
from imucarry.tables.build import BUILDERS, Columns, renamed_columns, visits
from imucarry.tables.schema import TABLE, VISITS


@dataclass(frozen=True, slots=True, repr=False, eq=False)
class ScoredSession:
    """One scored session; its tables are DataFrames with the columns of the files.

    Attributes
    ----------
    result : SessionScores
        Everything that was found, as records.
    settings : Settings
        With which it was scored.
    settings_file : Path or None
        The file that they were read from.
    history : History or None
        This visit among earlier ones, once `beside_earlier` has set it there.
    source : Path or None
        The session that was read.
    """

    result: SessionScores
    settings: Settings
    settings_file: Path | None = None
    history: History | None = None
    source: Path | None = None

    def __repr__(self) -> str:
        return in_short(self.result)

    def _repr_html_(self) -> str:
        return as_html(self.result, self.bouts)

    @property
    def strides(self) -> pd.DataFrame:
        """One row a stride."""
        return self.table("strides")

    @property
    def contacts(self) -> pd.DataFrame:
        """One row a foot contact."""
        return self.table("contacts")

    @property
    def scores(self) -> pd.DataFrame:
        """One row a measure of one bout and side."""
        return self.table("scores")

    @property
    def bouts(self) -> pd.DataFrame:
        """One row a bout."""
        return self.table("bout_summary")

    @property
    def ladder(self) -> pd.DataFrame:
        """One row a hold, side and implement."""
        return self.table("ladder")

    @property
    def retest(self) -> pd.DataFrame:
        """One row a shoulder test and side."""
        return self.table("retest")

    @property
    def visits(self) -> pd.DataFrame:
        """One row a measure in one condition at one visit; none without earlier visits."""
        return self.table("visits")

    def table(self, name: str) -> pd.DataFrame:
        """Return one output table by its name, such as ``"strides"``.

        Columns have the same types whatever the rows: ``str``, ``float64``, ``bool``, and
        ``Int64``, which holds a missing count too. ``attrs`` of the DataFrame says what
        they are: ``attrs["units"]`` (UCUM) and ``attrs["meanings"]``, by column.

        Raises
        ------
        KeyError
            If there is no such table; the message lists the names.
        """
        if name not in TABLE:
            raise KeyError(f"there is no table {name!r}; known: {', '.join(TABLE)}")
        frame = pd.DataFrame(self.columns(name))
        columns = {column.name: column for column in TABLE[name].columns}
        types = {c: columns[c].dtype if c in columns else "str" for c in map(str, frame)}
        frame = frame.astype(types)
        frame.attrs = {
            "title": TABLE[name].title,
            "units": {c: column.unit for c, column in columns.items() if column.unit},
            "meanings": {c: column.meaning for c, column in columns.items()},
        }
        return frame

    def columns(self, name: str) -> Columns:
        """Return one output table as plain columns, by its name."""
        if name == VISITS.name:
            return visits(self.result, self.history)
        return BUILDERS[name](self.result)


def score_session(
    path: str | Path,
    settings: Settings | str | Path | None = None,
    *,
    progress: Progress | None = None,
) -> ScoredSession:
    """Read and score one session.

    Parameters
    ----------
    path : str or Path
        Session folder, or the path of its ``session.toml``.
    settings : Settings or path of a TOML file, optional
        Settings, or the file that holds them; the defaults without.
    progress : callable, optional
        Called with a stage's name, how many of its items are done, and how many
        there are.

    Returns
    -------
    ScoredSession

    Raises
    ------
    ImucarryError
        If the session or a settings file cannot be used.

    Examples
    --------
    >>> import imucarry
    >>> scores = imucarry.score_session("data/example")
    >>> scores.bouts[["bout", "hold", "rotation_finding"]].head(1).to_dict("records")
    [{'bout': '1', 'hold': 'free', 'rotation_finding': 'rotates'}]
    """
    chosen = settings_from(settings)
    file = Path(settings) if isinstance(settings, str | Path) else None
    if path == "":
        raise SessionError('the path of the session is empty; name its folder, "." for this one')
    session = read_session(Path(path), chosen.readers)
    result = run(session, chosen, progress=progress)
    notices = (*result.notices, *renamed_columns(result))
    scored = replace(result, notices=notices)
    return ScoredSession(scored, chosen, file, source=Path(path).absolute())


def beside_earlier(
    scored: ScoredSession,
    folders: Sequence[str | Path],
    reliability: str | Path | None = None,
) -> ScoredSession:
    """Set a visit among earlier visits of the same participant.

    Parameters
    ----------
    scored : ScoredSession
    folders : sequence of str or Path
        Their result folders; without any, `scored` is returned as it is. One that is named
        twice counts once, and results of this same visit are left out: both are told.
    reliability : str or Path, optional
        ``reliability.csv`` of a study that was measured alike. It says how much visits differ
        by chance; without it no change of a carry is called more than that.

    Returns
    -------
    ScoredSession
        With its ``history``, and with what to know of it among the notices.

    Raises
    ------
    SessionError
        If a folder holds no results or those of another participant.
    """
    if not folders or scored.history is not None:
        return scored
    paths, told = _other_visits(scored.result, folders)
    rows = () if reliability is None else read_reliability(Path(reliability))
    settings = scored.settings.carry
    history = over_weeks(scored.result, paths, settings, reliability=rows) if paths else None
    found = (*scored.result.notices, *told, *(history.notices if history else ()))
    notices = tuple(dict.fromkeys(found))  # asked twice where no other visit is left
    return replace(scored, result=replace(scored.result, notices=notices), history=history)


def _other_visits(
    result: SessionScores, folders: Sequence[str | Path]
) -> tuple[list[Path], list[Notice]]:
    """Return each folder once, without results of this same visit, and what was left out."""
    now = current_visit(result)
    kept: dict[Path, Path] = {}
    told: list[Notice] = []
    for folder in map(Path, folders):
        name = folder.name or str(folder)
        if folder.resolve() in kept:
            message = f"--earlier {name} was given twice; it is counted once"
            told.append(Notice("earlier_given_twice", message))
            continue
        then = read_visit(folder, result.session.participant)
        is_same = (then.session, then.date, then.recordings) == (
            now.session, now.date, now.recordings,
        )  # fmt: skip
        if is_same and now.recordings:
            message = f"--earlier {name} holds results of this same visit; it is left out"
            told.append(Notice("earlier_is_this_visit", message, severity="check"))
            continue
        kept[folder.resolve()] = folder
    return list(kept.values()), told

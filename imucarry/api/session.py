"""Score one session; its tables as DataFrames."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from imucarry.basics.errors import SettingsError
from imucarry.basics.records import SessionScores
from imucarry.basics.settings import Settings, read_settings
from imucarry.pipeline import Progress, run
from imucarry.readers.session import read_session
from imucarry.tables.build import BUILDERS, renamed_columns
from imucarry.tables.schema import TABLE

if TYPE_CHECKING:
    import pandas as pd

    from imucarry.carry.earlier import History


@dataclass(frozen=True, slots=True)
class ScoredSession:
    """One scored session; its tables are DataFrames in the contract's columns.

    Attributes
    ----------
    result : SessionScores
        Everything that was found, as records.
    settings : Settings
    settings_file : Path or None
        The file that they were read from.
    history : History or None
        This visit among earlier ones, once `beside_earlier` has set it there.
    """

    result: SessionScores
    settings: Settings
    settings_file: Path | None = None
    history: History | None = None

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

    def table(self, name: str) -> pd.DataFrame:
        """Return one output table by its name, such as ``"strides"``.

        Columns have the types of the contract whatever the rows: ``str``, ``float64``,
        ``bool``, and ``Int64``, which holds a missing count too.
        """
        import pandas as pd

        frame = pd.DataFrame(BUILDERS[name](self.result))
        known = {column.name: column.dtype for column in TABLE[name].columns}
        return frame.astype({name: known.get(name, "str") for name in map(str, frame)})


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
    if not isinstance(settings, Settings | str | Path | None):
        raise SettingsError(
            f"settings must be Settings or the path of a TOML file, got {type(settings).__name__}"
        )
    file = Path(settings) if isinstance(settings, str | Path) else None
    chosen = settings if isinstance(settings, Settings) else read_settings(file)
    session = read_session(Path(path), chosen.readers)
    result = run(session, chosen, progress=progress)
    notices = (*result.notices, *renamed_columns(result))
    return ScoredSession(replace(result, notices=notices), chosen, file)


def beside_earlier(scored: ScoredSession, folders: Sequence[str | Path]) -> ScoredSession:
    """Set a visit among earlier visits of the same participant.

    Parameters
    ----------
    scored : ScoredSession
    folders : sequence of str or Path
        Their result folders; without any, `scored` is returned as it is.

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
    from imucarry.carry.earlier import over_weeks

    paths = [Path(folder) for folder in folders]
    history = over_weeks(scored.result, paths, scored.settings.carry)
    notices = (*scored.result.notices, *history.notices)
    return replace(scored, result=replace(scored.result, notices=notices), history=history)

"""The files of a scored session: what they hold, and writing them to a folder."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from imucarry import __version__
from imucarry.api.session import ScoredSession, beside_earlier
from imucarry.basics.errors import OutputError, SessionError
from imucarry.basics.records import SessionScores
from imucarry.outputs import RUN_FILE, claim, staged
from imucarry.provenance import json_text, run_record
from imucarry.tables import package
from imucarry.tables.build import extra_columns
from imucarry.tables.columns import Table
from imucarry.tables.schema import TABLES, VISITS
from imucarry.tables.text import csv_text

PAGE_FILE = "report.html"
PACKAGE_FILE = "datapackage.json"
PDF_FILE = "report.pdf"


@dataclass(frozen=True, slots=True)
class PageOptions:
    """What is written beside the tables, and how.

    Attributes
    ----------
    title : str
        Title of the page.
    anonymous : bool
        Show the participant as a code on the page; the tables keep the name.
    pdf, figures, parquet : bool
        Also write ``report.pdf``, figures for papers, the tables as Parquet.
    earlier : tuple of str or Path
        Result folders of earlier visits of the same participant.
    reliability : str or Path, optional
        ``reliability.csv`` of a study that was measured alike: how much visits differ by chance.
    """

    title: str = ""
    anonymous: bool = False
    pdf: bool = False
    figures: bool = False
    parquet: bool = False
    earlier: tuple[str | Path, ...] = ()
    reliability: str | Path | None = None


def write_scores(
    scored: ScoredSession,
    out: str | Path,
    *,
    source: str | Path | None = None,
    force: bool = False,
    page: PageOptions | None = None,
) -> tuple[str, ...]:
    """Write the tables, the page, ``run.json`` and ``datapackage.json`` to a folder.

    Parameters
    ----------
    scored : ScoredSession
        From `score_session`.
    out : str or Path
        Made if absent. A folder that an earlier run made has its own files replaced and
        no others touched. Any other folder that is not empty is refused without `force`,
        and one that is, holds or lies in what was read is always refused.
    source : str or Path, optional
        Not needed: `scored` knows what it was read from. A session named here is kept
        apart from `out` too.
    force : bool
        Allow a folder that holds files of others.
    page : PageOptions, optional
        What is written beside the tables, and how.

    Returns
    -------
    tuple of str
        The files written, relative to `out`.

    Raises
    ------
    OutputError
        If the folder is refused or cannot be written to.
    SessionError
        If `source` is not there.

    Examples
    --------
    >>> import imucarry, tempfile
    >>> scores = imucarry.score_session("data/example")
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     imucarry.write_scores(scores, folder)[0]
    'strides.csv'
    """
    options = page or PageOptions()
    beside = (*options.earlier, *([options.reliability] if options.reliability else []))
    inputs = [*inputs_of(scored, source), *map(Path, beside)]
    folder = claim(Path(out), inputs=inputs, force=force, command="score")
    scored = beside_earlier(scored, options.earlier, options.reliability)
    with staged(folder) as aside:
        files = session_files(scored, options)
        for name, content in files.items():
            (aside / name).write_bytes(content)
        beside = _write_beside(scored, options, aside)
        names = (*files, *beside, RUN_FILE)
        run_json = json_text(run_record(scored.result, scored.settings, names))
        (aside / RUN_FILE).write_bytes(run_json.encode())
    return names


def session_files(scored: ScoredSession, page: PageOptions) -> dict[str, bytes]:
    """Return tables, data package and page by file name."""
    from imucarry.report.page import render

    result = scored.result
    tables = _present_tables(scored)
    files = {table.file: _table_bytes(table, scored) for table in tables}
    files[PACKAGE_FILE] = _package_bytes(tables, files, result)
    html = render(
        result,
        scored.settings,
        title=page.title,
        anonymous=page.anonymous,
        earlier=scored.history,
    )
    files[PAGE_FILE] = html.encode()
    return files


def _write_beside(scored: ScoredSession, page: PageOptions, aside: Path) -> tuple[str, ...]:
    """Write what was asked for beside tables and page; return the names."""
    names: list[str] = []
    if page.parquet:
        names += write_parquet(scored, aside)
    if page.figures:
        from imucarry.report.paper import write_figures

        names += write_figures(scored.result, aside)
    if page.pdf:
        from imucarry.report.pdf import print_page

        print_page(aside / PAGE_FILE, aside / PDF_FILE)
        names.append(PDF_FILE)
    return tuple(names)


def write_parquet(scored: ScoredSession, folder: Path) -> list[str]:
    """Write every table as Parquet; return the file names.

    Raises
    ------
    OutputError
        If the extra ``parquet`` is not installed.
    """
    names = []
    for table in _present_tables(scored):
        name = f"{table.name}.parquet"
        try:
            scored.table(table.name).to_parquet(folder / name, index=False)
        except ImportError as error:
            raise OutputError("Parquet needs an extra: pip install 'imucarry[parquet]'") from error
        names.append(name)
    return names


def _present_tables(scored: ScoredSession) -> list[Table]:
    """Return the tables of this session; shoulder tests and visits only where it has any."""
    tables = [table for table in TABLES if table.name != "retest" or scored.result.session.rom]
    return [*tables, VISITS] if scored.history else tables


def _extra(table: Table, result: SessionScores) -> list[str]:
    return extra_columns(result) if table.name == "bout_summary" else []


def _table_bytes(table: Table, scored: ScoredSession) -> bytes:
    return csv_text(table, scored.columns(table.name), _extra(table, scored.result)).encode()


def _package_bytes(
    tables: Sequence[Table], files: dict[str, bytes], result: SessionScores
) -> bytes:
    resources = [
        package.resource(table, files[table.file], _extra(table, result)) for table in tables
    ]
    descriptor = package.package(
        "imucarry-session", "Scores of one session of loaded carries", resources, __version__
    )
    return json_text(descriptor).encode()


def inputs_of(scored: ScoredSession, source: str | Path | None = None) -> list[Path]:
    """Return what a session was scored from: its folder, the files it names, the settings.

    Parameters
    ----------
    scored : ScoredSession
    source : str or Path, optional
        A further session folder, or path of a ``session.toml``.
    """
    if source is not None and not Path(source).exists():
        raise SessionError("is not there; leave source out", file=str(source))
    files = [name for name, _ in scored.result.session.input_sha256]
    found = [scored.settings_file] if scored.settings_file else []
    for path in (scored.source, None if source is None else Path(source)):
        if path is not None:
            folder = path if path.is_dir() else path.parent
            found += [folder, *(folder / name for name in files)]
    return found

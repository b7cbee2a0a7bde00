"""``score`` and ``retest``."""

from __future__ import annotations

import os
import shutil
import sys
from typing import TYPE_CHECKING, TextIO

import click

from imucarry.cli.console import Console, ProgressLine
from imucarry.cli.options import (
    Degrees,
    ExistingFile,
    as_json,
    console,
    out_folder,
    settings_file,
    speaking,
)

if TYPE_CHECKING:
    from imucarry.api import ScoredSession


@click.command()
@click.argument("session", type=click.Path(exists=True))
@out_folder
@settings_file
@click.option("--title", default="", help="Title of the page.")
@click.option(
    "--anonymous",
    is_flag=True,
    help="Show the participant as a code on the page and in the terminal; the tables, run.json and "
    "--json keep the name.",
)
@click.option("--pdf", is_flag=True, help="Print all of the page to report.pdf (needs a Chromium).")
@click.option("--figures", is_flag=True, help="Also write PNG and SVG figures (extra 'figures').")
@click.option("--parquet", is_flag=True, help="Also write the tables as Parquet (extra 'parquet').")
@click.option(
    "--earlier",
    multiple=True,
    type=click.Path(exists=True, file_okay=False),
    metavar="DIR",
    help="Results of an earlier visit of the same participant; may be repeated.",
)
@click.option(
    "--reliability",
    type=click.Path(exists=True, dir_okay=False),
    metavar="FILE",
    help="With --earlier: reliability.csv of a study that was measured alike, which says how much "
    "visits differ by chance.",
)
@as_json
@speaking
def score(
    session: str,
    out: str,
    force: bool,
    settings_path: str | None,
    title: str,
    anonymous: bool,
    pdf: bool,
    figures: bool,
    parquet: bool,
    earlier: tuple[str, ...],
    reliability: str | None,
    json_wanted: bool,
    quiet: bool,
    verbose: bool,
) -> None:
    """Score one SESSION: a folder of recordings, or the path of its session.toml.

    Writes tables and one page, report.html, to the folder given by --out.

    \b
    Examples:
      imucarry score visit --out results
      imucarry score visit --out results --earlier results_march --pdf
    """
    from imucarry.api import PageOptions, score_session, write_scores
    from imucarry.api.session import beside_earlier

    if reliability and not earlier:
        raise click.UsageError("--reliability is for comparing visits: name them with --earlier")
    speaker = console(quiet, verbose)
    bar = ProgressLine(speaker, "bouts")
    try:
        scored = score_session(session, settings_path, progress=bar)
    finally:
        bar.end()
    scored = beside_earlier(scored, earlier, reliability)
    options = PageOptions(
        title=title,
        anonymous=anonymous,
        pdf=pdf,
        figures=figures,
        parquet=parquet,
        earlier=earlier,
        reliability=reliability,
    )
    files = write_scores(scored, out, force=force, page=options)
    if json_wanted:
        _print_json(scored, files, speaker)
    else:
        _print_short(scored, out, speaker, anonymous=anonymous)


def _print_json(scored: ScoredSession, files: tuple[str, ...], speaker: Console) -> None:
    from imucarry.provenance import json_text
    from imucarry.tables.documents import score_document

    speaker.result(json_text(score_document(scored.result, files, scored.history)).rstrip("\n"))


def _print_short(scored: ScoredSession, out: str, speaker: Console, *, anonymous: bool) -> None:
    from imucarry.report.anonymous import as_code, history_as_code
    from imucarry.report.preview import in_short
    from imucarry.report.wording import terminal_lines

    result, history = scored.result, scored.history
    if anonymous:
        history = history and history_as_code(history, result.session.participant)
        result = as_code(result)
    for sensor in result.sensors:
        speaker.message(f"Read {in_short(sensor.recording)}")
    if speaker.verbose:
        for notice in result.notices:
            place = ", ".join(part for part in (notice.file, notice.where) if part)
            speaker.detail(f"{notice.severity}: {notice.message}{f' ({place})' if place else ''}")
    for line in terminal_lines(result, history, columns_of(sys.stdout)):
        speaker.result(line)
    speaker.message(f"Page: {os.path.join(out, 'report.html')}")


def columns_of(stream: TextIO) -> int:
    """Columns that lines may fill: a terminal's within bounds, 79 where a stream is none."""
    from imucarry.report.wording.terminal_table import COLUMNS, WIDEST

    if not stream.isatty():
        return COLUMNS
    return min(max(shutil.get_terminal_size().columns - 1, COLUMNS), WIDEST)


@click.command()
@click.argument("rom", type=ExistingFile)
@click.option(
    "--mdc",
    type=Degrees(),
    metavar="DEG",
    help="Smallest detectable change of the test (95 %), when you know your own.",
)
@settings_file
@as_json
@speaking
def retest(
    rom: str,
    mdc: float | None,
    settings_path: str | None,
    json_wanted: bool,
    quiet: bool,
    verbose: bool,
) -> None:
    """Compare shoulder tests before and after: did ROM change by more than its error?

    ROM is a CSV with the columns test, side, when (before or after), value_deg.

    \b
    Examples:
      imucarry retest rom.csv
      imucarry retest rom.csv --mdc 8
    """
    from imucarry.api.retest import retest_file, retest_notices
    from imucarry.provenance import json_text
    from imucarry.report.wording import retest_lines
    from imucarry.tables.documents import retest_document

    speaker = console(quiet, verbose)
    findings = retest_file(rom, settings_path, mdc_deg=mdc)
    notices = retest_notices(rom)
    if json_wanted:
        speaker.result(json_text(retest_document(findings, notices)).rstrip("\n"))
        return
    for line in retest_lines(findings, notices):
        speaker.result(line)

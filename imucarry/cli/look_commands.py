"""``preview``, ``demo``, ``sources`` and ``schema``."""

from __future__ import annotations

import click

from imucarry.cli.options import BAD_DATA, ExistingPath, FolderPath, as_json, console, speaking

INDENT, WIDTH = "    ", 79


@click.command()
@click.argument("files", nargs=-1, required=True, type=ExistingPath, metavar="FILE...")
@click.option(
    "--write-session",
    type=FolderPath,
    metavar="DIR",
    help="Write a session.toml into DIR, or the file named if it ends in .toml: it pins what was "
    "understood and names the sheets bouts.csv and rom.csv beside it.",
)
@click.option("--participant", default="", help="Its participant code (default: folder name).")
@click.option("--session", default="1", help="Its session code (default 1).")
@as_json
@speaking
def preview(
    files: tuple[str, ...],
    write_session: str | None,
    participant: str,
    session: str,
    json_wanted: bool,
    quiet: bool,
    verbose: bool,
) -> int:
    """Show what each sensor FILE was understood to be, and by which rule.

    FILE may be a folder. What a session.toml beside a file states of it is followed.

    \b
    Examples:
      imucarry preview chest.csv left_wrist.csv
      imucarry preview visit
      imucarry preview *.csv --write-session .
    """
    from imucarry.api.preview import preview_files

    speaker = console(quiet, verbose)
    shown = preview_files(
        files, write_session=write_session, participant=participant, session=session
    )
    if json_wanted:
        from imucarry.provenance import json_text
        from imucarry.tables.documents import preview_document

        speaker.result(json_text(preview_document(shown.previews)).rstrip("\n"))
    else:
        for line in shown.lines:
            speaker.result(line)
    if shown.session_file is not None:
        names = f", which names {' and '.join(shown.sheets)}" if shown.sheets else ""
        speaker.message(f"Written: {shown.session_file}{names}")
        if shown.unplaced:
            fill_in = f"fill in the placement of {', '.join(shown.unplaced)}"
            speaker.message(f"Before scoring, {fill_in} in it: the files do not tell it")
    for error in shown.failures:
        speaker.error(str(error))
    return BAD_DATA if shown.failures else 0


@click.command()
@click.argument("folder", type=FolderPath)
@speaking
def demo(folder: str, quiet: bool, verbose: bool) -> None:
    """Write an invented session into FOLDER, ready for 'imucarry score'.

    \b
    Example:
      imucarry demo visit && imucarry score visit --out results
    """
    from imucarry.api.demo import write_demo_session

    speaker = console(quiet, verbose)
    write_demo_session(folder)
    speaker.message(f"An invented session is in {folder}")
    speaker.message(f"Score it: imucarry score {folder} --out results")


@click.command()
@click.option("--room", default="", help="Only the thresholds of one room, such as 'walk'.")
@as_json
@speaking
def sources(room: str, json_wanted: bool, quiet: bool, verbose: bool) -> None:
    """List every threshold and default with its value, unit and source.

    \b
    Example:
      imucarry sources --room carry
    """
    import textwrap

    from imucarry.basics.evidence import ROOMS, all_evidence
    from imucarry.basics.settings import set_as

    if room and room not in ROOMS:
        raise click.UsageError(f"there is no room {room!r}; known: {', '.join(ROOMS)}.")
    speaker = console(quiet, verbose)
    settable = set_as()
    rows = [row for row in all_evidence() if not room or row.key.split(".")[0] == room]
    if json_wanted:
        from imucarry.provenance import json_text
        from imucarry.tables.documents import sources_document

        speaker.result(json_text(sources_document(rows, settable)).rstrip("\n"))
        return
    for row in rows:
        unit = "" if row.unit in ("", "1") else f" {row.unit}"
        setting = f" (set as {settable[row.key]})" if row.key in settable else ""
        speaker.result(f"{row.key} = {row.value}{unit}{setting}")
        for line in textwrap.wrap(f"{row.source}: {row.why}", WIDTH - len(INDENT)):
            speaker.result(f"{INDENT}{line}")


@click.command()
@click.argument("document", type=click.Choice(["score", "retest", "preview", "agree", "sources"]))
@speaking
def schema(document: str, quiet: bool, verbose: bool) -> None:
    """Print the JSON Schema of what a command prints with --json.

    \b
    Example:
      imucarry schema score
    """
    from imucarry.provenance import json_text
    from imucarry.tables.documents import SCHEMAS

    console(quiet, verbose).result(json_text(SCHEMAS[document]()).rstrip("\n"))

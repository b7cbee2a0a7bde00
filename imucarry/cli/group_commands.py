"""``cohort``, ``agree`` and ``export``: many sessions, other systems, other formats."""

from __future__ import annotations

import os

import click

from imucarry.cli.console import ProgressLine
from imucarry.cli.options import (
    ExistingFile,
    FolderPath,
    as_json,
    console,
    out_folder,
    settings_file,
    speaking,
)


@click.command()
@click.argument("manifest", type=ExistingFile)
@out_folder
@settings_file
@click.option(
    "--workers",
    type=click.IntRange(min=1),
    metavar="N",
    help="Processes to use; by default one a core.",
)
@click.option(
    "--dask", metavar="ADDRESS", help="Run on a dask cluster, such as tcp://host:8786 (extra)."
)
@click.option("--fresh", is_flag=True, help="Score everything again, also what is finished.")
@click.option("--parquet", is_flag=True, help="Also write the tables as Parquet (extra 'parquet').")
@speaking
def cohort(
    manifest: str,
    out: str,
    force: bool,
    settings_path: str | None,
    workers: int | None,
    dask: str | None,
    fresh: bool,
    parquet: bool,
    quiet: bool,
    verbose: bool,
) -> int:
    """Score all sessions that MANIFEST lists: a CSV with the column 'folder'.

    A session that fails is a row of failures.csv; the others are scored. A run that was
    stopped goes on where it was.

    \b
    Examples:
      imucarry cohort study.csv --out results --workers 4
      imucarry cohort study.csv --out results --dask tcp://scheduler:8786
    """
    from imucarry.cohort import CohortOptions, score_cohort

    speaker = console(quiet, verbose)
    bar = ProgressLine(speaker, "sessions")
    options = CohortOptions(workers=workers, dask=dask, fresh=fresh, force=force, parquet=parquet)
    try:
        summary = score_cohort(
            manifest, out, settings_path, options, progress=bar, tell=speaker.message
        )
    except KeyboardInterrupt:
        bar.end()
        speaker.message("what is finished is kept; the same command goes on from there")
        raise
    finally:
        bar.end()
    for line in summary.lines:
        speaker.result(line)
    for line in summary.checks:
        speaker.result(line)
    for line in summary.notes:
        speaker.message(line)
    speaker.message(f"Page: {os.path.join(out, 'cohort.html')}")
    return 1 if summary.n_failed else 0


@click.command()
@click.argument("ours", type=ExistingFile, metavar="A.csv")
@click.argument("theirs", type=ExistingFile, metavar="B.csv")
@click.option("--measure", required=True, metavar="M", help="Column or measure to compare.")
@click.option("--picture", type=FolderPath, metavar="FILE", help="Write the picture as SVG.")
@as_json
@speaking
def agree(
    ours: str,
    theirs: str,
    measure: str,
    picture: str | None,
    json_wanted: bool,
    quiet: bool,
    verbose: bool,
) -> None:
    """Compare two tables, for example against an optical system: A minus B.

    Strides are matched by time, bouts by name.

    \b
    Example:
      imucarry agree results/strides.csv optical.csv --measure sternum_yaw_range_deg
    """
    from imucarry.api.agreement import agree_files

    speaker = console(quiet, verbose)
    found = agree_files(ours, theirs, measure=measure, picture=picture)
    if json_wanted:
        from imucarry.provenance import json_text

        speaker.result(json_text(found.document).rstrip("\n"))
        return
    for line in found.lines:
        speaker.result(line)


@click.command()
@click.argument("folder", type=click.Path(exists=True, file_okay=False))
@click.option(
    "--to",
    "target",
    required=True,
    type=click.Choice(["motion-bids"]),
    help="The open standard to write.",
)
@click.option(
    "--participant-label", default="01", metavar="LABEL", help="Stands for the person (default 01)."
)
@click.option(
    "--session-label", default="01", metavar="LABEL", help="Stands for the visit (default 01)."
)
@out_folder
@settings_file
@speaking
def export(
    folder: str,
    target: str,
    participant_label: str,
    session_label: str,
    out: str,
    force: bool,
    settings_path: str | None,
    quiet: bool,
    verbose: bool,
) -> None:
    """Write a session FOLDER, raw and scored, in an open standard.

    The export is de-identified: labels instead of names, no dates, no free text. A folder
    that earlier exports made gains one more person or visit, each under labels of its own.

    \b
    Examples:
      imucarry export visit --to motion-bids --out dataset
      imucarry export other --to motion-bids --out dataset --participant-label 02
    """
    from imucarry.api.exports import export_session
    from imucarry.basics.errors import OutputError
    from imucarry.export.labels import Labels

    speaker = console(quiet, verbose)
    try:
        labels = Labels(participant_label, session_label)
    except OutputError as error:
        raise click.UsageError(str(error)) from error
    files = export_session(
        folder, out, target=target, labels=labels, settings=settings_path, force=force
    )
    speaker.message(f"{len(files)} files written to {out}")

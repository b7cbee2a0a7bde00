"""What stands beside a cohort's joined tables: failures, reliability, page, Parquet."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from imucarry.basics.errors import OutputError
from imucarry.cohort.task import Outcome
from imucarry.tables.text import safe_text

if TYPE_CHECKING:
    pass

FAILURE_COLUMNS = ("folder", "error", "message")


def write_failures(failed: Sequence[tuple[str, Outcome]], folder: Path) -> None:
    """Write ``failures.csv``: a row for every session that could not be scored."""
    with (folder / "failures.csv").open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(FAILURE_COLUMNS)
        for name, outcome in failed:
            writer.writerow([safe_text(name), outcome.error, safe_text(outcome.message)])


def write_parquet(folder: Path, names: Sequence[str]) -> None:
    """Write joined tables as Parquet too.

    Raises
    ------
    OutputError
        If the extra ``parquet`` is not installed.
    """
    try:
        from pyarrow import csv as arrow_csv
        from pyarrow import parquet
    except ImportError as error:
        raise OutputError("Parquet needs an extra: pip install 'imucarry[parquet]'") from error
    for name in names:
        parquet.write_table(arrow_csv.read_csv(folder / f"{name}.csv"), folder / f"{name}.parquet")

"""What stands beside a cohort's joined tables: failures, reliability, page, Parquet."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator, Sequence
from dataclasses import asdict, fields
from pathlib import Path
from typing import TYPE_CHECKING, Any

from imucarry.basics.errors import OutputError
from imucarry.cohort.gather import Scored
from imucarry.cohort.task import Outcome
from imucarry.outputs import RUN_FILE
from imucarry.tables.text import safe_text

if TYPE_CHECKING:
    import pandas as pd

    from imucarry.report.cohort import SessionLink

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


def write_reliability(folder: Path) -> pd.DataFrame:
    """Write ``reliability.csv`` from the joined scores; return its rows."""
    import pandas as pd

    from imucarry.carry.cohort_reliability import ReliabilityRow, reliability_rows

    # Rows are streamed: a large study's scores would not fit into memory as records.
    found = reliability_rows(
        csv_rows(folder / "cohort_scores.csv"), csv_rows(folder / "cohort_bouts.csv")
    )
    names = [item.name for item in fields(ReliabilityRow)]
    table = pd.DataFrame([asdict(row) for row in found], columns=names)
    table.to_csv(folder / "reliability.csv", index=False, float_format="%.5f", lineterminator="\n")
    return table


def csv_rows(path: Path) -> Iterator[dict[str, str]]:
    """Yield the rows of a CSV file one by one."""
    with path.open(encoding="utf-8", newline="") as stream:
        yield from csv.DictReader(stream)


_WORDS = ("participant", "session", "bout", "measure", "side", "unit")
_BOUT_WORDS = (
    *("participant", "session", "bout", "hold", "loaded_side", "implement", "perturbed"),
    *("left_hold", "right_hold", "rotation_finding"),
)


_SCORE_TYPES: dict[str, Any] = {**dict.fromkeys(_WORDS, "category"), "value": float}


def read_scores(folder: Path) -> pd.DataFrame:
    """Return the joined scores that have a value; words as categories, to save memory."""
    import pandas as pd

    table = pd.read_csv(
        folder / "cohort_scores.csv",
        usecols=[*_WORDS, "value"],
        dtype=_SCORE_TYPES,
        keep_default_na=False,
        na_values={"value": [""]},
    )
    return table.dropna(subset=["value"])


def read_bouts(folder: Path) -> pd.DataFrame:
    """Return the joined bouts."""
    import pandas as pd

    return pd.read_csv(
        folder / "cohort_bouts.csv",
        dtype=dict.fromkeys(_BOUT_WORDS, str),
        keep_default_na=False,
        na_values={name: [""] for name in ("load_kg", "yaw_kept_pct", "start_s")},
    )


def write_page(
    folder: Path,
    scored: Sequence[Scored],
    failed: Sequence[tuple[str, Outcome]],
    reliability: pd.DataFrame,
) -> None:
    """Write ``cohort.html`` from the joined tables."""
    from imucarry.report.cohort import CohortData, render

    data = CohortData(
        bouts=read_bouts(folder),
        scores=read_scores(folder).astype(dict.fromkeys(_WORDS, str)),
        failures=tuple((name, outcome.error, outcome.message) for name, outcome in failed),
        sessions=tuple(_link(item) for item in scored),
        reliability=reliability,
    )
    (folder / "cohort.html").write_bytes(render(data).encode())


def _link(item: Scored) -> SessionLink:
    from imucarry.report.cohort import SessionLink

    run = json.loads((item.folder / RUN_FILE).read_text(encoding="utf-8"))
    page = f"sessions/{item.folder.name}/report.html"
    return SessionLink(item.participant, item.session, page, tuple(run["sensors"]))

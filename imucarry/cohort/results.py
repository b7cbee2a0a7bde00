"""What stands beside a cohort's joined tables: reliability, page, Parquet."""

from __future__ import annotations

import csv
import hashlib
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from imucarry import __version__
from imucarry.basics.errors import OutputError
from imucarry.basics.records import Notice
from imucarry.basics.settings import CarrySettings
from imucarry.cohort.failures import Failed, said_by
from imucarry.cohort.gather import Scored
from imucarry.cohort.schema import RELIABILITY
from imucarry.cohort.session_tables import notices_of
from imucarry.tables import package
from imucarry.tables.columns import Table
from imucarry.tables.text import csv_text, safe_text

if TYPE_CHECKING:
    import pandas as pd

    from imucarry.carry.visit_order import Order
    from imucarry.report.cohort import CohortData, SessionLink

NO_PARQUET = "Parquet needs an extra: pip install 'imucarry[parquet]'"


def names_of(table: Table) -> list[str]:
    """Return the names of a table's columns."""
    return [column.name for column in table.columns]


# --- Parquet -----------------------------------------------------------------


def require_parquet() -> None:
    """Raise an `OutputError` when the extra is not installed."""
    try:
        import pyarrow  # noqa: F401 - asked only whether it is there
    except ImportError as error:
        raise OutputError(NO_PARQUET) from error


def write_parquet(folder: Path, name: str, table: Table, names: Sequence[str]) -> None:
    """Write a joined table as Parquet too, in the types of its schema, a batch at a time.

    Parameters
    ----------
    folder : Path
        Holds the table as CSV.
    name : str
        The file's name without its ending.
    table : Table
    names : sequence of str
        All its columns; those that the schema does not know are text.
    """
    import pyarrow as pa
    from pyarrow import csv as arrow_csv
    from pyarrow import parquet

    types = {"number": pa.float64(), "integer": pa.int64(), "boolean": pa.bool_()}
    known = {column.name: types.get(column.kind, pa.string()) for column in table.columns}
    convert = arrow_csv.ConvertOptions(
        column_types={column: known.get(column, pa.string()) for column in names},
        null_values=[""],
        strings_can_be_null=True,
        quoted_strings_can_be_null=False,
        true_values=["true"],
        false_values=["false"],
    )
    parse = arrow_csv.ParseOptions(newlines_in_values=True)
    with (
        arrow_csv.open_csv(
            folder / f"{name}.csv", convert_options=convert, parse_options=parse
        ) as batches,
        parquet.ParquetWriter(folder / f"{name}.parquet", batches.schema) as writer,
    ):
        for batch in batches:
            writer.write_batch(batch)


# --- reliability -------------------------------------------------------------


def visits_in_order(
    scored: Sequence[Scored], manifest: str, failed: Sequence[Failed] = ()
) -> tuple[Order, list[Notice]]:
    """Return each visit's place among its participant's, and what to tell of it.

    Parameters
    ----------
    scored : sequence of Scored
    manifest : str
        Name of its file.
    failed : sequence of Failed
        Sessions that take a place among the others, where it is known whose they are.
    """
    from imucarry.carry.visit_order import StudyVisit, among_failed, order_visits

    # Names are as the joined tables show them.
    visits = [
        StudyVisit(safe_text(item.participant), safe_text(item.session), item.date, item.carried)
        for item in scored
    ]
    lost = []
    for row, _ in failed:
        cells = dict(row.extra)
        participant, session, date = said_by(row)
        who = participant or cells.get("participant", "")
        name = session or cells.get("session", "") or row.folder
        lost.append(StudyVisit(safe_text(who), safe_text(name), date, cells))
    order, notices = order_visits(visits, manifest)
    return among_failed(order, visits, lost), notices


def write_reliability(
    folder: Path,
    scores: pd.DataFrame,
    order: Order,
    settings: CarrySettings | None = None,
    groups: Mapping[str, frozenset[str]] | None = None,
) -> pd.DataFrame:
    """Write ``reliability.csv``; return its rows.

    Parameters
    ----------
    folder : Path
        Holds the joined bouts.
    scores : DataFrame
        As `read_scores` returns them.
    order : mapping
        Of the visits, from `visits_in_order`.
    settings : CarrySettings, optional
        ``pain_limit_0_10`` is used.
    groups : mapping, optional
        From `imucarry.cohort.gather.groups_of`.
    """
    import pandas as pd

    from imucarry.carry.cohort_reliability import reliability_rows
    from imucarry.carry.places import places_of

    limit_0_10 = (settings or CarrySettings()).pain_limit_0_10
    places = places_of(csv_rows(folder / "cohort_bouts.csv"), order, limit_0_10)
    # One measure at a time, so that the values of a large study are never all at hand
    # as Python objects. Rows are sorted by measure first, so the order is kept.
    found = [
        row
        for _, table in scores.groupby("measure", observed=True, sort=True)
        for row in reliability_rows(_as_rows(table), places, groups)
    ]
    names = names_of(RELIABILITY)
    columns = {name: [getattr(row, name) for row in found] for name in names}
    (folder / RELIABILITY.file).write_bytes(csv_text(RELIABILITY, columns).encode())
    return pd.DataFrame(columns, columns=names)


def _as_rows(table: pd.DataFrame) -> Iterator[dict[str, Any]]:
    names = list(table.columns)
    for row in table.itertuples(index=False):
        yield dict(zip(names, row, strict=True))


def csv_rows(path: Path) -> Iterator[dict[str, str]]:
    """Yield the rows of a CSV file one by one."""
    with path.open(encoding="utf-8", newline="") as stream:
        yield from csv.DictReader(stream)


# --- page --------------------------------------------------------------------

_WORDS = ("participant", "session", "bout", "measure", "side", "unit")
_ROWS_AT_ONCE = 100_000
_BOUT_WORDS = (
    *("participant", "session", "bout", "hold", "loaded_side", "rotation_finding"),
    *("implement", "perturbed", "left_hold", "right_hold", "stop_reason"),
)
_BOUT_NUMBERS = ("load_kg", "yaw_kept_pct", "pain_0_10")


def read_scores(folder: Path) -> pd.DataFrame:
    """Return the joined scores that have a value; words as categories, to save memory."""
    import pandas as pd
    from pandas.api.types import union_categoricals

    # Read as text first: categories made by the reader would take "01" for 1.
    parts = [
        part.dropna(subset=["value"]).astype(dict.fromkeys(_WORDS, "category"))
        for part in pd.read_csv(
            folder / "cohort_scores.csv",
            usecols=[*_WORDS, "value"],
            dtype={**dict.fromkeys(_WORDS, str), "value": float},
            keep_default_na=False,
            na_values={"value": [""]},
            chunksize=_ROWS_AT_ONCE,
        )
    ]
    words = {
        name: union_categoricals([part[name] for part in parts], sort_categories=True)
        for name in _WORDS
    }
    return pd.DataFrame({**words, "value": pd.concat([part["value"] for part in parts]).to_numpy()})


def read_bouts(folder: Path) -> pd.DataFrame:
    """Return what the page needs of the joined bouts, an implement spelt in one way."""
    import pandas as pd

    from imucarry.carry.implements import as_first_written

    bouts = pd.read_csv(
        folder / "cohort_bouts.csv",
        usecols=[*_BOUT_WORDS, *_BOUT_NUMBERS],
        dtype={**dict.fromkeys(_BOUT_WORDS, str), **dict.fromkeys(_BOUT_NUMBERS, float)},
        keep_default_na=False,
        na_values={name: [""] for name in _BOUT_NUMBERS},
    )
    return bouts.assign(implement=list(as_first_written(bouts["implement"])))


def write_page(folder: Path, data: CohortData) -> None:
    """Write ``cohort.html``."""
    from imucarry.report.cohort import render

    (folder / "cohort.html").write_bytes(render(data).encode())


def links_of(scored: Sequence[Scored]) -> tuple[SessionLink, ...]:
    """Return the sessions as the page shows them, in the manifest's order."""
    from imucarry.report.cohort import SessionLink

    return tuple(
        SessionLink(
            item.participant,
            item.session,
            page=f"sessions/{item.folder.name}/report.html",
            sensors=tuple(item.run["sensors"]),
            notices=notices_of(item),
            date=item.date,
        )
        for item in scored
    )


# --- description -------------------------------------------------------------


def describe(folder: Path, tables: Sequence[tuple[str, Table, Sequence[str]]]) -> dict[str, Any]:
    """Return the content of ``datapackage.json``.

    Parameters
    ----------
    folder : Path
        Holds the tables.
    tables : sequence of (file, Table, names of all its columns)
    """
    resources = [_resource(folder / file, table, names) for file, table, names in tables]
    return package.package("imucarry-cohort", "Scores of a study cohort", resources, __version__)


def _resource(path: Path, table: Table, names: Sequence[str]) -> dict[str, Any]:
    with path.open("rb") as stream:  # a large study's tables are not read into memory
        sha256 = hashlib.file_digest(stream, "sha256").hexdigest()
    extra = names[len(table.columns) :]
    return package.file_resource(table, path.name, path.stat().st_size, sha256, extra)

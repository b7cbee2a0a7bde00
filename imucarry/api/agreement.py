"""Agreement of two tables, for example of ours and of an optical system's."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pandas as pd

from imucarry.basics.errors import OutputError, UnknownFormatError
from imucarry.basics.files import NO_FILE, is_special
from imucarry.carry.agreement import Agreement, agree

SEPARATORS = (",", ";", "\t")
# A whole cell, so that words with a comma between digits do not count.
DECIMAL_COMMA = re.compile(r"(?:^|[;\t])-?\d+,\d+(?:[;\t\r\n]|$)")


@dataclass(frozen=True, slots=True, eq=False)
class Agreed:
    """Agreement as a record, as lines for people, and as a document for programs."""

    agreement: Agreement
    lines: tuple[str, ...]
    document: dict[str, Any]


def agree_files(
    ours: str | Path, theirs: str | Path, *, measure: str, picture: str | Path | None = None
) -> Agreed:
    """Compare one measure of two CSV tables; differences are A minus B.

    Parameters
    ----------
    ours, theirs : str or Path
        Tables of strides (matched by time), of bouts or of scores (matched by name).
    measure : str
        A column that both have, or a measure of both.
    picture : str or Path, optional
        File to write the picture to, as SVG.

    Returns
    -------
    Agreed

    Raises
    ------
    ImucarryError
        If a table cannot be read or has no such measure, if no two rows belong together,
        or if the picture cannot be written or is one of the tables.
    """
    from imucarry.outputs import plain_errors, write_bytes
    from imucarry.report import agreement as words
    from imucarry.tables.documents import agree_document

    if picture is not None:
        with plain_errors(Path(picture)):
            _require_apart(Path(picture), (Path(ours), Path(theirs)))
    found = agree(_table(Path(ours)), _table(Path(theirs)), measure)
    if picture is not None:
        with plain_errors(Path(picture)):
            write_bytes(Path(picture), words.picture(found).encode())
    return Agreed(found, tuple(words.lines(found)), agree_document(found))


def _require_apart(picture: Path, tables: Sequence[Path]) -> None:
    """Refuse a picture that would take the place of a table."""
    for table in tables:
        if picture.exists() and table.exists() and picture.samefile(table):
            raise OutputError(
                f"is the table {table.name!r}; name another file for the picture", file=str(picture)
            )


def _table(path: Path) -> pd.DataFrame:
    words = dict.fromkeys(("participant", "session", "bout", "side", "measure"), str)
    try:
        if is_special(path):
            raise UnknownFormatError(NO_FILE, file=path.name)
        with path.open(encoding="utf-8-sig") as stream:
            separator = max(SEPARATORS, key=stream.readline().count)
            commas = separator != "," and any(DECIMAL_COMMA.search(line) for line in stream)
        decimal = "," if commas else "."
        return pd.read_csv(path, dtype=words, encoding="utf-8-sig", sep=separator, decimal=decimal)
    except (ValueError, OSError) as error:
        first_line = (str(error).splitlines() or [""])[0]
        raise UnknownFormatError(
            f"cannot be read as a table, one line of column names and then one a row: {first_line}",
            file=path.name,
        ) from error

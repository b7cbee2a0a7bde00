"""Cells and CSV text."""

from __future__ import annotations

import csv
import io

import pytest

from imucarry.tables.columns import Table, count, flag, given, number, text
from imucarry.tables.text import column_text, csv_text, safe_text

NAN = float("nan")


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_a_formula_is_neutralised(start: str) -> None:
    assert column_text([f"{start}1+1"], text("note", "")) == [f"'{start}1+1"]


@pytest.mark.parametrize("plain", ["-3", "-1.5e3", "+2", "-.5", "-1,5", "+4.", "-2E-10"])
def test_a_plain_number_stays_a_number(plain: str) -> None:
    assert safe_text(plain) == plain


@pytest.mark.parametrize(
    "cell",
    ["-3-4", "-", "+", "-3 ", "--3", "-a", "-3\n", "-1e", "=3", "@3", "\t-3", "-3%", "-1,000.5"],
)
def test_what_only_begins_like_a_number_is_neutralised(cell: str) -> None:
    assert safe_text(cell) == f"'{cell}"


@pytest.mark.parametrize(
    ("value", "digits", "expected"),
    [
        (1.0, 0, "1"),
        (1.5, 0, "1.5"),
        (8.0, 2, "8.00"),
        (8.125, 2, "8.125"),
        (7.25747792, 2, "7.25747792"),
        (0.1 + 0.2, 2, "0.30"),  # 0.30000000000000004
        (1000.1 - 0.2, 2, "999.90"),
        (123456789.25, 1, "123456789.25"),
        (-0.0, 0, "0"),
        (NAN, 0, ""),
    ],
)
def test_what_the_sheet_gave_is_written_as_given(value: float, digits: int, expected: str) -> None:
    assert column_text([value], given("load_kg", "kg", "", digits)) == [expected]


@pytest.mark.parametrize(
    ("value", "column", "expected"),
    [
        (-1.25, number("x", "deg", "", 3), "-1.250"),
        (-0.0001, number("x", "deg", "", 2), "0.00"),
        (NAN, number("x", "deg", ""), ""),
        (None, count("n", ""), ""),
        (7, count("n", ""), "7"),
        (0, count("n", ""), "0"),
        (True, flag("kept", ""), "true"),
        (False, flag("kept", ""), "false"),
        ("", text("note", ""), ""),
    ],
)
def test_one_cell(value: object, column: object, expected: str) -> None:
    assert column_text([value], column) == [expected]  # type: ignore[arg-type]


def test_a_table_reads_back_and_carries_the_sheets_own_columns() -> None:
    table = Table("t", "", (text("note", ""), number("x", "deg", "", 1)), ("note",))
    rows = {"note": ['say "hi", you', "two\nlines"], "x": [1.0, NAN], "=own": ["a", "=b"]}
    written = csv_text(table, rows, ["=own"])
    assert list(csv.reader(io.StringIO(written))) == [
        ["note", "x", "'=own"],
        ['say "hi", you', "1.0", "a"],
        ["two\nlines", "", "'=b"],
    ]

"""Thousands marks: read as such, told from decimals, or refused; never taken for decimals."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from imucarry.basics.errors import UnknownFormatError
from imucarry.readers.row_cells import kind_of, told_decimal, value_of
from imucarry.readers.text import read_text_table

N_ROWS = 600
TIME_MS = 20.0 * np.arange(N_ROWS)
WAVE = np.sin(0.11 * np.arange(N_ROWS))
VALUES = np.column_stack([TIME_MS, 1900 * WAVE, 340 * WAVE[::-1], 5000 * WAVE**3])


def spelled(value: float, digits: int, mark: str, decimal: str) -> str:
    """Return a number with its thousands marked."""
    return f"{value:,.{digits}f}".replace(",", "T").replace(".", decimal).replace("T", mark)


def read(path: Path, rows: list[list[str]], separator: str) -> np.ndarray:
    lines = ["time_ms,acc_x,acc_y,acc_z".replace(",", separator), *map(separator.join, rows)]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return read_text_table(path, path.name).numbers


def as_cells(values: np.ndarray, digits: int, mark: str, decimal: str) -> list[list[str]]:
    return [[spelled(value, digits, mark, decimal) for value in row] for row in values]


@pytest.mark.parametrize("digits", [0, 1, 3])
@pytest.mark.parametrize(
    ("mark", "decimal", "separator"),
    [
        (".", ",", ";"),
        (",", ".", ";"),
        (",", ".", "\t"),
        ("\u00a0", ",", ";"),
        ("\u202f", ".", ";"),
        (" ", ",", ";"),
        ("'", ".", ";"),
    ],
)
def test_thousands_are_read(
    tmp_path: Path, digits: int, mark: str, decimal: str, separator: str
) -> None:
    rows = as_cells(VALUES, digits, mark, decimal)
    np.testing.assert_array_equal(
        read(tmp_path / "chest.csv", rows, separator), np.round(VALUES, digits)
    )


def test_quoted_thousands_between_commas(tmp_path: Path) -> None:
    rows = [[f'"{cell}"' for cell in row] for row in as_cells(VALUES, 1, ",", ".")]
    np.testing.assert_array_equal(read(tmp_path / "chest.csv", rows, ","), np.round(VALUES, 1))


def test_whole_thousands_in_some_columns_of_decimal_commas(tmp_path: Path) -> None:
    rows = [
        [
            spelled(t / 1000, 2, "", ","),
            spelled(x, 0, ".", ","),
            *(spelled(v, 3, "", ",") for v in yz),
        ]
        for t, x, *yz in VALUES
    ]
    found = read(tmp_path / "chest.csv", rows, ";")
    np.testing.assert_array_equal(found[:, 1], np.round(VALUES[:, 1]))
    np.testing.assert_array_equal(found[:, 2:], np.round(VALUES[:, 2:], 3))


def test_a_stray_quote_among_thousands_is_no_quote(tmp_path: Path) -> None:
    rows = [[f'"{cell}"' for cell in row] for row in as_cells(VALUES, 0, ".", ",")]
    rows[450][2] = rows[450][2].rstrip('"') + '0"0"'
    rows[599][3] = rows[599][3].rstrip('"')
    found = read(tmp_path / "chest.csv", rows, ";")
    np.testing.assert_array_equal(found[:450], np.round(VALUES[:450]))


@pytest.mark.parametrize(("mark", "decimal"), [(".", ","), (",", ".")])
def test_thousands_that_come_late(tmp_path: Path, mark: str, decimal: str) -> None:
    late = VALUES.copy()
    late[:400, 0] = np.arange(400)
    late[:400, 1:] /= 10
    rows = as_cells(late, 0, mark, decimal)
    np.testing.assert_array_equal(read(tmp_path / "chest.csv", rows, ";"), np.round(late))


@pytest.mark.parametrize("digits", ["%.3f", "%.15g"])
@pytest.mark.parametrize("decimal", [".", ","])
def test_three_decimals_stay_decimals(tmp_path: Path, digits: str, decimal: str) -> None:
    values = np.round(np.column_stack([100 + TIME_MS, 30 + 9 * VALUES[:, 1:] / 9999]), 3)
    rows = [[(digits % value).replace(".", decimal) for value in row] for row in values]
    np.testing.assert_allclose(read(tmp_path / "chest.csv", rows, ";"), values, rtol=1e-14)


def test_two_decimal_marks_in_one_table_leave_rows_out(tmp_path: Path) -> None:
    values = VALUES / 800
    rows = as_cells(values, 3, "", ",")
    rows[400:] = as_cells(values[400:], 3, "", ".")
    found = read(tmp_path / "chest.csv", rows, ";")
    np.testing.assert_array_equal(found[:400], np.round(values[:400], 3))
    assert np.isnan(found[400:]).all()


def test_thousands_that_cannot_be_told_are_refused(tmp_path: Path) -> None:
    rows = as_cells(np.round(VALUES / 20), 0, ".", ",")
    rows[500][1:3] = ["1.024", "1.025"]
    with pytest.raises(UnknownFormatError, match="may be thousands or decimals") as caught:
        read(tmp_path / "chest.csv", rows, ";")
    assert caught.value.where == "rows from line 2 on"


@pytest.mark.parametrize(
    ("cell", "value"),
    [
        ("12.345", 12345.0),
        ("-1.234,5", -1234.5),
        ("1.234.567", 1234567.0),
        ("0,5", 0.5),
        ("\u22120,5", -0.5),
        ("1.02", np.nan),
        ("0.345", np.nan),
        ("1234.567", np.nan),
        ("1.2345", np.nan),
        ("12.34,5", np.nan),
        ("1 23,4", np.nan),
    ],
)
def test_a_point_beside_decimal_commas_marks_thousands_or_is_no_number(
    cell: str, value: float
) -> None:
    assert value_of(cell, ",", groups=True) == pytest.approx(value, nan_ok=True)
    assert (kind_of(cell, ",") in ("number", "grouped")) == (not np.isnan(value))


WHOLES = {str(whole): 3 for whole in range(-40, 400, 7)}
GROUPS = {f"{thousand}.{rest:03d}": 2 for thousand in (1, 2) for rest in range(3, 999, 90)}


@pytest.mark.parametrize(
    ("columns", "told"),
    [
        ([WHOLES | GROUPS], ","),
        ([GROUPS, WHOLES | GROUPS], ","),
        ([WHOLES | GROUPS, WHOLES | {"1.024": 2}], ","),
        ([WHOLES | GROUPS, WHOLES | GROUPS | {"123456": 400}], "?"),
        ([GROUPS, WHOLES], "."),  # whole numbers in one column, three decimals in another
        ([WHOLES | GROUPS | {"1,5": 1}], ","),
        ([WHOLES | GROUPS | {"1.5": 90}], "."),
        ([WHOLES | GROUPS | {"1.5": 1}], "?"),  # one damaged cell, or decimals after all
        ([{"0": 500, "-999": 4} | GROUPS], "."),  # codes for missing samples
        ([WHOLES | {"1.024": 2}], "?"),
        ([WHOLES | {"345.000": 200, "12.000": 200}], "?"),
        ([WHOLES | GROUPS | {"123456": 400}], "?"),
        ([WHOLES], ""),
        ([WHOLES | {"1.5": 9, "1,5": 9}], ""),
    ],
)
def test_all_cells_together_tell_the_decimal_mark(columns: list[dict[str, int]], told: str) -> None:
    assert told_decimal(columns) == told

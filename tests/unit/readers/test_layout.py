"""Blocks of numbers amid blank lines, marks for missing samples, and unusual signs."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from imucarry.basics.errors import ColumnError
from imucarry.readers.text import read_text_table

HEADER = "time_s,acc_x,acc_y,acc_z\n"
ROWS = [f"{k / 100:.2f},{0.5 + k / 1000:.3f},-0.25,9.75" for k in range(100)]
VALUES = np.array([[float(cell) for cell in row.split(",")] for row in ROWS])


def numbers_of(tmp_path: Path, text: str, encoding: str = "utf-8") -> np.ndarray:
    path = tmp_path / "chest.csv"
    path.write_bytes(text.encode(encoding))
    table = read_text_table(path, "chest.csv")
    assert table.names == ("time_s", "acc_x", "acc_y", "acc_z")
    return table.numbers


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("n_rows", [1, 2, 5])
def test_blank_lines_between_rows(tmp_path: Path, n_rows: int, newline: str) -> None:
    blocks = ["\n".join(ROWS[k : k + n_rows]) for k in range(0, 100, n_rows)]
    text = HEADER + "\n" + "\n\n".join(blocks) + "\n"
    numbers = numbers_of(tmp_path, text.replace("\n", newline))
    np.testing.assert_array_equal(numbers, VALUES)


def test_numbers_between_blank_lines_above_a_table_are_no_rows_of_it(tmp_path: Path) -> None:
    offsets = "1,0,0,0\n\n0,1,0,0\n\n0,0,1,0\n\n" + "note\n" * 50
    numbers = numbers_of(tmp_path, offsets + HEADER + "\n".join(ROWS) + "\n")
    np.testing.assert_array_equal(numbers, VALUES)


@pytest.mark.parametrize(
    "mark",
    "-- --- ? #NUM! #VALUE! #DIV/0! 1.#QNAN 1.#IND -1.#IND <NA> missing NaN".split(),  # noqa: SIM905
)
def test_missing_samples_within_the_first_rows(tmp_path: Path, mark: str) -> None:
    rows = [ROWS[0], f"0.01,{mark},{mark},{mark}", *ROWS[2:]]
    numbers = numbers_of(tmp_path, HEADER + "\n".join(rows) + "\n")
    np.testing.assert_array_equal(numbers[[0, *range(2, 100)]], VALUES[[0, *range(2, 100)]])
    assert np.isnan(numbers[1, 1:]).all()
    assert numbers[1, 0] == 0.01


@pytest.mark.parametrize("minus", ["\u2212", "\u2013", "\u2212\u2009", "\u00a0-", "\u202f\u2212"])
def test_minus_signs_and_spaces_of_typesetters(tmp_path: Path, minus: str) -> None:
    text = HEADER + "\n".join(row.replace("-", minus) for row in ROWS) + "\n"
    np.testing.assert_array_equal(numbers_of(tmp_path, text), VALUES)


def test_thousands_in_quotes_that_come_late(tmp_path: Path) -> None:
    rows = [f"{k / 100:.2f},{k % 100 + 0.5},-30.25,5.5" for k in range(5000)]
    late = [f'{row[: row.index(",")]},"1,024.5",-30.25,5.5' for row in rows[4000:]]
    numbers = numbers_of(tmp_path, HEADER + "\n".join(rows[:4000] + late) + "\n")
    assert len(numbers) == 5000
    assert (numbers[4000:, 1] == 1024.5).all()


@pytest.mark.parametrize("cells", [1, 2, 3])
@pytest.mark.parametrize("n_short", [1, 3])
def test_short_rows_amid_the_others_are_told(tmp_path: Path, cells: int, n_short: int) -> None:
    short = [",".join(row.split(",")[:cells]) for row in ROWS[50 : 50 + n_short]]
    path = tmp_path / "chest.csv"
    path.write_text(HEADER + "\n".join([*ROWS[:50], *short, *ROWS[50 + n_short :]]) + "\n")
    table = read_text_table(path, "chest.csv")
    (notice,) = table.notices
    was = "1 row is broken or incomplete and was" if n_short == 1 else "3 rows are broken or"
    assert notice.message.startswith(was)
    assert (notice.code, notice.where, notice.severity) == ("broken_rows", "near line 52", "check")
    assert np.isnan(table.numbers[50 : 50 + n_short, 3]).all()
    assert np.isfinite(np.delete(table.numbers, range(50, 50 + n_short), axis=0)).all()


def test_empty_cells_are_no_short_row(tmp_path: Path) -> None:
    path = tmp_path / "chest.csv"
    path.write_text(HEADER + "\n".join([*ROWS[:50], "0.5,,,", *ROWS[51:]]) + "\n")
    table = read_text_table(path, "chest.csv")
    assert table.notices == ()
    assert np.isnan(table.numbers[50, 1:]).all()


@pytest.mark.parametrize(
    "aside",
    [
        ["# a remark, of the person, who, measured, at, length"],
        ["# battery 80 %"],
        [",,,"],
        [HEADER.strip()],
        ["// paused", "// went on"],
    ],
)
def test_lines_that_are_no_rows_are_not_broken(tmp_path: Path, aside: list[str]) -> None:
    path = tmp_path / "chest.csv"
    path.write_text(HEADER + "\n".join([*ROWS[:50], *aside, *ROWS[50:], "End,,,"]) + "\n")
    table = read_text_table(path, "chest.csv")
    assert [(n.code, n.where, n.severity) for n in table.notices] == [
        ("lines_aside", "line 52", "note")
    ]
    assert f"{len(aside) + 1} lines among the rows hold no sample" in table.notices[0].message
    np.testing.assert_array_equal(table.numbers, VALUES)


@pytest.mark.parametrize("mark", ["", "# "])
def test_columns_in_another_order_further_down_are_refused(tmp_path: Path, mark: str) -> None:
    path = tmp_path / "chest.csv"
    names = HEADER.strip().split(",")
    other = ",".join([names[0], *names[:0:-1]])
    path.write_text(HEADER + "\n".join([*ROWS[:50], mark + other, *ROWS[50:]]) + "\n")
    with pytest.raises(ColumnError, match="the columns have other names from here") as caught:
        read_text_table(path, "chest.csv")
    assert caught.value.where == "line 52"


def test_a_header_of_two_lines_may_come_again(tmp_path: Path) -> None:
    path = tmp_path / "chest.csv"
    header = ["time,acc,,", ",x,y,z"]
    path.write_text("\n".join([*header, *ROWS[:50], *header, *ROWS[50:]]) + "\n")
    table = read_text_table(path, "chest.csv")
    assert np.isfinite(table.numbers).all(axis=1).sum() == len(ROWS)


def test_a_footer_is_no_broken_row(tmp_path: Path) -> None:
    path = tmp_path / "chest.csv"
    path.write_text(HEADER + "\n".join([*ROWS, "Total samples,200,,", "End of file,,,"]) + "\n")
    table = read_text_table(path, "chest.csv")
    assert [notice.code for notice in table.notices] == ["lines_aside"]
    np.testing.assert_array_equal(table.numbers, VALUES)


@pytest.mark.parametrize("row", ["ERR,ERR,ERR,ERR", "0.5,ERR,1.0,2.0", "x,1.0,2.0,3.0"])
def test_broken_rows_beside_a_remark_are_still_told(tmp_path: Path, row: str) -> None:
    path = tmp_path / "chest.csv"
    path.write_text(HEADER + "\n".join([*ROWS[:50], "# remark", row, *ROWS[51:]]) + "\n")
    broken, aside = read_text_table(path, "chest.csv").notices
    assert broken.message.startswith("1 row is broken or incomplete")
    assert broken.where == "near line 53"
    assert (broken.severity, aside.code) == ("check", "lines_aside")

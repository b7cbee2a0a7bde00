"""Headers that do not fit their rows."""

from __future__ import annotations

from pathlib import Path

import pytest

from imucarry.basics.errors import ColumnError
from imucarry.readers.layout import find_layout
from imucarry.readers.source import read_source

ROWS = "".join(f"{k},0.1,0.2,0.3,9.8,0.1,0.4\n" for k in range(20))


def names_of(tmp_path: Path, header: str) -> tuple[str, ...]:
    path = tmp_path / "chest.csv"
    path.write_text(header + ROWS)
    return find_layout(read_source(path, "chest.csv")).names


@pytest.mark.parametrize(
    ("header", "n_names"),
    [
        ("time,a,b,c,d,e,f,g\n", 8),
        ("no,time,Gyroscope,,,Accelerometer,,last\ntime,X,Y,Z,X,Y,Z\n", 8),
        ("time,Gyroscope,,,Accelerometer,,\ntime,X,Y,Z,X,Y,Z,X,Y\n", 9),
    ],
)
def test_more_names_than_cells(tmp_path: Path, header: str, n_names: int) -> None:
    with pytest.raises(ColumnError, match=f"has {n_names} names but the rows have 7") as caught:
        names_of(tmp_path, header)
    assert caught.value.where == f"line {header.count(chr(10))}"


@pytest.mark.parametrize("names", ["", "time,a,b,c,d,e,f\n"])
def test_more_units_than_cells(tmp_path: Path, names: str) -> None:
    header = f"# made by nobody, twice\n{names}s,g,g,g,deg/s,deg/s,deg/s,deg/s\n"
    with pytest.raises(ColumnError, match="has 8 units but the rows have 7"):
        names_of(tmp_path, header)


def test_upper_names_over_axes(tmp_path: Path) -> None:
    header = "time,Gyroscope,,,Accelerometer,,\ntime,X,Y,Z,X,Y,Z\n"
    assert names_of(tmp_path, header)[1:5] == (
        "Gyroscope X",
        "Gyroscope Y",
        "Gyroscope Z",
        "Accelerometer X",
    )

"""Headers that do not fit their rows."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from imucarry.basics.errors import ColumnError, UnknownFormatError
from imucarry.readers.columns import find_roles
from imucarry.readers.entries import SensorEntry
from imucarry.readers.formats import read_table
from imucarry.readers.headers import stated_rate
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


@pytest.mark.parametrize("between", ["\n", "\n\n", "---,---\n", "=======\n", ",,,,,,\n"])
def test_names_and_units_above_blank_and_drawn_lines(tmp_path: Path, between: str) -> None:
    header = f"time,ax,ay,az,wx,wy,wz\n{between}s,g,g,g,deg/s,deg/s,deg/s\n{between}"
    path = tmp_path / "chest.csv"
    path.write_text(header + ROWS)
    layout = find_layout(read_source(path, "chest.csv"))
    assert layout.names == ("time", "ax", "ay", "az", "wx", "wy", "wz")
    assert layout.units == ("s", "g", "g", "g", "deg/s", "deg/s", "deg/s")


@pytest.mark.parametrize(
    ("line", "rate_hz"),
    [
        ("sampling interval: 10 ms", 100.0),
        ("Sampling interval (ms): 20", 50.0),
        ("sample period (ms): 10", 100.0),
        ("# dt = 0.01 s", 100.0),
        ("dt [s]; 0,02", 50.0),
        ("Sampling period,5000,us", 200.0),
        ("time step = 7.8125 ms", 128.0),
        ("Abtastintervall: 0,01 s", 100.0),
        ("sampling interval: 10", np.nan),  # of what?
        ("sampling interval: 10 s", np.nan),  # no worn sensor
        ("sampling interval: 0 ms", np.nan),
        ("logging interval: 10 ms", np.nan),
        ("sampled time: 10 ms", np.nan),
        ("sample rate: 50 Hz", 50.0),
    ],
)
def test_stated_interval_is_a_rate(line: str, rate_hz: float) -> None:
    assert stated_rate(["Made by: nobody", line]) == pytest.approx(rate_hz, nan_ok=True)


@pytest.mark.parametrize(
    ("lines", "rate_hz"),
    [
        (["heart rate: 72"], np.nan),
        (["baud rate: 115200", "sampling rate: 50 Hz"], 50.0),
        (["low-pass cut-off frequency: 20 Hz", "output rate: 50 Hz"], 50.0),
        (["rate: 50 Hz, filter frequency: 20 Hz"], 50.0),
        (["magnetometer rate: 10 Hz", "gyroscope rate: 50 Hz"], 50.0),
        (["accelerometer rate: 100 Hz", "gyroscope rate: 50 Hz"], np.nan),
        (["sampling rate: 0.05 kHz"], 50.0),
        (["sample_rate_hz,50"], 50.0),
    ],
)
def test_only_the_rate_of_the_samples_is_one(lines: list[str], rate_hz: float) -> None:
    assert stated_rate(lines) == pytest.approx(rate_hz, nan_ok=True)


def test_a_stated_rate_goes_before_an_interval() -> None:
    assert stated_rate(["sampling interval: 10 ms", "sample rate: 50 Hz"]) == 50.0


@pytest.mark.parametrize("whole_times", [True, False])
def test_decimal_commas_between_commas_are_told(tmp_path: Path, whole_times: bool) -> None:
    path = tmp_path / "chest.csv"
    time = "{}" if whole_times else "{},5"
    row = time + ",0,1,0,2,0,3,9,8,0,1,0,4\n"
    text = "time,ax,ay,az,wx,wy,wz\n" + "".join(row.format(k) for k in range(20))
    path.write_text(text)
    with pytest.raises(ColumnError, match="commas of decimals also part the cells: export with"):
        find_layout(read_source(path, "chest.csv"))


@pytest.mark.parametrize(("n_above", "told"), [(10, False), (3000, True)])
def test_a_table_far_below_other_text_is_told_to_move_up(
    tmp_path: Path, n_above: int, told: bool
) -> None:
    path = tmp_path / "chest.csv"
    path.write_text("# a long remark about nothing\n" * n_above + (ROWS if told else ""))
    with pytest.raises(UnknownFormatError) as caught:
        find_layout(read_source(path, "chest.csv"))
    assert ("remove the lines above the table" in caught.value.message) is told


AXES = ",".join(f"{kind} {axis}" for kind in ("acc", "gyr") for axis in "xyz")


def two_rows(upper: str) -> str:
    rows = "".join(f"{k}{',0.1,0.2,9.8,0.3,0.1,0.4' * 2}\n" for k in range(20))
    return f"{upper}\ntime (s),{AXES},{AXES}\n{rows}"


@pytest.mark.parametrize(
    "upper", [",Sternum,,,,,,Left wrist,,,,,", f",{','.join(['Sternum'] * 6 + ['Left wrist'] * 6)}"]
)
def test_names_of_sensors_over_names_of_axes(tmp_path: Path, upper: str) -> None:
    path = tmp_path / "all.csv"
    path.write_text(two_rows(upper))
    names = find_layout(read_source(path, "all.csv")).names
    assert names[:2] == ("time (s)", "Sternum acc x")
    assert names[7] == "Left wrist acc x"
    roles = find_roles(read_table(path, "all.csv"), SensorEntry(""))
    assert [sensor.label for sensor in roles.sensors] == ["sternum", "left_wrist"]


@pytest.mark.parametrize("upper", ["device,12", "", ",Sternum,,,,,,,,,,,"])
def test_names_that_stay_double_ask_for_names_of_their_own(tmp_path: Path, upper: str) -> None:
    path = tmp_path / "all.csv"
    path.write_text(two_rows(upper))
    with pytest.raises(ColumnError, match="give every column a name of its own"):
        find_roles(read_table(path, "all.csv"), SensorEntry(""))

"""Formats beside delimited text."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from fuzz_layouts import Motion

from imucarry.basics.errors import ColumnError, InputError, UnknownFormatError
from imucarry.readers.formats import FORMATS
from imucarry.readers.recording import read_recording


def frame_of(motion: Motion) -> pd.DataFrame:
    columns = {f"acc_{axis}": motion.acc[:, i] for i, axis in enumerate("xyz")}
    columns |= {f"gyr_{axis}": motion.gyr[:, i] for i, axis in enumerate("xyz")}
    return pd.DataFrame(columns)


@pytest.mark.parametrize(
    "stamps",
    [
        lambda t: t,
        lambda t: pd.Timestamp("2026-03-14T10:00:00Z") + pd.to_timedelta(t, unit="s"),
        lambda t: pd.Timestamp("2026-03-14T10:00:00") + pd.to_timedelta(t, unit="s"),
    ],
)
@pytest.mark.parametrize("as_index", [False, True])
def test_parquet(
    tmp_path: Path, motion: Motion, stamps: Callable[[np.ndarray], object], as_index: bool
) -> None:
    frame = frame_of(motion)
    frame["label"] = "walking"
    frame.insert(0, "time_s", stamps(motion.time_s))
    if as_index:
        frame = frame.set_index("time_s")
    path = tmp_path / "chest.parquet"
    frame.to_parquet(path)
    recording = read_recording([path], "chest")
    np.testing.assert_array_equal(recording.acc_mps2, motion.acc)
    np.testing.assert_allclose(recording.time_s, motion.time_s, atol=1e-6)


def test_damaged_parquet_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "chest.parquet"
    path.write_bytes(b"PAR1" + b"\0" * 100)
    with pytest.raises(UnknownFormatError, match="cannot be read as Parquet"):
        read_recording([path], "chest")


# Names and required columns: Brain Imaging Data Structure 1.11, motion.
STEM = "sub-P07_task-carry_tracksys-imu"


def write_motion_bids(folder: Path, motion: Motion) -> Path:
    rows = [
        (f"{point}_{kind}_{axis}", axis, kind, point, unit)
        for point in ("sternum", "leftForeArm")
        for kind, unit in (("ACCEL", "m/s^2"), ("GYRO", "deg/s"))
        for axis in "xyz"
    ]
    rows += [("sternum_MAGN_x", "x", "MAGN", "sternum", "T")]
    lines = ["\t".join(("name", "component", "type", "tracked_point", "units"))]
    (folder / f"{STEM}_channels.tsv").write_text("\n".join([*lines, *map("\t".join, rows)]) + "\n")
    (folder / f"{STEM}_motion.json").write_text(
        json.dumps({"SamplingFrequency": 100, "TaskName": "carry"})
    )
    degrees = np.degrees(motion.gyr)
    values = np.column_stack([motion.acc, degrees, motion.acc, 2 * degrees, motion.time_s * 1e-6])
    path = folder / f"{STEM}_motion.tsv"
    np.savetxt(path, values, delimiter="\t", fmt="%.9f")
    return path


def test_motion_bids(tmp_path: Path, motion: Motion) -> None:
    path = write_motion_bids(tmp_path, motion)
    chest = read_recording([path], "chest")
    left = read_recording([path], "left_wrist")
    np.testing.assert_allclose(chest.acc_mps2, motion.acc, atol=1e-6)
    np.testing.assert_allclose(left.gyr_radps, 2 * motion.gyr, atol=1e-6)
    assert chest.rate_hz == pytest.approx(100)
    assert chest.readings[0].columns[3].unit == "deg/s"


def test_motion_bids_whose_channels_do_not_fit(tmp_path: Path, motion: Motion) -> None:
    path = write_motion_bids(tmp_path, motion)
    channels = tmp_path / f"{STEM}_channels.tsv"
    channels.write_text(channels.read_text().rpartition("sternum_MAGN")[0])
    with pytest.raises(ColumnError, match=r"13 columns but .* lists 12 channels"):
        read_recording([path], "chest")
    (tmp_path / f"{STEM}_motion.json").write_text("{")
    channels.write_text("name\ttype\n")
    with pytest.raises(InputError, match="must have the columns"):
        read_recording([path], "chest")


def test_the_last_format_takes_any_file(tmp_path: Path) -> None:
    assert FORMATS[-1].recognises(tmp_path / "anything")

"""Recordings that nobody on this project made.

Sources: Matey-Sanz et al. 2023, Data in Brief, doi 10.1016/j.dib.2023.109809 (wrist,
stamps repeat); Voisard et al. 2023, Image Processing On Line, doi 10.5201/ipol.2023.497
(lower back, lost packets, 16-bit counter); the PyPI package seglearn 1.2.5 (wrist,
acceleration in g, 50 Hz).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from seglearn.datasets import load_watch

from imucarry.basics.errors import ImucarryError
from imucarry.readers.entries import SensorEntry
from imucarry.readers.recording import read_recording


def test_every_watch_walk(open_data: Path) -> None:
    files = sorted((open_data / "watch_walks").glob("s*_sw.csv"))
    assert files
    for file in files:
        recording = read_recording([file], "left_wrist")
        frame = pd.read_csv(file)
        assert recording.rate_hz == pytest.approx(104, abs=1)
        assert abs(recording.time_s.size - len(frame)) <= 0.01 * len(frame)
        units = {column.unit for column in recording.readings[0].columns[:6]}
        assert units == {"m/s^2", "rad/s"}
        # Stamps are late by tens of milliseconds; samples must stay near them, drifting nowhere.
        stamps = (frame["timestamp"] - frame["timestamp"][0]).to_numpy() / 1000
        at = np.linspace(0, 1, 9)
        lag = np.quantile(stamps, at) - np.quantile(recording.time_s, at)
        assert np.abs(lag).max() < 0.06, file.name


def test_every_trunk_walk_stands_on_its_packet_counter(open_data: Path) -> None:
    files = sorted((open_data / "trunk_steps").glob("*_lb.txt"))
    assert files
    for file in files:
        frame = pd.read_csv(file, sep="\t", skiprows=1)
        counts = np.mod(np.diff(frame["PacketCounter"]), 65536).cumsum()
        recording = read_recording([file], "chest")
        assert recording.rate_hz == pytest.approx(100)
        assert recording.time_s.size == counts[-1] + 1
        rows = np.concatenate([[0], counts]).astype(int)
        acc = frame[["Acc_X", "Acc_Y", "Acc_Z"]].to_numpy()
        np.testing.assert_allclose(recording.acc_mps2[rows], acc, atol=1e-6)


def test_watch_exercises_in_g(tmp_path: Path) -> None:
    data = load_watch()
    n_read = 0
    for number in range(0, 140, 20):
        samples = np.asarray(data["X"][number])
        path = tmp_path / f"{number}.csv"
        np.savetxt(path, samples, delimiter=",", header="ax,ay,az,wx,wy,wz", comments="")
        try:
            recording = read_recording([path], "left_wrist", SensorEntry("left_wrist", rate_hz=50))
        except ImucarryError as error:
            pytest.fail(f"{number}: {error}")
        np.testing.assert_allclose(recording.acc_mps2, samples[:, :3] * 9.80665, atol=1e-6)
        units = {column.unit for column in recording.readings[0].columns}
        assert units == {"g", "rad/s"}
        n_read += 1
    assert n_read == 7

"""A simulated session is written as plain files that read back."""

from __future__ import annotations

import csv
import tomllib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from invented_clients import random_client

from imucarry import write_demo_session
from imucarry.basics.errors import OutputError
from imucarry.basics.settings import Settings
from imucarry.readers.session import read_session
from imucarry.simulate import demo
from imucarry.simulate.files import COLUMNS, write_session
from imucarry.simulate.session import SimulatedSession, simulate_session


@pytest.fixture(scope="module")
def simulated() -> SimulatedSession:
    spec = random_client(3)
    sensors = (replace(spec.sensors[0], loss_frac=0.01), *spec.sensors[1:])
    return simulate_session(replace(spec, bouts=spec.bouts[:1], sensors=sensors), 3)


def test_files_hold_the_samples(simulated: SimulatedSession, tmp_path: Path) -> None:
    write_session(simulated, tmp_path)
    for recording in simulated.recordings:
        path = tmp_path / f"{recording.placement}.csv"
        assert path.read_text().splitlines()[0] == ",".join(COLUMNS)
        values = np.loadtxt(path, delimiter=",", skiprows=1)
        there = ~simulated.lost[recording.placement]
        np.testing.assert_allclose(values[:, 0], recording.time_s[there], atol=6e-5)
        np.testing.assert_allclose(values[:, 1:4], recording.acc_mps2[there], atol=6e-4)
        np.testing.assert_allclose(values[:, 4:], recording.gyr_radps[there], atol=6e-6)
    assert simulated.lost["chest"].any()


def test_session_reads_back(simulated: SimulatedSession, tmp_path: Path) -> None:
    write_session(simulated, tmp_path)
    session = read_session(tmp_path, Settings().readers)
    assert session.participant == "P00"
    assert session.bout_rows is not None
    for read, written in zip(session.bout_rows, simulated.bout_rows, strict=True):
        assert (read.bout, read.hold, read.loaded_side) == (
            written.bout, written.hold, written.loaded_side,
        )  # fmt: skip
        assert read.start_s == pytest.approx(written.start_s, abs=1e-3)
    for read, written in zip(session.recordings, simulated.recordings, strict=True):
        assert read.placement == written.placement
        assert read.rate_hz == pytest.approx(written.rate_hz, rel=1e-4)


def test_demo_names_nobody_and_tells_its_story() -> None:
    spec = demo.demo_spec()
    assert spec.participant == "P01"
    holds = [bout.row.hold for bout in spec.bouts]
    assert holds[0] == holds[1] == holds[-1] == "free"
    assert 8 <= len(holds) <= 10
    assert len(holds) == len({bout.row.bout for bout in spec.bouts})


def test_demo_replaces_an_earlier_demo_and_nothing_else(
    simulated: SimulatedSession, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(demo, "simulate_session", lambda spec, seed: simulated)
    folder = tmp_path / "visit"
    write_demo_session(folder)
    first = (folder / "chest.csv").read_bytes()
    write_demo_session(folder)
    assert (folder / "chest.csv").read_bytes() == first
    assert tomllib.loads((folder / "session.toml").read_text())["participant"]
    with (folder / "bouts.csv").open(newline="") as file:
        assert len(list(csv.DictReader(file))) == 1
    (folder / "notes.txt").write_text("mine")
    with pytest.raises(OutputError):
        write_demo_session(folder)
    other = tmp_path / "other"
    write_session(simulated, other)
    with pytest.raises(OutputError):
        write_demo_session(other)

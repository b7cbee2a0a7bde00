"""Tilt and total error of the default filter against optics; see SOURCE.md."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import vqf
from accuracy_orientation import clock_shift, errors_deg, load, shifted

from imucarry.basics.records import BoolArray, FloatArray, Recording
from imucarry.basics.settings import MotionSettings
from imucarry.motion.orientation import estimate_orientation

Trial = tuple[Recording, FloatArray, BoolArray]


@pytest.fixture(scope="module")
def trials(open_data: Path) -> list[Trial]:
    found = sorted((open_data / "board_optical").glob("*.mat"))
    if not found:
        pytest.skip("board_optical is not among the open recordings")
    return [load(path) for path in found]


@pytest.fixture(scope="module")
def ours(trials: list[Trial]) -> list[FloatArray]:
    return [estimate_orientation(trial[0], MotionSettings()).quat for trial in trials]


def mean_errors_deg(
    quats: list[FloatArray], trials: list[Trial], shifts: list[float]
) -> FloatArray:
    """Tilt and total error, shape (2,), mean over trials."""
    each = [
        errors_deg(shifted(quat, shift), optical, moving)
        for quat, shift, (_, optical, moving) in zip(quats, shifts, trials, strict=True)
    ]
    return np.array(each).mean(axis=0)


def test_the_clocks_are_apart_by_the_same_time_in_every_trial(trials: list[Trial]) -> None:
    apart_ms = [1e3 * clock_shift(*trial) / trial[0].rate_hz for trial in trials]
    # One constant of the set-up, not six fits: within a fiftieth of a sample.
    assert np.ptp(apart_ms) < 0.07
    assert 1.0 < np.mean(apart_ms) < 4.0


def test_tilt_and_total_with_clocks_aligned(trials: list[Trial], ours: list[FloatArray]) -> None:
    shifts = [clock_shift(*trial) for trial in trials]
    tilt, total = mean_errors_deg(ours, trials, shifts)
    assert tilt < 0.55  # asked for
    assert total < 2.3  # asked for; the oracle, which fits no scale, has 2.5


def test_no_worse_than_the_oracle_with_clocks_as_published(
    trials: list[Trial], ours: list[FloatArray]
) -> None:
    oracle = []
    for recording, _, _ in trials:
        gyr, acc = recording.gyr_radps.copy(), recording.acc_mps2.copy()
        oracle.append(vqf.offlineVQF(gyr, acc, None, 1 / recording.rate_hz)["quat6D"])
    still = [0.0] * len(trials)
    got, want = mean_errors_deg(ours, trials, still), mean_errors_deg(oracle, trials, still)
    # The longer time constant (5 s, not 3 s) costs a hundredth of a degree on a board,
    # and pays when a walker turns round.
    assert got[0] < 1.05 * want[0]
    assert got[1] < 0.6 * want[1]  # the scale of the gyroscope is fitted too

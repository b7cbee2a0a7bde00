"""What the numbers say: axes that hold one value."""

from __future__ import annotations

import numpy as np
import pytest
from invented_clients import random_client

from imucarry.basics.errors import UnitError
from imucarry.basics.evidence import readers as evidence
from imucarry.readers.physics import held_samples
from imucarry.readers.told_units import gyr_unit
from imucarry.simulate.session import simulate_session


@pytest.mark.parametrize("n_held", [49, 50, 51, 99, 100, 140])
@pytest.mark.parametrize("first", [0, 1, 24, 25, 26, 333, 10_000])
def test_held_axis_is_found_wherever_it_begins(n_held: int, first: int) -> None:
    """Coarse values repeat by chance all over; only runs long enough are told."""
    rng = np.random.default_rng(n_held)
    n_rows = 1003
    first = min(first, n_rows - n_held)
    acc = rng.integers(0, 4, (n_rows, 3)).astype(float)
    gyr = 10.0 + rng.integers(0, 4, (n_rows, 3))
    gyr[first : first + n_held, 1] = 30.0
    period_s = evidence.ASLEEP_S.value / 50
    found = held_samples(acc, gyr, period_s)
    assert found == (((first, first + n_held),) if n_held >= 50 else ())


def test_held_samples_of_a_recording_shorter_than_a_run() -> None:
    still = np.ones((3, 3))
    assert held_samples(still, 9.0 * still, evidence.ASLEEP_S.value / 50) == ()


@pytest.mark.parametrize("placement", ["chest", "left_wrist"])
@pytest.mark.parametrize("seed", [1, 2])
def test_a_unit_in_which_gravity_does_not_follow_is_refused(placement: str, seed: int) -> None:
    """A walker's rates in deg/s under a name that says rad/s, and as they are."""
    walk = simulate_session(random_client(seed), seed)
    worn = next(rec for rec in walk.recordings if rec.placement == placement)
    period_s = 1.0 / worn.rate_hz
    assert gyr_unit(worn.gyr_radps, worn.acc_mps2, period_s, "rad/s", "a.csv") == ("rad/s", "")
    with pytest.raises(UnitError, match="state the true gyr_unit"):
        gyr_unit(np.degrees(worn.gyr_radps), worn.acc_mps2, period_s, "rad/s", "a.csv")


def test_a_board_turned_fast_by_hand_is_believed() -> None:
    """Turned back and forth by 60 deg at 12 rad/s: the acceleration turns with it."""
    time_s = np.arange(0.0, 20.0, 0.01)
    angle = np.radians(60.0) * np.sin(12.0 / np.radians(60.0) * time_s)
    rate = 12.0 * np.cos(12.0 / np.radians(60.0) * time_s)
    still = np.zeros_like(angle)
    acc = 9.81 * np.column_stack([still, np.sin(angle), np.cos(angle)])
    gyr = np.column_stack([rate, still, still])
    assert gyr_unit(gyr, acc, 0.01, "rad/s", "a.csv") == ("rad/s", "")

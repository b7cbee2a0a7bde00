"""What the numbers say: axes that hold one value."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.basics.evidence import readers as evidence
from imucarry.readers.physics import held_samples


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

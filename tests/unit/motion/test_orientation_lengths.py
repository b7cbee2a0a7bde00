"""A recording of any length is oriented: no length falls between blocks and chunks."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.basics.records import Recording
from imucarry.basics.settings import MotionSettings
from imucarry.motion import rotations
from imucarry.motion.orientation import estimate_orientation

RATE_HZ = 100.0
# Around a multiple of the chunks in which quaternions are multiplied.
LENGTHS = [*range(6125, 6160), *range(12_265, 12_300)]


@pytest.mark.parametrize("n_samples", LENGTHS)
def test_a_still_sensor_of_any_length_stays_upright(n_samples: int) -> None:
    acc = np.tile([0.0, 5.0, 8.435], (n_samples, 1))
    recording = Recording(
        "chest", RATE_HZ, np.arange(n_samples) / RATE_HZ, acc, np.zeros((n_samples, 3))
    )
    found = estimate_orientation(recording, MotionSettings())
    up = rotations.rotate(found.quat, acc[0] / np.linalg.norm(acc[0]))
    np.testing.assert_allclose(up, np.tile([0.0, 0.0, 1.0], (n_samples, 1)), atol=1e-6)

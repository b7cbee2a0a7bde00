"""Real wrist recordings stay upright from beginning to end."""

from __future__ import annotations

import numpy as np
from seglearn.datasets import load_watch

from imucarry.basics.records import Recording
from imucarry.basics.settings import MotionSettings
from imucarry.basics.units import STANDARD_GRAVITY_MPS2
from imucarry.motion import rotations
from imucarry.motion.orientation import estimate_orientation

RATE_HZ = 50.0
# A hand is slower than 1.5 m/s at either end, and a half of a recording lasts some 15 s
# at least: its mean acceleration is under 0.2 m/s^2, which is 1.2 deg; the rest is for
# the accelerometer's own scale and bias.
MOST_TILT_DEG = 3.0


def upright_error_deg(acc_world: np.ndarray) -> float:
    """Angle between the mean specific force and up."""
    mean = acc_world.mean(axis=0)
    return float(np.degrees(np.arccos(mean[2] / np.linalg.norm(mean))))


def test_each_half_of_every_exercise_stays_upright() -> None:
    errors = []
    for rows in load_watch()["X"]:
        values = np.asarray(rows, dtype=np.float64)
        recording = Recording(
            placement="left_wrist",
            rate_hz=RATE_HZ,
            time_s=np.arange(values.shape[0]) / RATE_HZ,
            acc_mps2=values[:, :3] * STANDARD_GRAVITY_MPS2,
            gyr_radps=values[:, 3:6].copy(),
        )
        found = estimate_orientation(recording, MotionSettings())
        world = rotations.rotate(found.quat, recording.acc_mps2)
        middle = values.shape[0] // 2
        errors.append([upright_error_deg(world[:middle]), upright_error_deg(world[middle:])])
    assert len(errors) == 140
    assert np.max(errors) < MOST_TILT_DEG, np.sort(np.ravel(errors))[-10:]

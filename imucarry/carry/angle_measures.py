"""Measures that are angles around the stride: 359 and 1 deg are near each other."""

from __future__ import annotations

import math

import numpy as np

from imucarry.basics.records import FloatArray
from imucarry.basics.statistics import circular_mean

CIRCULAR = ("sternum_yaw_phase", "arm_sternum_phase", "arm_step_phase")
"""Ids of the measures."""
SIGNED = ("arm_sternum_phase",)
"""Those that ``scores.csv`` gives from -180 to 180 deg; the others from 0 to 360."""
CIRCULAR_COLUMNS = ("sternum_yaw_phase_deg", "left_arm_phase_deg", "right_arm_phase_deg")
"""Columns of ``strides.csv``."""
HALF_DEG = 180.0
TURN_DEG = 360.0


def is_circular(name: str) -> bool:
    """Return whether a measure or column is an angle around the stride, in degrees."""
    return name in CIRCULAR or name in CIRCULAR_COLUMNS


def mean_direction(angles_deg: FloatArray) -> float:
    """Return the mean direction [deg]."""
    return math.degrees(circular_mean(np.radians(angles_deg).ravel()))


def mean_as_scored(measure: str, angles_deg: FloatArray) -> float:
    """Return the mean direction [deg] in the half-open range that ``scores.csv`` gives."""
    mean_deg = mean_direction(angles_deg)
    return mean_deg if measure in SIGNED else mean_deg % TURN_DEG


def near(angles_deg: FloatArray, centre_deg: FloatArray | float) -> FloatArray:
    """Turn angles by whole circles to lie within half a circle of others."""
    turned: FloatArray = (
        centre_deg + np.mod(angles_deg - centre_deg + HALF_DEG, TURN_DEG) - HALF_DEG
    )
    return turned


def as_plain_numbers(a_deg: FloatArray, b_deg: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Turn two lists of angles by whole circles so that their differences are plain numbers.

    The second lie within half a circle of their mean direction; the differences a - b
    lie within half a circle of theirs.

    Parameters
    ----------
    a_deg, b_deg : ndarray, shape (n,) [deg]

    Returns
    -------
    a_deg, b_deg : ndarray, shape (n,) [deg]
    """
    differences = a_deg - b_deg
    b_deg = near(b_deg, mean_direction(b_deg))
    return b_deg + near(differences, mean_direction(differences)), b_deg

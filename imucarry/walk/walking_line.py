"""The line along which a person walks, from the steps and the speed, each weighted by its error.

The steps are many and scatter little, but a trunk that turns at the step rate moves the
sensor in each of them: their line may be off in all. The speeds out of standing are few and
scatter more, but about the true line.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import forward as evidence
from imucarry.basics.records import FloatArray
from imucarry.basics.units import RAD_PER_DEG
from imucarry.walk.standing import unit


@dataclass(frozen=True, slots=True)
class WalkingLine:
    """The line of walking.

    Attributes
    ----------
    direction : ndarray, shape (3,)
        Unit vector in sensor coordinates, the way round that the steps have it.
    is_sure : bool
        False where a single speed contradicts the steps.
    """

    direction: FloatArray
    is_sure: bool


def walking_line(
    steps: FloatArray, steadied: FloatArray | None, speeds_mps: FloatArray
) -> WalkingLine:
    """Return the mean of two lines, each weighted by one over the square of its error.

    Parameters
    ----------
    steps : ndarray, shape (3,)
        Unit vector.
    steadied : ndarray, shape (3,), or None
        The same with pitch and roll taken out, None where it is not clear.
    speeds_mps : ndarray, shape (E, 3) [m/s]
        Out of standing and before it, in one plane with `steps`.

    Returns
    -------
    WalkingLine

    Notes
    -----
    The scatter of the speeds gives their error. The steps have a usual one, and as much as
    taking out pitch and roll turns them. Where the two lie clearly farther apart than both
    explain, the rest is the steps', which yaw at the step rate turns as well: the variance
    between methods of DerSimonian & Laird 1986 (Control Clin Trials 7:177-188), all of it with
    the one that is known to be biased.

    A single speed shows no scatter: it turns nothing, and only makes the line unsure.
    """
    own, error = mean_direction(speeds_mps)
    if error > evidence.SPEED_ERROR_MOST_DEG.value * RAD_PER_DEG:
        return WalkingLine(steps, True)
    variance = (evidence.STEPS_ERROR_DEG.value * RAD_PER_DEG) ** 2
    if steadied is not None:
        variance += lines_apart(steadied, steps) ** 2
    apart = lines_apart(own, steps)
    agree = apart <= evidence.LINES_APART_ERRORS.value * np.sqrt(variance + error**2)
    if speeds_mps.shape[0] == 1:
        return WalkingLine(steps, bool(agree))
    if not agree:
        variance = apart**2 - error**2
    own = own if own @ steps >= 0 else -own
    share = variance / (variance + error**2)
    return WalkingLine(unit(share * own + (1.0 - share) * steps), True)


def lines_apart(one: FloatArray, other: FloatArray) -> float:
    """Return the angle between the lines of two unit vectors [rad], a right angle at the most."""
    return float(np.arccos(min(1.0, abs(float(one @ other)))))


def mean_direction(speeds_mps: FloatArray) -> tuple[FloatArray, float]:
    """Return the direction of the mean of speeds in one plane, and its standard error.

    Parameters
    ----------
    speeds_mps : ndarray, shape (E, 3) [m/s]

    Returns
    -------
    direction : ndarray, shape (3,)
        Unit vector, NaN without any speed.
    error_rad : float [rad]
        From the scatter across it; a right angle without any speed.
    """
    mean = speeds_mps.mean(axis=0) if speeds_mps.size else np.zeros(3)
    size = float(np.linalg.norm(mean))
    if size == 0.0:
        return np.full(3, np.nan), np.pi / 2
    across = speeds_mps - np.outer(speeds_mps @ mean, mean) / size**2
    scatter = np.sqrt(np.sum(across**2) / max(1, speeds_mps.shape[0] - 1))
    error_mps = max(scatter, evidence.SPEED_ACROSS_SD_MPS.value) / np.sqrt(speeds_mps.shape[0])
    return mean / size, float(np.arctan(error_mps / size))

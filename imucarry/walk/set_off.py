"""How fast, and which way, a person walks after standing and before standing again.

Standing is the one state in which speed is known: it is nothing. From there the
acceleration is summed over the first seconds of the walk, and backward in time from the
standing after it. The mean over some steps is the walking speed in the sensor's own
axes, whichever way the trunk pitches in each step.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import forward as evidence
from imucarry.basics.records import FloatArray, Orientation, Recording
from imucarry.basics.units import RAD_PER_DEG
from imucarry.motion.rotations import from_rotation_vector, to_matrix
from imucarry.walk.standing import rests_beside


@dataclass(frozen=True, slots=True)
class _Spell:
    """The first seconds of a walk after a rest, or the last ones before, backward in time."""

    rest: slice
    begin: int
    way: int  # 1 onward, -1 backward

    def samples(self, count: int) -> slice:
        """Return the samples of so many from where it begins."""
        end = self.begin + self.way * count
        return slice(min(self.begin, end), max(self.begin, end))


def speeds_beside_standing(
    recording: Recording, orientation: Orientation, walking: Sequence[slice]
) -> FloatArray:
    """Return the walking speed after and before each standing, shape (E, 3) [m/s].

    Parameters
    ----------
    recording : Recording
    orientation : Orientation
        Its rests and the gyroscope's bias.
    walking : sequence of slice
        Samples of the bouts: a speed counts where it was taken within one.

    Returns
    -------
    ndarray, shape (E, 3) [m/s]
        Horizontal vectors in sensor axes, turning with the trunk; one for each start and
        stop that has standing beside it, no lost samples and no bending down.
    """
    spells = list(_spells(recording, orientation, walking))
    if not spells:
        return np.empty((0, 3))
    acc, turns, step_s = _steps_of(recording, orientation, spells)
    gravity = np.array([recording.acc_mps2[spell.rest].mean(axis=0) for spell in spells])
    upright = gravity / np.linalg.norm(gravity, axis=1)[:, None]
    both = np.stack([np.zeros(gravity.shape), gravity], axis=1)  # speed and gravity
    course = np.empty((acc.shape[1], *both.shape))
    for k in range(acc.shape[1]):
        both = both @ turns[:, k]
        both[:, 0] += (acc[:, k] - both[:, 1]) * step_s[:, None]
        both = both @ turns[:, k]
        course[k] = both
    speed, up = course[:, :, 0], course[:, :, 1]
    up = up / np.linalg.norm(up, axis=2)[..., None]
    level = speed - up * np.einsum("kei,kei->ke", up, speed)[..., None]
    first_s, _ = evidence.SPEED_AFTER_S.value
    counted = (np.arange(acc.shape[1]) + 1) * abs(step_s[0]) > first_s
    least = np.cos(evidence.SPEED_TILT_MOST_DEG.value * RAD_PER_DEG)
    walks = np.einsum("kei,ei->ke", up, upright).min(axis=0) >= least
    return np.asarray(level[counted].mean(axis=0)[walks])


def _spells(
    recording: Recording, orientation: Orientation, walking: Sequence[slice]
) -> Iterator[_Spell]:
    rate_hz, n_samples = recording.rate_hz, recording.time_s.size
    first_s, last_s = evidence.SPEED_AFTER_S.value
    walked, lost = np.zeros(n_samples, dtype=bool), np.zeros(n_samples, dtype=bool)
    for part in walking:
        walked[part] = True
    for first, last in recording.gaps:
        lost[first:last] = True
    end = int(evidence.SPEED_REST_END_S.value * rate_hz)
    most = int(evidence.SPEED_REST_S.value * rate_hz)
    for first, last in rests_beside(recording, orientation, walking):
        long = min(most, last - first - 2 * end)
        if long < 1:
            continue
        for spell in (
            _Spell(slice(last - end - long, last - end), last - end, 1),
            _Spell(slice(first + end, first + end + long), first + end, -1),
        ):
            whole = spell.samples(int(last_s * rate_hz))
            late = _Spell(spell.rest, spell.begin + spell.way * int(first_s * rate_hz), spell.way)
            counted = late.samples(int((last_s - first_s) * rate_hz))
            inside = whole.start >= 0 and whole.stop <= n_samples
            if inside and walked[counted].all() and not lost[whole].any():
                yield spell


def _steps_of(
    recording: Recording, orientation: Orientation, spells: Sequence[_Spell]
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return acceleration and half a step's turn of each spell, and its step of time.

    Shapes (E, K, 3), (E, K, 3, 3) and (E,); the steps run backward in time where a spell does.
    """
    each = max(1, round(recording.rate_hz / evidence.SPEED_RATE_HZ.value))
    count = int(evidence.SPEED_AFTER_S.value[1] * recording.rate_hz) // each
    way = np.array([spell.way for spell in spells])
    step_s = way * each / recording.rate_hz
    acc, gyr = np.empty((2, len(spells), count, 3))
    for k, spell in enumerate(spells):
        part = spell.samples(count * each)
        for means, x in ((acc, recording.acc_mps2), (gyr, recording.gyr_radps)):
            means[k] = x[part].reshape(count, each, 3).mean(axis=1)[:: spell.way]
    half = 0.5 * step_s[:, None, None] * (gyr - orientation.bias_radps)
    # A row times this matrix turns what is fixed in the world into the turned sensor's axes.
    return acc, to_matrix(from_rotation_vector(half)), step_s


def speed_clearness(along_mps: FloatArray) -> float:
    """Return the mean of speeds along a line in its standard errors, 0 without any.

    Parameters
    ----------
    along_mps : ndarray, shape (E,) [m/s]
    """
    if along_mps.size == 0:
        return 0.0
    scatter = float(np.std(along_mps, ddof=1)) if along_mps.size > 1 else 0.0
    error = max(scatter, evidence.SPEED_SD_MPS.value) / np.sqrt(along_mps.size)
    return float(along_mps.mean() / error)

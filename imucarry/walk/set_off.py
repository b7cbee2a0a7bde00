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
from imucarry.walk.standing import rests_beside, unit


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
    found = [
        speed
        for spell in _spells(recording, orientation, walking)
        if (speed := _speed(recording, orientation, spell)) is not None
    ]
    return np.array(found).reshape(-1, 3)


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


def _speed(recording: Recording, orientation: Orientation, spell: _Spell) -> FloatArray | None:
    """Return the mean speed of one spell in sensor axes; None where the trunk bends down."""
    each = max(1, round(recording.rate_hz / evidence.SPEED_RATE_HZ.value))
    first_s, last_s = evidence.SPEED_AFTER_S.value
    count = int(last_s * recording.rate_hz) // each
    part = spell.samples(count * each)
    acc, gyr = (
        x.reshape(count, each, 3).mean(axis=1)[:: spell.way]
        for x in (recording.acc_mps2[part], recording.gyr_radps[part] - orientation.bias_radps)
    )
    step_s = spell.way * each / recording.rate_hz
    # What is fixed in the world turns the other way in sensor axes; half a step at a time.
    turns = to_matrix(from_rotation_vector(0.5 * step_s * gyr))
    gravity = recording.acc_mps2[spell.rest].mean(axis=0)
    upright, least = unit(gravity), np.cos(evidence.SPEED_TILT_MOST_DEG.value * RAD_PER_DEG)
    both = np.stack([np.zeros(3), gravity])
    total, n_counted = np.zeros(3), 0
    for k, (push, turn) in enumerate(zip(acc, turns, strict=True)):
        both = both @ turn
        both[0] += (push - both[1]) * step_s
        both = both @ turn
        up = unit(both[1])
        if up @ upright < least:
            return None
        if (k + 1) * abs(step_s) > first_s:
            total += both[0] - up * (up @ both[0])
            n_counted += 1
    return total / n_counted


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

"""Which way the chest sensor faces, from the walking: three hints and what they say together.

steps    in each step the trunk is pushed forward before it is lifted. That gives the line
         of walking well, but a trunk that pitches at the step rate moves a sensor above the
         hips back and forth as well, and may turn the sign.
steadied the same with what pitch and roll make of a sensor above the hips taken out. A
         sensor at the lower back needs none of it.
speed    out of standing and into it again (`walk.set_off`), and in turns, in which a walker
         is pulled to the inside.

`walk.walking_line` tells the line of walking from them, this module the way round.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from imucarry.basics.evidence import forward as evidence
from imucarry.basics.evidence import passes
from imucarry.basics.records import FloatArray, Orientation, Recording
from imucarry.basics.units import RAD_PER_DEG, STANDARD_GRAVITY_MPS2
from imucarry.motion.rotations import cross
from imucarry.walk.grid import response
from imucarry.walk.set_off import speed_clearness, speeds_beside_standing
from imucarry.walk.standing import unit, vertical
from imucarry.walk.walking_line import lines_apart, walking_line


@dataclass(frozen=True, slots=True)
class ForwardAxis:
    """The horizontal direction that is locked to the vertical acceleration and leads it.

    Attributes
    ----------
    direction : ndarray, shape (3,)
        Unit vector in sensor coordinates, NaN where there is none.
    certainty : float
        Coherence with the vertical times the sine of the lead, 0 to 1.
    """

    direction: FloatArray
    certainty: float


@dataclass(frozen=True, slots=True)
class ForwardHints:
    """What the walking says of forward; all directions in sensor coordinates.

    Attributes
    ----------
    steps, steadied : ForwardAxis
        From the steps, as they are and with the trunk's pitch and roll taken out.
    speeds_mps : ndarray, shape (E, 3) [m/s]
        Out of standing and before it, at right angles to the vertical in standing.
    turning_mps : ndarray, shape (3,) [m/s]
        Speed that turns show; 0 where the bouts hardly turn.
    """

    steps: ForwardAxis
    steadied: ForwardAxis
    speeds_mps: FloatArray
    turning_mps: FloatArray


@dataclass(frozen=True, slots=True)
class ToldForward:
    """Forward by all hints together.

    Attributes
    ----------
    direction : ndarray, shape (3,)
        Unit vector in sensor coordinates, NaN where there is none.
    is_sure : bool
        False where hints contradict each other, or the only one is weak.
    """

    direction: FloatArray
    is_sure: bool


def forward_hints(
    recording: Recording, orientation: Orientation, walking: Sequence[slice], up: FloatArray
) -> ForwardHints:
    """Collect what the walking bouts say of forward.

    Parameters
    ----------
    recording : Recording
    orientation : Orientation
    walking : sequence of slice
        Samples of the bouts.
    up : ndarray, shape (3,)
        The vertical in standing, in sensor coordinates.
    """
    basis = horizontal_basis(up)
    power = np.zeros((2, 3, 3), dtype=np.complex128)
    turned, square, n_samples = np.zeros(2), 0.0, 0
    for part in walking:
        acc, gyr = level_motion(recording, orientation, part, basis)
        frequency_hz = np.asarray(np.fft.rfftfreq(acc.shape[0], 1.0 / recording.rate_hz), float)
        means = np.concatenate([acc.mean(axis=0), gyr.mean(axis=0)])
        spectrum = np.fft.rfft(np.column_stack([acc, gyr]) - means, axis=0)
        power += step_powers(spectrum, frequency_hz) / acc.shape[0]
        # Sums over the samples, from the spectrum (Parseval).
        slow = spectrum * response(frequency_hz, 0.0, evidence.TURN_BAND_HZ.value)[:, None]
        shared = slow[:, 5].conj() @ slow[:, [0, 1, 5]] * 2.0 / acc.shape[0]
        sums = np.real(shared) + acc.shape[0] * means[5] * means[[0, 1, 5]]
        turned += sums[:2]
        square += float(sums[2])
        n_samples += acc.shape[0]
    least = n_samples * evidence.TURN_LEAST_RADPS.value**2
    # The pull is to the left of forward in a left turn: turn rate times speed.
    turning = np.array([turned[1], -turned[0]]) / square @ basis if square > least else np.zeros(3)
    speeds = speeds_beside_standing(recording, orientation, walking)
    return ForwardHints(
        steps=leading_axis(power[0], basis),
        steadied=leading_axis(power[1], basis),
        speeds_mps=speeds - np.outer(speeds @ up, up),
        turning_mps=turning,
    )


def tell_forward(hints: ForwardHints) -> ToldForward:
    """Weigh the hints.

    Notes
    -----
    1. The line of walking is told by `walking_line`; its sign, without anything better, by
       the steps.
    2. A clear speed out of standing gives the sign. Where the steps say the opposite with
       pitch taken out too, and turns do not bear it out, it has to be clearer still, and
       is not sure.
    3. Without a clear speed, steadied steps and turns together outvote the steps, and one
       of them without the other makes them unsure. So does a line of the steadied steps
       that lies far off theirs.
    """
    if not np.isfinite(hints.steps.direction).all():
        return ToldForward(hints.steps.direction, False)
    is_clear = hints.steadied.certainty >= evidence.STEADIED_CLEAR.value
    steadied = hints.steadied.direction if is_clear else None
    walked = walking_line(hints.steps.direction, steadied, hints.speeds_mps)
    line = walked.direction
    turn = float(hints.turning_mps @ line)
    least_turn = evidence.TURN_LEAST_MPS.value
    steady = 0.0 if steadied is None else float(np.sign(steadied @ line))
    along = hints.steps.certainty * float(hints.steps.direction @ line)
    strong = along >= passes.FORWARD_LOCK_LEAST.value
    speed = speed_clearness(hints.speeds_mps @ line)
    if abs(speed) >= evidence.SPEED_CLEAR.value:
        alone = speed < 0 and strong and steady >= 0 and turn > -least_turn
        if alone and abs(speed) < evidence.SPEED_ALONE.value:
            return ToldForward(line, False)
        return ToldForward(line * np.sign(speed), walked.is_sure and not alone)
    against = steady < 0, turn <= -least_turn
    if all(against):
        return ToldForward(-line, False)
    settled = not any(against) or (steady > 0 or turn >= least_turn)
    apart = 0.0 if steadied is None else lines_apart(steadied, hints.steps.direction)
    settled = settled and apart <= evidence.STEADIED_APART_DEG.value * RAD_PER_DEG
    return ToldForward(line, walked.is_sure and strong and settled)


# --- axes --------------------------------------------------------------------------


def horizontal_basis(up: FloatArray) -> FloatArray:
    """Return two horizontal unit vectors, shape (2, 3), right-handed about `up`."""
    start = np.zeros(3)
    start[int(np.abs(up).argmin())] = 1.0
    first = unit(start - up * (up @ start))
    return np.stack([first, np.cross(up, first)])


def level_motion(
    recording: Recording, orientation: Orientation, part: slice, basis: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return acceleration without gravity and angular rate along the level axes of each instant.

    Parameters
    ----------
    recording : Recording
    orientation : Orientation
    part : slice
    basis : ndarray, shape (2, 3)
        Two axes in sensor coordinates, horizontal in standing: the first is kept in
        its vertical plane, the second follows.

    Returns
    -------
    acc, gyr : ndarray, shape (N, 3) [m/s^2], [rad/s]
        Along the first axis, the second, and up.
    """
    up = vertical(orientation.quat[part])
    first = basis[0] - up * (up @ basis[0])[:, None]
    first /= np.linalg.norm(first, axis=1)[:, None]
    axes = np.stack([first, cross(up, first), up])
    acc = np.einsum("kni,ni->nk", axes, recording.acc_mps2[part])
    acc[:, 2] -= STANDARD_GRAVITY_MPS2
    return acc, np.einsum("kni,ni->nk", axes, recording.gyr_radps[part] - orientation.bias_radps)


# --- the pattern of the steps ----------------------------------------------------------


def step_powers(
    spectrum: NDArray[np.complex128], frequency_hz: FloatArray
) -> NDArray[np.complex128]:
    """Return the cross-spectra of level accelerations at the step rate, shape (2, 3, 3).

    Parameters
    ----------
    spectrum : ndarray, shape (F, 6)
        Of acceleration and angular rate along two level axes and up.
    frequency_hz : ndarray, shape (F,) [Hz]

    Returns
    -------
    ndarray, shape (2, 3, 3)
        As they are, and with what pitch and roll make of a sensor above the hips taken
        out, as `walk.steadied` does.
    """
    low_hz, high_hz = passes.FORWARD_BAND_LOW_HZ.value, passes.FORWARD_BAND_HIGH_HZ.value
    inside = spectrum * response(frequency_hz, low_hz, high_hz)[:, None]
    acc = inside[:, :3]
    moved = inside[:, 3:5] * (2j * np.pi * frequency_hz * evidence.LEVER_M.value)[:, None]
    steady = acc + np.column_stack([-moved[:, 1], moved[:, 0], np.zeros_like(frequency_hz)])
    return np.stack([item.T @ item.conj() for item in (acc, steady)])


def leading_axis(power: NDArray[np.complex128], basis: FloatArray) -> ForwardAxis:
    """Return the horizontal direction that is locked to the vertical and leads it.

    Notes
    -----
    In each step the trunk is pushed forward before it is lifted. The
    cross-spectrum of horizontal with vertical acceleration at step rate,
    summed over the bouts, therefore has one direction, and its phase the
    sign. The sway from side to side is at stride rate and drops out. All axes
    are level at each instant: of a trunk that leans to one side, the lift
    would else count as sideways.
    """
    shared = power[:2, 2]
    if not np.abs(shared).any():
        return ForwardAxis(np.full(3, np.nan), 0.0)
    along = np.linalg.eigh(np.real(np.outer(shared, shared.conj())))[1][:, -1]
    locked = along @ shared
    along = along * (1.0 if locked.imag > 0 else -1.0)
    spread = np.real(along @ power[:2, :2] @ along) * np.real(power[2, 2])
    certainty = float(abs(locked.imag) / np.sqrt(max(spread, 1e-12)))
    return ForwardAxis(unit(along @ basis), certainty)

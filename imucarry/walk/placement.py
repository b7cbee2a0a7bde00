"""How the chest sensor sits on the thorax: the vertical from standing, forward from walking."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import passes as evidence
from imucarry.basics.records import (
    BodyFrame,
    FloatArray,
    Notice,
    Orientation,
    Recording,
    Window,
)
from imucarry.basics.units import RAD_PER_DEG, STANDARD_GRAVITY_MPS2
from imucarry.motion.rotations import cross
from imucarry.walk.grid import response
from imucarry.walk.standing import level_notices, standing_level, unit, vertical


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


def chest_frame(
    recording: Recording,
    orientation: Orientation,
    walking: Sequence[Window],
) -> BodyFrame:
    """Work out the thorax's axes in the coordinates of a chest sensor mounted anyhow.

    Parameters
    ----------
    recording : Recording
        Its ``up`` and ``out`` are used where they are given.
    orientation : Orientation
    walking : sequence of Window
        The walking bouts.

    Returns
    -------
    BodyFrame

    Notes
    -----
    1. Up is the mean vertical over the standing before, between and after the
       bouts; without standing, the mean over the bouts.
    2. Forward is the stated outward axis, else the horizontal direction whose
       acceleration is locked to the vertical one and leads it.
    3. Left completes the right-handed frame.
    """
    slices = [inside(recording, window) for window in walking]
    slices = [part for part in slices if part.stop > part.start]
    level = standing_level(recording, orientation, slices)
    up = level.up
    walked = walking_forward(recording, orientation, slices, up)
    forward, source, notices = choose_forward(recording.out, walked, up)
    notices = (*notices, *up_notices(recording.up, up), *level_notices(level))
    sensor_to_body = np.stack([forward, np.cross(up, forward), up])
    outward = axis_vector(recording.out) if recording.out else nearest_axis(forward)
    slope = float(np.arcsin(np.clip(outward @ up, -1.0, 1.0)))
    return BodyFrame(
        sensor_to_body=sensor_to_body,
        levelled_in=level.levelled_in,
        forward_source=source,
        sensor_slope_rad=slope,
        notices=notices,
    )


def inside(recording: Recording, window: Window) -> slice:
    """Return the samples of a window."""
    first, last = np.searchsorted(recording.time_s, [window.start_s, window.end_s])
    return slice(int(first), int(last))


def axis_vector(name: str) -> FloatArray:
    """Return the unit vector of a sensor axis such as ``"+x"`` or ``"-z"``."""
    vector = np.zeros(3)
    vector["xyz".index(name[-1])] = -1.0 if name[0] == "-" else 1.0
    return vector


def nearest_axis(direction: FloatArray) -> FloatArray:
    """Return the sensor axis, either way round, that is closest to a direction."""
    vector = np.zeros(3)
    axis = int(np.abs(direction).argmax())
    vector[axis] = 1.0 if direction[axis] >= 0 else -1.0
    return vector


def up_notices(stated: str, up: FloatArray) -> tuple[Notice, ...]:
    """Return a notice where the stated upward axis contradicts gravity."""
    limit = np.cos(evidence.UP_CONTRADICTED_DEG.value * RAD_PER_DEG)
    if not stated or axis_vector(stated) @ up > limit:
        return ()
    message = (
        f"The session says that the chest sensor's {stated} axis points up, gravity says that "
        "it does not; gravity is used. Check how the sensor was worn."
    )
    return (Notice(code="up_contradicted", message=message, where="chest", severity="check"),)


# --- forward -----------------------------------------------------------------------


def horizontal_basis(up: FloatArray) -> FloatArray:
    """Return two horizontal unit vectors, shape (2, 3), right-handed about `up`."""
    start = np.zeros(3)
    start[int(np.abs(up).argmin())] = 1.0
    first = unit(start - up * (up @ start))
    return np.stack([first, np.cross(up, first)])


def walking_forward(
    recording: Recording, orientation: Orientation, walking: Sequence[slice], up: FloatArray
) -> ForwardAxis:
    """Find forward from the walking bouts.

    Notes
    -----
    In each step the trunk is pushed forward before it is lifted. The
    cross-spectrum of horizontal with vertical acceleration at step rate,
    summed over the bouts, therefore has one direction, and its phase the
    sign. The sway from side to side is at stride rate and drops out. All axes
    are level at each instant: of a trunk that leans to one side, the lift
    would else count as sideways.
    """
    basis = horizontal_basis(up)
    power = np.zeros((3, 3), dtype=complex)
    for part in walking:
        axes = level_acceleration(recording.acc_mps2[part], orientation.quat[part], basis)
        spectrum = np.fft.rfft(axes - axes.mean(axis=0), axis=0)
        gain = response(
            np.fft.rfftfreq(axes.shape[0], 1.0 / recording.rate_hz),
            evidence.FORWARD_BAND_LOW_HZ.value,
            evidence.FORWARD_BAND_HIGH_HZ.value,
        )
        spectrum = spectrum * gain[:, None]
        power += spectrum.T @ spectrum.conj() / axes.shape[0]
    cross = power[:2, 2]
    if not np.abs(cross).any():
        return ForwardAxis(np.full(3, np.nan), 0.0)
    along = np.linalg.eigh(np.real(np.outer(cross, cross.conj())))[1][:, -1]
    locked = along @ cross
    along = along * (1.0 if locked.imag > 0 else -1.0)
    spread = np.real(along @ power[:2, :2] @ along) * np.real(power[2, 2])
    certainty = float(abs(locked.imag) / np.sqrt(max(spread, 1e-12)))
    return ForwardAxis(unit(along @ basis), certainty)


def level_acceleration(acc_mps2: FloatArray, quat: FloatArray, basis: FloatArray) -> FloatArray:
    """Return acceleration without gravity along the level axes of each instant, shape (N, 3).

    Parameters
    ----------
    acc_mps2 : ndarray, shape (N, 3) [m/s^2]
        In sensor axes.
    quat : ndarray, shape (N, 4)
    basis : ndarray, shape (2, 3)
        Two axes in sensor coordinates, horizontal in standing: the first is kept in
        its vertical plane, the second follows.

    Returns
    -------
    ndarray, shape (N, 3) [m/s^2]
        Along the first axis, the second, and up.
    """
    up = vertical(quat)
    first = basis[0] - up * (up @ basis[0])[:, None]
    first /= np.linalg.norm(first, axis=1)[:, None]
    acc = acc_mps2 - STANDARD_GRAVITY_MPS2 * up
    axes = (first, cross(up, first), up)
    return np.column_stack([np.einsum("ni,ni->n", acc, axis) for axis in axes])


def choose_forward(
    stated: str, walked: ForwardAxis, up: FloatArray
) -> tuple[FloatArray, str, tuple[Notice, ...]]:
    """Return forward, shape (3,), where it comes from, and notices."""
    if stated:
        outward = axis_vector(stated)
        if abs(outward @ up) < np.sin(evidence.OUT_STEEP_DEG.value * RAD_PER_DEG):
            forward = unit(outward - up * (up @ outward))
            return forward, "given", out_notices(stated, forward, walked)
    if np.isfinite(walked.direction).all():
        return walked.direction, "walking", forward_notices(walked.certainty)
    level = np.eye(3)[int(np.abs(up).argmin())]
    message = "There is no walking to tell forward from: the chest sensor's flattest axis is used."
    notice = Notice(code="forward_assumed", message=message, where="chest", severity="check")
    return unit(level - up * (up @ level)), "assumed", (notice,)


def out_notices(stated: str, forward: FloatArray, walked: ForwardAxis) -> tuple[Notice, ...]:
    """Return a notice where the walking goes across the stated outward axis.

    Where it goes against it, `walk.worn` says so.
    """
    if not walked.certainty >= evidence.FORWARD_LOCK_LEAST.value:
        return ()
    limit = np.cos(evidence.OUT_CONTRADICTED_DEG.value * RAD_PER_DEG)
    along = float(forward @ walked.direction)
    if abs(along) > limit:
        return ()
    message = (
        f"The session says that the chest sensor's {stated} axis points outward, the walking says "
        f"that it points {np.degrees(np.arccos(along)):.0f} deg away from forward; the stated axis "
        "is used, and steps may not be found along it. Check `out`."
    )
    return (Notice(code="out_contradicted", message=message, where="chest", severity="check"),)


def forward_notices(certainty: float) -> tuple[Notice, ...]:
    """Return a notice where the walking hardly tells forward from backward."""
    if certainty >= evidence.FORWARD_LOCK_LEAST.value:
        return ()
    message = (
        "The walking hardly tells which way the chest sensor faces; give `out` in the session, "
        "or left and right may be swapped."
    )
    return (Notice(code="forward_unclear", message=message, where="chest", severity="check"),)

"""How the chest sensor sits on the thorax: the vertical from standing, forward from walking."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import motion
from imucarry.basics.evidence import passes as evidence
from imucarry.basics.records import (
    BodyFrame,
    FloatArray,
    Notice,
    Orientation,
    Recording,
    Window,
)
from imucarry.basics.settings import WalkSettings
from imucarry.basics.units import RAD_PER_DEG, STANDARD_GRAVITY_MPS2
from imucarry.motion.rotations import cross
from imucarry.walk.grid import response


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
    settings: WalkSettings,
) -> BodyFrame:
    """Work out the thorax's axes in the coordinates of a chest sensor mounted anyhow.

    Parameters
    ----------
    recording : Recording
        Its ``up`` and ``out`` are used where they are given.
    orientation : Orientation
    walking : sequence of Window
        The walking bouts.
    settings : WalkSettings

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
    up, levelled_in = standing_up(recording, orientation, slices)
    walked = walking_forward(recording, orientation, slices, up)
    forward, source, notices = choose_forward(recording.out, walked, up)
    notices = (*notices, *up_notices(recording.up, up))
    if levelled_in == "bout_mean":
        notices = (*notices, *level_notices(standing_apart_deg(recording, orientation, slices, up)))
    sensor_to_body = np.stack([forward, np.cross(up, forward), up])
    outward = axis_vector(recording.out) if recording.out else nearest_axis(forward)
    slope = float(np.arcsin(np.clip(outward @ up, -1.0, 1.0)))
    return BodyFrame(
        sensor_to_body=sensor_to_body,
        levelled_in=levelled_in,
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


def unit(vector: FloatArray) -> FloatArray:
    """Return a vector of length 1."""
    result: FloatArray = vector / np.linalg.norm(vector)
    return result


def vertical(quat: FloatArray) -> FloatArray:
    """Return the world's vertical in sensor coordinates, shape (N, 3)."""
    w, x, y, z = quat.T
    return np.column_stack([2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)])


def mean_vertical(quat: FloatArray) -> FloatArray:
    """Return the mean of `vertical` over at least one sample, shape (3,).

    Its terms are products of two components: their means are one small matrix.
    """
    mean = quat.T @ quat / quat.shape[0]
    (_, wx, wy, _), (_, xx, _, xz), (_, _, yy, yz), _ = mean
    return np.array([2 * (xz - wy), 2 * (yz + wx), 1 - 2 * (xx + yy)])


# --- vertical ---------------------------------------------------------------------


def vertical_at_rest(recording: Recording, first: int, last: int) -> FloatArray:
    """Return the vertical in sensor coordinates over one rest, shape (3,).

    The mean acceleration itself: the orientation's vertical is smoothed over seconds, into
    which the push of the first steps reaches. For the same reason the rest's own ends are
    left out, where it is long enough.
    """
    end = min(round(motion.REST_END_S.value * recording.rate_hz), (last - first) // 4)
    return unit(recording.acc_mps2[first + end : last - end].mean(axis=0))


def standing_up(
    recording: Recording, orientation: Orientation, walking: Sequence[slice]
) -> tuple[FloatArray, str]:
    """Return the vertical in sensor coordinates, shape (3,), and where it was levelled."""
    quat = orientation.quat
    whole = [slice(0, quat.shape[0])] if quat.shape[0] else []
    walked = [mean_vertical(quat[part]) for part in walking or whole]
    mean = unit(np.sum(walked, axis=0)) if walked else np.array([0.0, 0.0, 1.0])
    near = int(evidence.STANDING_NEAR_S.value * recording.rate_hz)
    least = evidence.STANDING_LEAST_S.value * recording.rate_hz
    most = evidence.STANDING_MOST_S.value * recording.rate_hz
    found, weight = [], []
    for first, last in orientation.rest:
        beside = any(first < part.stop + near and last > part.start - near for part in walking)
        if last - first < least or (walking and not beside):
            continue
        up = vertical_at_rest(recording, first, last)
        if np.degrees(np.arccos(np.clip(up @ mean, -1, 1))) < evidence.STANDING_TILT_DEG.value:
            found.append(up)
            weight.append(min(last - first, most))
    if not found:
        return mean, "bout_mean"
    return geometric_median(np.array(found), np.array(weight)), "quiet_standing"


def geometric_median(directions: FloatArray, weight: FloatArray) -> FloatArray:
    """Return the unit vector with the least summed distance to others (Weiszfeld 1937).

    A few rests spent leaning, such as those with a load in one hand, then do not
    tilt the level of the others.
    """
    centre = unit(weight @ directions)
    for _ in range(50):
        distance = np.maximum(np.linalg.norm(directions - centre, axis=1), 1e-4)
        last, centre = centre, unit((weight / distance) @ directions)
        if (last == centre).all():
            break
    return centre


def standing_apart_deg(
    recording: Recording, orientation: Orientation, walking: Sequence[slice], mean: FloatArray
) -> list[float]:
    """Return how far the vertical of each rest beside the walking is off the walking's mean."""
    near = int(evidence.STANDING_NEAR_S.value * recording.rate_hz)
    least = evidence.STANDING_LEAST_S.value * recording.rate_hz
    return [
        float(np.degrees(np.arccos(np.clip(vertical_at_rest(recording, *rest) @ mean, -1, 1))))
        for rest in orientation.rest
        if rest[1] - rest[0] >= least
        and any(rest[0] < part.stop + near and rest[1] > part.start - near for part in walking)
    ]


def level_notices(apart_deg: Sequence[float]) -> tuple[Notice, ...]:
    """Return a notice where no standing levels the chest: none found, or all too far off."""
    code = "no_quiet_standing"
    because = "No quiet standing was found beside the walking"
    if apart_deg:
        code = "standing_contradicts"
        because = (
            "In all standing beside the walking the chest sensor is tilted by "
            f"{min(apart_deg):.0f} deg or more from the mean of the walks: it moved or was mounted "
            "anew, or the person stood bent or sat. The standing is not used"
        )
    message = (
        f"{because}: the chest sensor is levelled at the mean of the bouts, lean and pitch are "
        "missing, and lean may show as a little yaw."
    )
    return (Notice(code=code, message=message, where="chest", severity="check"),)


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
            return unit(outward - up * (up @ outward)), "given", ()
    if np.isfinite(walked.direction).all():
        return walked.direction, "walking", forward_notices(walked.certainty)
    level = np.eye(3)[int(np.abs(up).argmin())]
    message = "There is no walking to tell forward from: the chest sensor's flattest axis is used."
    notice = Notice(code="forward_assumed", message=message, where="chest", severity="check")
    return unit(level - up * (up @ level)), "assumed", (notice,)


def forward_notices(certainty: float) -> tuple[Notice, ...]:
    """Return a notice where the walking hardly tells forward from backward."""
    if certainty >= evidence.FORWARD_LOCK_LEAST.value:
        return ()
    message = (
        "The walking hardly tells which way the chest sensor faces; give `out` in the session, "
        "or left and right may be swapped."
    )
    return (Notice(code="forward_unclear", message=message, where="chest", severity="check"),)

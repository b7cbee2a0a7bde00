"""How the chest sensor sits on the thorax: the vertical from standing, forward from walking."""

from __future__ import annotations

from collections.abc import Sequence

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
from imucarry.basics.units import RAD_PER_DEG
from imucarry.walk.forward import ForwardHints, ToldForward, forward_hints, tell_forward
from imucarry.walk.standing import level_notices, standing_level, unit


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
    2. Forward is the stated outward axis, else what the walking tells
       (`walk.forward`).
    3. Left completes the right-handed frame.
    """
    slices = [inside(recording, window) for window in walking]
    slices = [part for part in slices if part.stop > part.start]
    level = standing_level(recording, orientation, slices)
    up = level.up
    hints = forward_hints(recording, orientation, slices, up)
    forward, source, notices = choose_forward(recording.out, hints, up)
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


def choose_forward(
    stated: str, hints: ForwardHints, up: FloatArray
) -> tuple[FloatArray, str, tuple[Notice, ...]]:
    """Return forward, shape (3,), where it comes from, and notices."""
    told = tell_forward(hints)
    if stated:
        outward = axis_vector(stated)
        if abs(outward @ up) < np.sin(evidence.OUT_STEEP_DEG.value * RAD_PER_DEG):
            forward = unit(outward - up * (up @ outward))
            return forward, "given", out_notices(stated, forward, told)
    if np.isfinite(told.direction).all():
        return told.direction, "walking", () if told.is_sure else (forward_unclear(),)
    level = np.eye(3)[int(np.abs(up).argmin())]
    message = "There is no walking to tell forward from: the chest sensor's flattest axis is used."
    notice = Notice(code="forward_assumed", message=message, where="chest", severity="check")
    return unit(level - up * (up @ level)), "assumed", (notice,)


def out_notices(stated: str, forward: FloatArray, told: ToldForward) -> tuple[Notice, ...]:
    """Return a notice where the walking surely goes against the stated outward axis, or across."""
    if not told.is_sure:
        return ()
    limit = np.cos(evidence.OUT_CONTRADICTED_DEG.value * RAD_PER_DEG)
    along = float(forward @ told.direction)
    if along > limit:
        return ()
    code = "out_contradicted"
    message = (
        f"The session says that the chest sensor's {stated} axis points outward, the walking says "
        f"that it points {np.degrees(np.arccos(along)):.0f} deg away from forward; the stated axis "
        "is used, and steps may not be found along it. Check `out`."
    )
    if along < -limit:
        code = "chest_backwards"
        message = (
            "The walking says that the chest sensor faces backward: its stated `out` points the "
            "other way, or it was worn on the back. Left and right, lean and yaw depend on it."
        )
    return (Notice(code=code, message=message, where="chest", severity="check"),)


def forward_unclear() -> Notice:
    """Return the notice that the walking does not surely tell forward from backward."""
    message = (
        "The walking does not surely tell which way the chest sensor faces: left and right may be "
        "swapped, and lean and pitch wrong. Give `out` in the session."
    )
    return Notice(code="forward_unclear", message=message, where="chest", severity="check")

"""Sensors that look worn wrong: swapped wrists, a chest at a wrist, upside down.

Nothing is corrected here: each finding is a notice that a person checks. What
says it stands in the message.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import measures
from imucarry.basics.evidence import worn as evidence
from imucarry.basics.records import (
    SIDES,
    ArmMotion,
    BoutData,
    FloatArray,
    Notice,
    Side,
    TrunkMotion,
)
from imucarry.basics.statistics import normal_quantile
from imucarry.basics.units import DEG_PER_TURN, RAD_PER_DEG
from imucarry.motion.rotations import conjugate, rotate
from imucarry.walk.arm_direction import UP
from imucarry.walk.grid import moving_mean
from imucarry.walk.standing import vertical

WRONG_SIDE = "loaded_arm_swings_more"
"""Code of carries whose loaded side is doubtful; it turns what is said of their arms."""

SIGN: dict[Side, float] = {"right": 1.0, "left": -1.0}
"""At left contact the right arm is in front and the left arm behind."""


def check_worn(bouts: Sequence[BoutData]) -> tuple[Notice, ...]:
    """Return a notice for each sensor that looks worn wrong.

    Parameters
    ----------
    bouts : sequence of BoutData

    Notes
    -----
    - wrists: a free arm swings forward with the opposite leg (asked only where the
      wrist's clock is known well enough to time it by the steps), and in a carry at
      one side the loaded arm swings less than the other;
    - chest and wrist: no trunk tilts with each stride as a forearm does;
    - upside down: gravity against the axis that the session says points up.
    """
    found = [*_wrists_by_steps(bouts), *_wrists_by_load(bouts), *_chest_swings(bouts)]
    found += [notice for side in SIDES for notice in _wrist_upside_down(side, bouts)]
    return tuple(found)


def _check(code: str, message: str, where: str) -> tuple[Notice, ...]:
    return (Notice(code=code, message=message, where=where, severity="check"),)


# --- wrists --------------------------------------------------------------------


def _wrists_by_steps(bouts: Sequence[BoutData]) -> tuple[Notice, ...]:
    """Compare the phase of each free arm with the steps."""
    free = [bout for bout in bouts if bout.row.hold == "free" and _sides_are_clear(bout)]
    found: list[Notice] = []
    for side in SIDES:
        timed = [bout for bout in free if side in bout.swing and _clock_is_told(bout, side)]
        match = opposite_leg_match(timed, side)
        if match < -evidence.SWAPPED_MATCH.value:
            message = (
                f"In the free walks the {side} wrist's arm swings forward with the leg of its own "
                f"side: the {side} wrist's file looks like the other wrist's, or, if both arms do, "
                "left and right of the feet may be swapped. Check which sensor was worn where."
            )
            found += _check("wrist_swapped", message, f"{side}_wrist")
    return tuple(found)


def _clock_is_told(bout: BoutData, side: Side) -> bool:
    """Return whether the wrist's clock is known well enough to time an arm by the steps."""
    level = 0.5 + measures.INTERVAL_LEVEL.value / 2.0
    reach_s = normal_quantile(level) * bout.clock_sd_s.get(side, 0.0)  # NaN: clock not known
    stride_s = bout.strides.end_s - bout.strides.start_s
    most = measures.MOST_CLOCK_REACH_DEG.value / DEG_PER_TURN
    return bool(stride_s.size and reach_s <= most * np.mean(stride_s))


def _sides_are_clear(bout: BoutData) -> bool:
    return bout.contacts.side_margin >= evidence.SIDE_CLEAR.value


def opposite_leg_match(bouts: Sequence[BoutData], side: Side) -> float:
    """Return how well an arm swings with the opposite leg: 1 always, -1 never, NaN unknown.

    Each stride counts with the amplitude of its swing.
    """
    along, total = 0.0, 0.0
    for bout in bouts:
        swing = bout.swing[side]
        known = np.isfinite(swing.phase_rad) & (swing.direction_source == "chest")
        amplitude = swing.amplitude_rad[known]
        along += float(np.sum(amplitude * np.cos(swing.phase_rad[known])))
        total += float(np.sum(amplitude))
    least = evidence.SWINGS_LEAST_DEG.value * RAD_PER_DEG
    n_strides = sum(bout.swing[side].phase_rad.size for bout in bouts)
    return SIGN[side] * along / total if total > least * n_strides > 0.0 else float("nan")


def _wrists_by_load(bouts: Sequence[BoutData]) -> tuple[Notice, ...]:
    """Compare both arms' swing in carries at one side."""
    swings = {bout.row.bout: swing for bout in bouts if (swing := _loaded_and_free_deg(bout))}
    limit = evidence.LOADED_SWINGS_MORE.value
    loaded_deg = [loaded for loaded, _ in swings.values()]
    more = swings and np.median([loaded / free for loaded, free in swings.values()]) >= limit
    if more and np.median(loaded_deg) > evidence.LOADED_SWINGS_DEG.value:
        message = (
            "In the carries with one loaded side the loaded arm swings much more than the free "
            "one: either the wrists' files are swapped or the loaded side in the bouts sheet is."
        )
        return _check(WRONG_SIDE, message, "left_wrist, right_wrist")
    return tuple(
        notice
        for bout, (loaded, free) in swings.items()
        if loaded >= limit * free and loaded > evidence.LOADED_SWINGS_DEG.value
        for notice in _check(
            WRONG_SIDE,
            f"the arm that is noted as loaded swings by {loaded:.0f} deg, the other by "
            f"{free:.0f} deg: check the loaded side in the bouts sheet",
            bout,
        )
    )


def _loaded_and_free_deg(bout: BoutData) -> tuple[float, float] | None:
    """Return the usual swing of the loaded arm and of the free arm, if there is one [deg].

    Without a chest sensor an arm's few own cycles may be a turn, or a load put down.
    """
    loaded = next((side for side in SIDES if side == bout.row.loaded_side), None)
    if loaded is None or not set(SIDES) <= set(bout.swing):
        return None
    other: Side = "right" if loaded == "left" else "left"
    ranges = [bout.swing[side].range_rad for side in (loaded, other)]
    least = measures.LEAST_STRIDES_MEAN.value if bout.trunk is None else 1
    if min(np.isfinite(item).sum() for item in ranges) < least:
        return None
    loaded_deg, free_deg = (float(np.nanmedian(item)) / RAD_PER_DEG for item in ranges)
    return (loaded_deg, free_deg) if free_deg > 0.0 else None


def _wrist_upside_down(side: Side, bouts: Sequence[BoutData]) -> tuple[Notice, ...]:
    """Compare the stated upward axis of a wrist sensor with gravity in the free walks."""
    arms = [bout.arms[side] for bout in bouts if bout.row.hold == "free" and side in bout.arms]
    down = [item for arm in arms for item in _stated_against_gravity(arm)]
    limit = np.cos(evidence.UPSIDE_DOWN_DEG.value * RAD_PER_DEG)
    if not down or np.mean(down) > limit:
        return ()
    message = (
        f"Gravity says that the {side} wrist's sensor hung the other way up than the session "
        "states; its stated `up` moves the arm's angle. Check how it was worn."
    )
    return _check("up_contradicted", message, f"{side}_wrist")


def _stated_against_gravity(arm: ArmMotion) -> list[float]:
    if arm.down_sensor is None or not arm.time_s.size:
        return []
    down = -rotate(conjugate(arm.quat), UP).mean(axis=0)
    return [float(down @ np.asarray(arm.down_sensor) / np.linalg.norm(down))]


# --- chest ---------------------------------------------------------------------


def _chest_swings(bouts: Sequence[BoutData]) -> tuple[Notice, ...]:
    """Compare how chest and wrists tilt in the free walks."""
    free = [bout for bout in bouts if bout.row.hold == "free" and bout.trunk is not None]
    chest = _usual_tilt_deg([bout.trunk for bout in free if bout.trunk is not None])
    if not chest > evidence.CHEST_TILT_MOST_DEG.value:
        return ()
    arms = {
        side: _usual_tilt_deg([bout.arms[side] for bout in free if side in bout.arms])
        for side in SIDES
    }
    worn = {side: tilt for side, tilt in arms.items() if np.isfinite(tilt)}
    still = [side for side, tilt in worn.items() if tilt < evidence.WRIST_TILT_FRAC.value * chest]
    if worn and not still:
        return ()
    whose = f"the {still[0]} wrist's" if still else "a wrist's"
    message = (
        "In the free walks the chest sensor swings with each stride as a forearm does: "
        f"its file looks like {whose}. Check which sensor was worn where."
    )
    return _check("chest_swings", message, "chest")


def _usual_tilt_deg(motions: Sequence[TrunkMotion | ArmMotion]) -> float:
    """Return the median of a sensor's tilt from its own mean over two strides; NaN without any."""
    tilts = [tilt for motion in motions for tilt in _tilts_rad(motion)]
    return float(np.median(np.concatenate(tilts)) / RAD_PER_DEG) if tilts else float("nan")


def _tilts_rad(motion: TrunkMotion | ArmMotion) -> list[FloatArray]:
    width = int(evidence.CHEST_TILT_WINDOW_S.value * motion.rate_hz)
    if motion.time_s.size < width or not motion.usable.any():
        return []
    if isinstance(motion, TrunkMotion):
        level = np.column_stack([motion.lean_rad, motion.pitch_rad])
    else:
        level = vertical(motion.quat)
    tilt = np.linalg.norm(level - moving_mean(level, width), axis=1)
    return [np.asarray(tilt[motion.usable])]

"""What a person should look at before believing a bout's measures."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import contacts as contact_evidence
from imucarry.basics.evidence import measures as evidence
from imucarry.basics.records import BoutData, Notice, Score, Side
from imucarry.basics.settings import MeasureSettings
from imucarry.measures.roles import arm_role
from imucarry.walk.step_checks import moving_and_lost_s, odd_strides_frac, stride_likeness


def score_notices(
    data: BoutData, scores: Sequence[Score], settings: MeasureSettings
) -> tuple[Notice, ...]:
    """Return the notices of one bout's scores.

    Codes: ``no_walking``, ``held_arms_alone``, ``few_strides``, ``pitch_departs``,
    ``few_strides_for_variability``, ``two_to_one``, ``steps_lost``, ``strides_unlike``.
    """
    where = f"bout {data.row.bout}"
    found = (
        _no_walking(data, where),
        _steps_lost(data, settings.least_strides_mean, where),
        _strides_unlike(data, scores, where),
        _few_for_mean(data, settings.least_strides_mean, where),
        _pitch(scores, settings, where),
        _few(scores, settings, where),
        _two(scores, where),
    )
    return tuple(notice for notice in found if notice is not None)


def no_walking(data: BoutData) -> bool:
    """Whether the chest sensor, or without one the wrist of no free arm, saw any stride in a bout.

    Arms that hold a load need not show that they are walked with.
    """
    if _counted(data)[1] or not (data.trunk is not None or data.swing):
        return False
    return data.trunk is not None or not _all_held(data)


def _all_held(data: BoutData) -> bool:
    """Whether every arm with a sensor held a load."""
    return all(arm_role(data.row, side) == "held" for side in data.swing)


def moved_unlike_strides(scores: Sequence[Score], side: Side) -> bool:
    """Whether an arm moved, but not with the strides, as in a gesture or a scratch.

    Parameters
    ----------
    scores : sequence of Score
        Of one bout, with ``arm_swing`` and ``arm_regularity`` of that side.
    side : Side

    Notes
    -----
    False where it cannot be told: too few strides follow each other, or the arm hardly moves.
    """
    swing, regularity = (
        next((s.estimate.value for s in scores if (s.measure, s.side) == (name, side)), np.nan)
        for name in ("arm_swing", "arm_regularity")
    )
    moved = swing >= evidence.ARM_MOVED_LEAST_DEG.value
    return bool(moved and regularity < evidence.ARM_REGULAR_LEAST.value)


def _counted(data: BoutData) -> tuple[int, int]:
    """How many strides count for the sternum and how many there are.

    Without a chest sensor these are the swings of the arm that shows most.
    """
    if data.trunk is not None:
        return int(data.strides.kept_yaw.sum()), data.strides.start_s.size
    swings = [swing.range_rad for swing in data.swing.values()]
    return max(((int(np.isfinite(each).sum()), each.size) for each in swings), default=(0, 0))


def _no_walking(data: BoutData, where: str) -> Notice | None:
    if data.trunk is None and data.swing and _all_held(data) and not _counted(data)[1]:
        message = (
            f"{_hands(data)} held the load: the wrist alone does not show how long was walked "
            f"between {data.row.start_s:.0f} and {data.row.end_s:.0f} s"
        )
        return Notice("held_arms_alone", message, where=where)
    if not no_walking(data):
        return None
    message = f"no walking was found between {data.row.start_s:.0f} and {data.row.end_s:.0f} s"
    if _lost_s(data) is not None:
        message += f", though the trunk moved: {_may_be_missed()}"
    if data.trunk is not None and not data.trunk.usable.all():
        lost = 100.0 * (1.0 - float(data.trunk.usable.mean()))
        message += f"; {lost:.0f} % of its samples are missing or cannot be used"
    return Notice("no_walking", message, where=where, severity="check")


def _lost_s(data: BoutData) -> tuple[float, float] | None:
    """Return how long a trunk moved, and for how much of it no steps were found, if too much."""
    if data.trunk is None:
        return None
    moving_s, lost_s = moving_and_lost_s(data.trunk, data.contacts)
    least_s = contact_evidence.LOST_LEAST_FRAC.value * moving_s
    if lost_s < max(contact_evidence.LOST_LEAST_S.value, least_s):
        return None
    return moving_s, lost_s


def _may_be_missed() -> str:
    slowest = 120.0 * contact_evidence.STRIDE_RATE_MIN_HZ.value
    return f"very uneven steps, as in a limp, or fewer than {slowest:.0f} a minute, may be missed"


def _steps_lost(data: BoutData, least: int, where: str) -> Notice | None:
    """Tell that a trunk moved as in walking where no steps were found, but for a few."""
    lost = None if no_walking(data) else _lost_s(data)
    if lost is None:
        return None
    moving_s, lost_s = lost
    message = (
        f"no steps were found in {lost_s:.0f} of the {moving_s:.0f} s that the trunk moved: "
        f"{_may_be_missed()}"
    )
    if _counted(data)[0] >= least:
        message += ". The figures are of the other strides"
    return Notice("steps_lost", message, where=where, severity="check")


def _strides_unlike(data: BoutData, scores: Sequence[Score], where: str) -> Notice | None:
    """Tell that the steps found may be false: one stride is not like the next."""
    if data.trunk is None:
        return None
    alike = stride_likeness(data.trunk, data.contacts)
    odd = odd_strides_frac(data.contacts)
    if alike < contact_evidence.STRIDES_ALIKE_LEAST.value:
        why = "one stride is hardly like the next"
    elif odd > contact_evidence.ODD_STRIDES_MOST_FRAC.value:
        why = f"{100.0 * odd:.0f} % of the strides are much longer or shorter than the others"
    else:
        return None
    message = f"the steps found may not be the steps walked: {why}"
    if any(s.measure == "cadence" and np.isfinite(s.estimate.value) for s in scores):
        message += ". Count the steps of one minute and compare them with the cadence given here"
    return Notice("strides_unlike", message, where=where, severity="check")


def _hands(data: BoutData) -> str:
    """ "both hands", or "the left hand"."""
    return "both hands" if len(data.swing) > 1 else f"the {next(iter(data.swing))} hand"


def _few_for_mean(data: BoutData, least: int, where: str) -> Notice | None:
    count, of = _counted(data)
    if of == 0 or count >= least:
        return None
    what = "strides count" if data.trunk is not None else "arm swings count"
    how_many = f"{count} of {of}" if count < of else f"{count}"
    message = f"only {how_many} {what}: a mean needs at least {least}"
    return Notice("few_strides", message, where=where, severity="check")


def _pitch(scores: Sequence[Score], settings: MeasureSettings, where: str) -> Notice | None:
    pitch = next((s.estimate.value for s in scores if s.measure == "torso_pitch"), float("nan"))
    if not abs(pitch) > settings.pitch_departs_deg:
        return None
    way = "forward" if pitch > 0 else "backward"
    message = (
        f"the trunk pitched {abs(pitch):.0f} deg {way} of quiet standing: its rotation is about "
        "another axis than upright, and arm swing has trunk pitch in it"
    )
    return Notice("pitch_departs", message, where=where, severity="check")


def _few(scores: Sequence[Score], settings: MeasureSettings, where: str) -> Notice | None:
    few = [s for s in scores if "few_strides_for_variability" in s.estimate.notes]
    if not few:
        return None
    most = max(score.estimate.n_used for score in few)
    message = (
        f"measures of variability rest on {most} strides at most; below "
        f"{settings.reliable_strides_variability} they repeat poorly on another day"
    )
    return Notice("few_strides_for_variability", message, where=where)


def _two(scores: Sequence[Score], where: str) -> Notice | None:
    sides = [
        str(score.side)
        for score in scores
        if score.measure == "arm_step_phase" and score.estimate.missing_because == "two_to_one"
    ]
    if not sides:
        return None
    message = (
        f"the {' and '.join(sides)} arm swung with every step, twice a stride, as in slow "
        "walking: when in the stride it swings is not told"
    )
    return Notice("two_to_one", message, where=where)

"""What a person should look at before believing a bout's measures."""

from __future__ import annotations

from collections.abc import Sequence

from imucarry.basics.records import BoutData, Notice, Score
from imucarry.basics.settings import MeasureSettings


def score_notices(
    data: BoutData, scores: Sequence[Score], settings: MeasureSettings
) -> tuple[Notice, ...]:
    """Return the notices of one bout's scores.

    Codes: ``pitch_departs``, ``few_strides_for_variability``, ``two_to_one``.
    """
    where = f"bout {data.row.bout}"
    found = (_pitch(scores, settings, where), _few(scores, settings, where), _two(scores, where))
    return tuple(notice for notice in found if notice is not None)


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

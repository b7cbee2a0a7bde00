"""What the arms did in a bout, in one sentence."""

from __future__ import annotations

import math
from collections.abc import Mapping

from imucarry.basics.records import SIDES, BoutResult, Side
from imucarry.carry.baseline_moved import ARMS_APART, ARMS_UNLIKE
from imucarry.carry.bout_checks import UNLIKE_STRIDES, yardstick_in_doubt
from imucarry.measures.notices import no_walking
from imucarry.measures.roles import arm_role
from imucarry.report.lookup import arm_share_of, estimate_of, role_of
from imucarry.report.wording import say, texts
from imucarry.report.wording.by_walk import ByWalk
from imucarry.report.wording.numbers import number

FELL = ("reduced", "minimal", "less_by_any")


Walks = Mapping[Side, ByWalk]
"""What each free arm kept of each free walk, where their mean is no fair yardstick."""


def arm(
    bout: BoutResult,
    side: Side,
    limits_pct: say.Limits = say.USUAL_LIMITS,
    walks: Walks | None = None,
) -> str:
    """What one arm did in a bout; "" for one without a sensor unless it was a carry's free arm."""
    if side not in bout.data.swing:
        free = bout.data.row.hold != "free" and arm_role(bout.data.row, side) == "free"
        return _no_sensor(side) if free else ""
    swung = estimate_of(bout, "arm_swing", side)
    kept, is_like = arm_share_of(bout, side)
    key = _arm_key(bout, side, limits_pct)
    if key == "doubt" and walks and side in walks:
        return _by_walk(bout, side, walks[side], limits_pct)
    limits = () if key == "free" else limits_pct
    return texts.ARM[key].format(
        role=_role_word(role_of(bout, side), key),
        side=texts.SIDES[side],
        value=number(swung.value),
        kept=say.percent_said(kept.value, limits),
        low=say.percent_said(kept.ci_low, limits),
        high=say.percent_said(kept.ci_high, limits),
        of=texts.ARM["like_swing" if is_like else _free_swing(bout)],
        reason=say.reason(swung.missing_because),
    )


def _by_walk(bout: BoutResult, side: Side, walks: ByWalk, limits_pct: say.Limits) -> str:
    """What an arm did, whichever free walk it is compared with."""
    key = f"{walks.answer(limits_pct[0])}_by_any"
    return texts.ARM[key].format(
        role=_role_word(role_of(bout, side), key),
        side=texts.SIDES[side],
        value=number(estimate_of(bout, "arm_swing", side).value),
        kept=say.percent_said(arm_share_of(bout, side)[0].value, limits_pct),
        of=texts.ARM["free_swing"],
        low=say.percent_said(walks.ci_low_pct, limits_pct),
        high=say.percent_said(walks.ci_high_pct, limits_pct),
    )


def _free_swing(bout: BoutResult) -> str:
    codes = {notice.code for notice in bout.comparison.notices}
    if ARMS_UNLIKE in codes:
        return "other_pace_swing"
    return "pooled_swing" if ARMS_APART in codes else "free_swing"


def of_like_pace(bout: BoutResult, side: Side) -> bool | None:
    """Whether an arm is read against free walks of like pace alone; None where it is not read.

    A free walk's arms and a held arm are not.
    """
    kept, is_like = arm_share_of(bout, side)
    carried = bout.data.row.hold != "free" and role_of(bout, side) != "held"
    return is_like if carried and math.isfinite(kept.value) else None


def _no_sensor(side: Side) -> str:
    return texts.ARM["no_sensor"].format(role=texts.ARM_ROLE["free"], side=texts.SIDES[side])


def _role_word(role: str, key: str) -> str:
    word = texts.ARM_ROLE.get(role, texts.ARM_ROLE["none"])
    return f"the {word}" if key in FELL else word


def _arm_key(bout: BoutResult, side: Side, limits_pct: say.Limits) -> str:
    """Which sentence says what an arm did."""
    (kept, _), role = arm_share_of(bout, side), role_of(bout, side)
    if not math.isfinite(estimate_of(bout, "arm_swing", side).value):
        return "missing"
    if role == "held" or not math.isfinite(kept.value):
        return "value"
    if bout.data.row.hold == "free":
        return "free"
    unlike = role == "free" and moved_unlike_strides(bout)
    if role == "free" and not unlike and yardstick_in_doubt(bout.comparison, side):
        return "doubt"
    where = say.where_it_lies(kept, *limits_pct) if role == "free" else ""
    fell = {"below": "reduced", "below_minimal": "minimal"}
    if unlike:
        return fell.get(where, "unlike")
    return (fell | {"above": "kept", "across": "across"}).get(where, "carry")


def moved_unlike_strides(bout: BoutResult) -> bool:
    """Whether a free arm moved, but not with the strides, as a check says."""
    return any(notice.code == UNLIKE_STRIDES for notice in bout.notices)


def arms(
    bout: BoutResult, limits_pct: say.Limits = say.USUAL_LIMITS, walks: Walks | None = None
) -> str:
    """The free arms in one sentence; "" without wrist sensors and where nobody walked.

    What a held arm swung is left to the tables: it says nothing by itself.
    """
    if not bout.data.swing or (bout.data.trunk is not None and no_walking(bout.data)):
        return ""
    said = "; ".join(
        words
        for side in SIDES
        if role_of(bout, side) != "held" and (words := arm(bout, side, limits_pct, walks))
    )
    if any(_arm_key(bout, side, limits_pct) == "free" for side in bout.data.swing):
        base = "base_many" if len(bout.comparison.baseline_bouts) > 1 else "base"
        said = texts.ARM["of"].format(said=said, base=texts.ARM[base])
    return f"{say.sentence_case(said)}." if said else ""

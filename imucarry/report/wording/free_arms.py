"""The bouts of a ladder whose free arm is told of, and whether its share can be believed."""

from __future__ import annotations

import math
from collections.abc import Sequence

from imucarry.basics.records import SIDES, BoutResult, LadderRung, Side
from imucarry.carry.bout_checks import alarms_noted, early_stop, yardstick_in_doubt
from imucarry.carry.implements import ladder_key
from imucarry.report.lookup import arm_share_of, estimate_of, role_of

NOT_RECORDED = ("wrist_not_recording", "wrist_recorded_part", "wrist_gaps")
"""Reasons for a missing arm that lie in its sensor."""


def counts(bout: BoutResult, rung: LadderRung, side: Side) -> bool:
    """Whether the share that an arm kept is known, without pain, early stop or alarm noted."""
    known = math.isfinite(arm_share_of(bout, side)[0].value + bout.data.row.load_kg)
    return known and not _hurt_or_stopped(bout, rung)


def not_recorded(bout: BoutResult, rung: LadderRung, side: Side) -> bool:
    """Whether a bout that counts lacks an arm because its sensor did not record it."""
    because = estimate_of(bout, "arm_swing", side).missing_because
    known = math.isfinite(bout.data.row.load_kg)
    return known and because in NOT_RECORDED and not _hurt_or_stopped(bout, rung)


def _hurt_or_stopped(bout: BoutResult, rung: LadderRung) -> bool:
    row = bout.data.row
    hurt = bool(early_stop(row) or alarms_noted(row)) or row.pain_0_10 > rung.pain_limit_0_10
    return hurt or row.load_kg in {item.load_kg for item in rung.stopped}


def arm_in_doubt(bout: BoutResult) -> bool:
    """Whether what a free arm kept is in doubt, because no free walk is a fair yardstick for it."""
    return any(
        role_of(bout, side) == "free" and yardstick_in_doubt(bout.comparison, side)
        for side in SIDES
    )


def on_ladder(rung: LadderRung, bout: BoutResult) -> bool:
    """Whether a bout is one of a ladder's."""
    row = bout.data.row
    return row.perturbed == "none" and ladder_key(row) == ladder_key(rung)


def free_arm_bouts(
    bouts: Sequence[BoutResult], rung: LadderRung, side: Side
) -> tuple[BoutResult, ...]:
    """The bouts of a ladder in which an arm was free."""
    return tuple(b for b in bouts if on_ladder(rung, b) and role_of(b, side) == "free")

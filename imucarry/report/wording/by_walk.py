"""Without a chest sensor: a free arm against the free walk in which it swung most, and least.

Where the arms of the free walks differ too much to be averaged, and no walk of like pace can be
told without the trunk, what both ends of the walks agree on still holds.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from imucarry.basics.records import BoutResult, Estimate, Side
from imucarry.carry.baseline_moved import ARMS_UNLIKE
from imucarry.carry.bout_checks import yardstick_in_doubt
from imucarry.report.lookup import estimate_of, role_of

Answer = Literal["kept", "less", "unsure"]


@dataclass(frozen=True, slots=True)
class ByWalk:
    """What an arm kept of the free walks [%], least to most, with the errors of both."""

    ci_low_pct: float
    ci_high_pct: float
    walks_deg: tuple[float, float]
    """Least and greatest swing of the arm in the free walks [deg]."""

    def answer(self, threshold_pct: float) -> Answer:
        """Return where it lies, whichever free walk the arm is compared with."""
        if self.ci_low_pct > threshold_pct:
            return "kept"
        return "less" if self.ci_high_pct < threshold_pct else "unsure"


def by_walk(bouts: Sequence[BoutResult], bout: BoutResult, side: Side) -> ByWalk | None:
    """Return what a free arm kept of each free walk; None where their mean is a fair yardstick.

    None too for a visit with a chest sensor, whose walks of like pace are known.
    """
    carried = bout.data.row.hold != "free" and role_of(bout, side) != "held"
    if bout.data.trunk is not None or not carried or not yardstick_in_doubt(bout.comparison, side):
        return None
    # Without a walk of like pace the carry's may lie beyond all of them.
    if any(notice.code == ARMS_UNLIKE for notice in bout.comparison.notices):
        return None
    own = bout.comparison.baseline_bouts
    found = (
        estimate_of(walk, "arm_swing", side)
        for walk in bouts
        if walk.data.row.hold == "free" and walk.data.row.bout in own
    )
    walks = [swung for swung in found if _is_whole(swung)]
    swung = estimate_of(bout, "arm_swing", side)
    if len(walks) < 2 or not _is_whole(swung):
        return None
    least = min(walks, key=lambda walk: walk.value)
    most = max(walks, key=lambda walk: walk.value)
    return ByWalk(
        100.0 * swung.ci_low / most.ci_high,
        100.0 * swung.ci_high / least.ci_low,
        (least.value, most.value),
    )


def _is_whole(swung: Estimate) -> bool:
    return math.isfinite(swung.value + swung.ci_low + swung.ci_high) and swung.ci_low > 0.0

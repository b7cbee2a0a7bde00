"""Loads of which it is not certain that they kept rotation: what a load shows, and what is likely.

A load is ``kept`` or ``less`` where its whole interval lies to one side of the threshold. Between
them it is never certain, but for the next load it matters on which side it is likely to lie.
"""

from __future__ import annotations

import math
from typing import Literal

from imucarry.basics.evidence import report as evidence
from imucarry.basics.records import LadderRung
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.say import percent, percent_said
from imucarry.report.wording.say_lighter import anded

Kind = Literal["kept", "less", "probably_less", "perhaps", "unsure"]


def kind_of(rung: LadderRung, k: int) -> Kind:
    """Where a load's own interval and best estimate lie against the threshold.

    ``probably_less`` and ``perhaps`` (kept) are not certain, nor is ``unsure``.
    """
    line, low, high = rung.threshold_pct, rung.ci_low_pct[k], rung.ci_high_pct[k]
    if low > line:
        return "kept"
    if high < line:
        return "less"
    own, load = rung.kept_pct[k], rung.loads_kg[k]
    # The other loads may speak against its own estimate, and its pace may have turned the trunk.
    if load in rung.overstated_kg or (own > line) != (load <= rung.likely_kept_kg):
        return "unsure"
    if own > line:
        return "perhaps"
    share_below = math.log(line / low) / math.log(high / low)
    return "probably_less" if share_below >= evidence.PROBABLY_SHARE.value else "unsure"


def kept_pct(rung: LadderRung, k: int) -> float:
    """What a load kept [%], by the fit over all loads where its own bouts lie below the line."""
    own = rung.kept_pct[k]
    fit = rung.fit_pct[k] if k < len(rung.fit_pct) else own
    is_likely = rung.loads_kg[k] <= rung.likely_kept_kg
    return fit if is_likely and not own > rung.threshold_pct else own


def kept_share(rung: LadderRung, k: int) -> str:
    """The same for a table."""
    return percent(kept_pct(rung, k), (rung.threshold_pct,))


def kept_said(rung: LadderRung, k: int) -> str:
    """The same for a sentence."""
    return percent_said(kept_pct(rung, k), (rung.threshold_pct,))


def of_kind(rung: LadderRung) -> dict[Kind, list[int]]:
    """The places of the loads that count, by kind, in the order in which the kinds first come."""
    found: dict[Kind, list[int]] = {}
    for k, high in enumerate(rung.ci_high_pct):
        if math.isfinite(high):
            found.setdefault(kind_of(rung, k), []).append(k)
    return found


def loads_and_shares(rung: LadderRung, places: list[int], *, said: bool) -> dict[str, str]:
    """ "8 and 16" and "85 and 78": loads [kg] and what they kept [%]."""
    share = kept_said if said else kept_share
    return {
        "loads": anded([kilograms(rung.loads_kg[k]) for k in places]),
        "kept": anded([share(rung, k) for k in places]),
    }

"""What speaks against load alone: bouts left out, repeats that differ, the order of the bouts."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import LadderRung, Notice, StoppedLoad
from imucarry.basics.statistics import t_quantile
from imucarry.carry.ladder_step import Step
from imucarry.carry.monotone import UPPER


def stopped_loads(steps: Sequence[Step]) -> tuple[StoppedLoad, ...]:
    """Return the loads of which every bout had pain or an early stop, and why."""
    counted = {step.load_kg for step in steps if step.eligible}
    found = []
    for load in sorted({step.load_kg for step in steps} - counted):
        bouts = [step for step in steps if step.load_kg == load]
        pains = [step.pain_0_10 for step in bouts if math.isfinite(step.pain_0_10)]
        reasons = [step.stop_reason for step in bouts if step.stop_reason]
        found.append(StoppedLoad(load, max(pains, default=math.nan), reasons[0] if reasons else ""))
    return tuple(found)


def differing_repeats(usable: Sequence[Step]) -> tuple[tuple[float, float, float], ...]:
    """Return loads of which the first and the last bout differ by more than chance."""
    found = []
    for load in sorted({step.load_kg for step in usable}):
        bouts = sorted((s for s in usable if s.load_kg == load), key=lambda step: step.order)
        first, last = bouts[0], bouts[-1]
        reach = t_quantile(UPPER, min(first.df, last.df)) * math.sqrt(
            first.var_bout + last.var_bout
        )
        if abs(last.log_kept - first.log_kept) > reach:
            found.append((load, 100.0 * math.exp(first.log_kept), 100.0 * math.exp(last.log_kept)))
    return tuple(found)


def kept_more(rung: LadderRung) -> tuple[float, float] | None:
    """Return a load that kept more than a lighter one by more than chance, and the lighter one.

    None where no two loads' own intervals lie apart in that way.
    """
    lighter: tuple[float, float] | None = None  # load whose upper limit is least, and the limit
    for load, low, high in zip(rung.loads_kg, rung.ci_low_pct, rung.ci_high_pct, strict=True):
        if lighter is not None and low > lighter[1]:
            return load, lighter[0]
        if high < (math.inf if lighter is None else lighter[1]):
            lighter = load, high
    return None


def ladder_notices(rung: LadderRung, steps: Sequence[Step]) -> tuple[Notice, ...]:
    """Return a notice for each thing that speaks against load alone."""
    key = rung.hold, rung.loaded_side, rung.implement, rung.left_hold, rung.right_hold
    where = " ".join(part for part in key if part)
    found = []
    if any(not step.eligible for step in steps):
        found.append(
            Notice(
                "ladder_bout_left_out",
                "bouts with pain or an early stop do not count as a load that was kept",
                where=where,
            )
        )
    for load, first, last in rung.repeats:
        found.append(
            Notice(
                "repeats_differ",
                f"{load:g} kg was carried more than once and kept {first:.0f} % at first, "
                f"{last:.0f} % at last, by more than chance: fatigue or practice may be behind it",
                where=where,
            )
        )
    if (pair := kept_more(rung)) is not None:
        found.append(
            Notice(
                "heavier_load_kept_more",
                "{:g} kg kept more rotation than {:g} kg, by more than chance: load alone does "
                "not explain it; repeat both in another order".format(*pair),
                where=where,
            )
        )
    if rises_with_order([(step.load_kg, step.order) for step in steps]):
        found.append(
            Notice(
                "load_and_order_rise_together",
                "load and order rise together: the effect of load and of fatigue cannot be "
                "told apart; repeat the lightest load last",
                where=where,
            )
        )
    return tuple(found)


def rises_with_order(pairs: Iterable[tuple[float, float]]) -> bool:
    """Whether load and order rise together (Kendall's tau over pairs of unequal load)."""
    load, order = np.array(list(pairs), dtype=np.float64).reshape(-1, 2).T
    upper = np.triu_indices(load.size, 1)
    by_load = np.sign(load[:, None] - load[None, :])[upper]
    by_order = np.sign(order[:, None] - order[None, :])[upper]
    differ = by_load != 0
    if not differ.any():
        return False
    return float((by_load * by_order)[differ].mean()) >= evidence.ORDER_TAU.value

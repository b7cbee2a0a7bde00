"""What speaks against load alone: bouts left out, repeats that differ, the order of the bouts."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import LadderRung, Notice, StoppedLoad
from imucarry.basics.statistics import t_quantile
from imucarry.carry.implements import implement_key
from imucarry.carry.kept import BASELINE_SMALL
from imucarry.carry.ladder_step import Step
from imucarry.carry.monotone import UPPER
from imucarry.carry.symptoms import stop_rank

ORDER_RISES: Final = "load_and_order_rise_together"
LEFT_OUT: Final = "ladder_bout_left_out"
IMPLEMENTS_APART: Final = "implements_apart"
"""Codes of loads that rose with their order, that were left out, or that implements split."""

FELL: Final = ("reduced", "minimal")
"""Findings of a bout that clearly kept less than the threshold."""

TOO_FEW: Final = "too_few_strides"
"""Why the share of a bout with too few strides is missing."""


def stopped_loads(steps: Sequence[Step]) -> tuple[StoppedLoad, ...]:
    """Return the loads of which every bout had pain, an early stop or an alarm, and why."""
    counted = {step.load_kg for step in steps if step.eligible}
    found = []
    for load in sorted({step.load_kg for step in steps} - counted):
        bouts = [step for step in steps if step.load_kg == load]
        pains = [step.pain_0_10 for step in bouts if math.isfinite(step.pain_0_10)]
        most = max(pains, default=math.nan)
        found.append(StoppedLoad(load, most, _reasons(bouts), _alarms(bouts)))
    return tuple(found)


def too_few_loads(steps: Sequence[Step]) -> tuple[float, ...]:
    """Return the loads of which every bout that counts has too few strides."""
    return _all_for(steps, lambda step: step.missing_because == TOO_FEW)


def not_compared_loads(steps: Sequence[Step]) -> tuple[float, ...]:
    """Return the loads of which the free walk turned too little for every bout that counts."""
    return _all_for(steps, lambda step: step.because == BASELINE_SMALL)


def _all_for(steps: Sequence[Step], is_so: Callable[[Step], bool]) -> tuple[float, ...]:
    """Return the loads of which something is so of every bout that counts."""
    eligible = [step for step in steps if step.eligible]
    return tuple(
        load
        for load in sorted({step.load_kg for step in eligible})
        if all(is_so(step) for step in eligible if step.load_kg == load)
    )


def stops_at_each(steps: Sequence[Step]) -> tuple[str, ...]:
    """Return why bouts at each load ended early, "" where none did."""
    loads = sorted({step.load_kg for step in steps})
    return tuple(_reasons([step for step in steps if step.load_kg == load]) for load in loads)


def alarms_at_each(steps: Sequence[Step]) -> tuple[tuple[str, ...], ...]:
    """Return the alarm symptoms noted of bouts at each load, none of which count."""
    loads = sorted({step.load_kg for step in steps})
    return tuple(_alarms([step for step in steps if step.load_kg == load]) for load in loads)


def _alarms(steps: Sequence[Step]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(word for step in steps for word in step.alarms))


def noted_at_each(usable: Sequence[Step], loads: Sequence[float]) -> tuple[tuple[str, ...], ...]:
    """Return the words of pain in the notes of the bouts at each load that count."""
    return tuple(
        tuple(dict.fromkeys(word for s in usable if s.load_kg == load for word in s.noted))
        for load in loads
    )


def counted_at_each(usable: Sequence[Step], loads: Sequence[float]) -> tuple[int, ...]:
    """Return how many bouts at each load count."""
    return tuple(sum(step.load_kg == load for step in usable) for load in loads)


def unclear_at_each(usable: Sequence[Step], loads: Sequence[float]) -> tuple[tuple[str, ...], ...]:
    """Return the bouts at each load that count and are not clear by themselves."""
    return tuple(
        tuple(s.bout for s in usable if s.load_kg == load and s.finding == "unclear")
        for load in loads
    )


def _reasons(steps: Sequence[Step]) -> str:
    """Return the reasons of early stops, worst first, each once; "pain" only if alone."""
    reasons = {step.stop_reason.lower(): step.stop_reason for step in steps if step.stop_reason}
    if len(reasons) > 1 and any(step.noted_pain_0_10 > 0 for step in steps):
        reasons.pop("pain", None)  # told by its number
    return "; ".join(sorted(reasons.values(), key=stop_rank))


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


def most_pain(steps: Sequence[Step]) -> tuple[float, ...]:
    """Return the most pain that was noted at each load, counted or not; NaN where none was."""
    pains: dict[float, list[float]] = {step.load_kg: [] for step in steps}
    for step in steps:
        if math.isfinite(step.noted_pain_0_10):
            pains[step.load_kg].append(step.noted_pain_0_10)
    return tuple(max(pains[load], default=math.nan) for load in sorted(pains))


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
    """Return a notice for each thing that speaks against load alone.

    Each that could change the ladder's answer is to be checked.
    """
    found = []
    if any(not step.eligible for step in steps):
        found.append(_notice(rung, LEFT_OUT, _left_out(rung), is_check=False))
    for load, first, last in rung.repeats:
        cause = "fatigue" if last < first else "practice"
        message = (
            f"{load:g} kg was carried more than once and kept {first:.0f} % the first time, "
            f"{last:.0f} % the last time, by more than chance: {cause} may be behind it"
        )
        found.append(_notice(rung, "repeats_differ", message))
    if (pair := kept_more(rung)) is not None:
        message = (
            "{:g} kg kept more rotation than {:g} kg, by more than chance: repeat both in another "
            "order".format(*pair)
        )
        found.append(_notice(rung, "heavier_load_kept_more", message))
    rises = rises_with_order([(step.load_kg, step.order) for step in steps])
    if rises and not _fell_at_once(steps):
        message = (
            "loads went from light to heavy, so fatigue may be part of any loss: repeat the "
            "lightest load last"
        )
        falls = rung.answer in ("kept_up_to", "no_tested_load")
        found.append(_notice(rung, ORDER_RISES, message, is_check=falls))
    return tuple(found)


def _fell_at_once(steps: Sequence[Step]) -> bool:
    """Whether the first bout had the lightest load and clearly kept less: no fatigue did that."""
    first = min(steps, key=lambda step: step.order)
    is_lightest = first.load_kg == min(step.load_kg for step in steps)
    return is_lightest and first.eligible and first.finding in FELL


def _left_out(rung: LadderRung) -> str:
    return (
        f"bouts with pain above {rung.pain_limit_0_10:g} of 10, an early stop or an alarm symptom "
        "noted (dizziness, numbness and the like) do not count as a load that was kept; `[carry] "
        "pain_limit_0_10` in a settings file sets the limit of pain"
    )


def _notice(rung: LadderRung, code: str, message: str, *, is_check: bool = True) -> Notice:
    key = rung.hold, rung.loaded_side, rung.implement, rung.left_hold, rung.right_hold
    where = " ".join(part for part in key if part)
    return Notice(code, message, where=where, severity="check" if is_check else "note")


def with_loads_unknown(rung: LadderRung, bouts: Sequence[str]) -> LadderRung:
    """Tell, on the ladder that they would belong to, of bouts for which no load was noted."""
    if not bouts or not rung.loads_kg:
        return rung
    several = len(bouts) > 1
    named = f"bout{'s' if several else ''} {', '.join(bouts)}"
    message = (
        f"no load was noted for {named}, so the ladder leaves {'them' if several else 'it'} out"
    )
    return replace(rung, notices=(*rung.notices, _notice(rung, "load_not_noted", message)))


def with_implements_apart(rungs: Sequence[LadderRung]) -> tuple[LadderRung, ...]:
    """Tell, on the first ladder of a hold and side, that implements split its loads.

    They do where two of its ladders hold one load each, where the implement is empty in
    some bouts and not in others, or where one is written as another's abbreviation.
    """
    groups: dict[tuple[str, ...], list[int]] = {}
    for index, rung in enumerate(rungs):
        key = rung.hold, rung.loaded_side, rung.left_hold, rung.right_hold
        groups.setdefault(key, []).append(index)
    told = list(rungs)
    for indices in groups.values():
        group = [rungs[k] for k in indices]
        single = sum(len(rung.loads_kg) == 1 for rung in group)
        unnamed = any(not rung.implement for rung in group)
        if len(group) > 1 and (single > 1 or unnamed or _any_abbreviated(group)):
            first = group[0]
            notice = _notice(first, IMPLEMENTS_APART, _apart(group))
            told[indices[0]] = replace(first, notices=(*first.notices, notice))
    return tuple(told)


def _any_abbreviated(group: Sequence[LadderRung]) -> bool:
    """Whether the letters of one implement stand in another in that order: KB, kettlebell."""
    names = sorted((implement_key(rung.implement) for rung in group), key=len)
    return any(_abbreviates(a, b) for k, a in enumerate(names) for b in names[k + 1 :])


def _abbreviates(short: str, long: str) -> bool:
    letters = iter(long)
    return short[:1] == long[:1] and all(letter in letters for letter in short)


def _apart(group: Sequence[LadderRung]) -> str:
    named = ", ".join(rung.implement or "not named" for rung in group)
    return (
        f"the loads of this hold and side are split by implement ({named}); to join them, write "
        "the same word in `implement`"
    )


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

"""The load ladder: how rotation falls as the load rises, and up to which load it is kept."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import (
    BoutData,
    BoutRow,
    Comparison,
    FloatArray,
    LadderRung,
    Notice,
    StoppedLoad,
)
from imucarry.basics.settings import CarrySettings
from imucarry.basics.statistics import t_quantile
from imucarry.carry.kept import find_score
from imucarry.carry.monotone import UPPER, monotone_band
from imucarry.carry.visit import started_at

LADDER_ANSWERS = {
    "kept_up_to": "the lower limit keeps the threshold up to this load and not at the next one",
    "not_yet_reached": "every tested load keeps the threshold; heavier loads were not tested",
    "no_tested_load": "no tested load's lower limit keeps the threshold",
    "one_load_only": "one load alone makes no ladder",
    "pain_or_early_stop": "every bout had pain or an early stop",
    "no_baseline": "there is no free walk to compare with",
    "not_measured": "rotation was not measured",
    "too_few_strides": "no bout has strides enough to be compared",
    "baseline_small": "the free walk turns too little to be compared with",
}
"""Answer of a rung, and what it means."""

Key = tuple[str, str, str, str, str]


@dataclass(frozen=True, slots=True)
class Step:
    """One tested bout of a ladder: its load and its kept rotation."""

    load_kg: float
    order: float
    log_kept: float  # NaN where it is missing
    var_bout: float
    var_baseline: float
    df: float
    finding: str
    because: str
    pain_0_10: float  # NaN where it is within its limit
    stop_reason: str  # "" where it is planned

    @property
    def eligible(self) -> bool:
        """Whether the bout had neither pain nor an early stop."""
        return not (math.isfinite(self.pain_0_10) or self.stop_reason)


def climb(
    bouts: Sequence[BoutData], comparisons: Sequence[Comparison], settings: CarrySettings
) -> tuple[LadderRung, ...]:
    """Fit rotation kept against load for each hold, side and implement.

    Parameters
    ----------
    bouts : sequence of BoutData
    comparisons : sequence of Comparison
        In the same order.
    settings : CarrySettings

    Returns
    -------
    tuple of LadderRung
        Sorted by hold, side, implement. ``heaviest_kept_kg`` is the heaviest tested
        load whose lower limit keeps the reduced threshold, ``likely_kept_kg`` the
        heaviest whose fit does, ``next_kg`` the next heavier tested load after
        ``heaviest_kept_kg`` (the lightest where none is kept), NaN where no
        heavier one was tested. Bouts with pain or an early stop and perturbed
        bouts do not enter. Never an extrapolation.
    """
    groups: dict[Key, list[int]] = {}
    for index, data in enumerate(bouts):
        if _belongs(data.row):
            groups.setdefault(_key(data.row), []).append(index)
    return tuple(
        _rung(key, [_step(bouts[k], comparisons[k], settings) for k in indices], settings)
        for key, indices in sorted(groups.items())
    )


def _belongs(row: BoutRow) -> bool:
    return (
        row.hold not in ("free", "unknown")
        and row.perturbed == "none"
        and bool(np.isfinite(row.load_kg))
    )


def _key(row: BoutRow) -> Key:
    return row.hold, row.loaded_side, row.implement, row.left_hold, row.right_hold


def is_eligible(row: BoutRow, settings: CarrySettings) -> bool:
    """Whether a bout had neither pain nor an early stop."""
    return not (math.isfinite(_pain(row, settings)) or _early_stop(row))


def _pain(row: BoutRow, settings: CarrySettings) -> float:
    """Return the pain above its limit, else NaN."""
    return row.pain_0_10 if row.pain_0_10 > settings.pain_limit_0_10 else math.nan


def _early_stop(row: BoutRow) -> str:
    """Return why a bout ended early, "" where it ended as planned."""
    reason = row.stop_reason.strip()
    return "" if reason.lower() in evidence.PLANNED_STOPS.value else reason


def _step(data: BoutData, comparison: Comparison, settings: CarrySettings) -> Step:
    kept = find_score(comparison.scores, "yaw_kept")
    value = kept.estimate.value if kept is not None else float("nan")
    order = data.row.order
    return Step(
        load_kg=round(data.row.load_kg, 6),
        order=order if np.isfinite(order) else started_at(data),
        log_kept=float(np.log(value / 100.0)) if value > 0 else float("nan"),
        var_bout=comparison.yaw_log_se_bout**2,
        var_baseline=comparison.yaw_log_se_baseline**2,
        df=comparison.yaw_log_df,
        finding=comparison.rotation_finding,
        because=comparison.finding_because,
        pain_0_10=_pain(data.row, settings),
        stop_reason=_early_stop(data.row),
    )


# --- one rung ----------------------------------------------------------------


def _rung(key: Key, steps: Sequence[Step], settings: CarrySettings) -> LadderRung:
    """Answer one hold, side and implement."""
    loads = np.unique([step.load_kg for step in steps])
    usable = [step for step in steps if _is_usable(step)]
    tested = np.unique([step.load_kg for step in usable])
    pooled = [_pool([step for step in usable if step.load_kg == load]) for load in tested]
    log_kept, var_bout, var_shared, df = (np.array(part) for part in zip(*pooled, strict=True)) \
        if pooled else (np.empty(0),) * 4  # fmt: skip
    fit, low, high = monotone_band(log_kept, var_bout, var_shared, df)
    half = _half_width(var_bout + var_shared, df)
    threshold = float(np.log(settings.reduced_pct / 100.0))
    answer = _why_none(steps, usable)
    sure = _heaviest(tested, low > threshold) if not answer else float("nan")
    likely = _heaviest(tested, fit > threshold) if not answer else float("nan")
    heavier = loads[loads > sure] if np.isfinite(sure) else loads

    def at(curve: FloatArray) -> tuple[float, ...]:
        return _at(loads, tested, 100.0 * np.exp(curve))

    rung = LadderRung(
        hold=key[0],
        loaded_side=key[1],
        implement=key[2],
        threshold_pct=settings.reduced_pct,
        heaviest_kept_kg=sure,
        next_kg=float(heavier[0]) if heavier.size and not answer else float("nan"),
        answer=answer or _answer(sure, heavier),
        loads_kg=tuple(loads.tolist()),
        kept_pct=at(log_kept),
        ci_low_pct=at(log_kept - half),
        ci_high_pct=at(log_kept + half),
        fit_pct=at(fit),
        fit_low_pct=at(low),
        fit_high_pct=at(high),
        likely_kept_kg=likely,
        left_hold=key[3],
        right_hold=key[4],
        stopped=_stopped(steps),
        repeats=_repeats(usable),
    )
    return replace(rung, notices=_notices(rung, steps))


def _stopped(steps: Sequence[Step]) -> tuple[StoppedLoad, ...]:
    """Return the loads of which every bout had pain or an early stop, and why."""
    counted = {step.load_kg for step in steps if step.eligible}
    found = []
    for load in sorted({step.load_kg for step in steps} - counted):
        bouts = [step for step in steps if step.load_kg == load]
        pains = [step.pain_0_10 for step in bouts if math.isfinite(step.pain_0_10)]
        reasons = [step.stop_reason for step in bouts if step.stop_reason]
        found.append(StoppedLoad(load, max(pains, default=math.nan), reasons[0] if reasons else ""))
    return tuple(found)


def _repeats(usable: Sequence[Step]) -> tuple[tuple[float, float, float], ...]:
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


def _is_usable(step: Step) -> bool:
    has_kept = bool(np.isfinite(step.log_kept + step.df))
    return step.eligible and has_kept and step.because != "baseline_small"


def _pool(steps: Sequence[Step]) -> tuple[float, float, float, float]:
    """Pool repeats of one load, equal weight a bout; the baseline's error stays shared."""
    n_bouts = len(steps)
    return (
        float(np.mean([step.log_kept for step in steps])),
        float(np.sum([step.var_bout for step in steps])) / n_bouts**2,
        float(np.mean([step.var_baseline for step in steps])),
        float(np.mean([step.df for step in steps])),
    )


def _why_none(steps: Sequence[Step], usable: Sequence[Step]) -> str:
    """Return the answer where no ladder can be climbed, else an empty string."""
    counted = [step for step in steps if step.eligible]
    if not counted:
        return "pain_or_early_stop"
    known = {step.finding for step in counted}
    if known in ({"no_baseline"}, {"not_measured"}):
        return known.pop()
    if all(step.because == "baseline_small" for step in counted):
        return "baseline_small"
    if len({step.load_kg for step in steps}) < 2:
        return "one_load_only"
    if not usable:
        return "too_few_strides"
    return "one_load_only" if len({step.load_kg for step in usable}) < 2 else ""


def _answer(sure: float, heavier: FloatArray) -> str:
    if not np.isfinite(sure):
        return "no_tested_load"
    return "kept_up_to" if heavier.size else "not_yet_reached"


def _heaviest(loads: FloatArray, keeps: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> float:
    return float(loads[keeps].max()) if keeps.any() else float("nan")


def _at(loads: FloatArray, tested: FloatArray, values: FloatArray) -> tuple[float, ...]:
    """Spread values of the tested loads over all loads, NaN elsewhere."""
    spread = np.full(loads.size, np.nan)
    spread[np.isin(loads, tested)] = values
    return tuple(spread.tolist())


def _half_width(variance: FloatArray, df: FloatArray) -> FloatArray:
    quantiles = np.array([t_quantile(UPPER, float(item)) for item in df])
    return np.asarray(quantiles * np.sqrt(variance), dtype=np.float64)


# --- notices --------------------------------------------------------------------


def _notices(rung: LadderRung, steps: Sequence[Step]) -> tuple[Notice, ...]:
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
                severity="check",
            )
        )
    if (pair := kept_more(rung)) is not None:
        found.append(
            Notice(
                "heavier_load_kept_more",
                "{:g} kg kept more rotation than {:g} kg, by more than chance: load alone does "
                "not explain it; repeat both in another order".format(*pair),
                where=where,
                severity="check",
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

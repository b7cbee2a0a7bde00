"""The load ladder: how rotation falls as the load rises, and up to which load it is kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from imucarry.basics.records import (
    BoutData,
    BoutRow,
    Comparison,
    FloatArray,
    LadderRung,
)
from imucarry.basics.settings import CarrySettings
from imucarry.basics.statistics import t_quantile
from imucarry.carry.implements import ladder_key
from imucarry.carry.kept import BASELINE_SMALL
from imucarry.carry.ladder_doubts import (
    alarms_at_each,
    counted_at_each,
    differing_repeats,
    ladder_notices,
    most_pain,
    not_compared_loads,
    noted_at_each,
    stopped_loads,
    stops_at_each,
    too_few_loads,
    unclear_at_each,
    with_implements_apart,
    with_loads_unknown,
)
from imucarry.carry.ladder_step import Step, in_order, step_of
from imucarry.carry.monotone import UPPER, monotone_band
from imucarry.walk.trunk import CHEST_DOUBTS

LADDER_ANSWERS = {
    "kept_up_to": "the lower limit keeps the threshold up to this load and not at the next one",
    "not_yet_reached": "every tested load keeps the threshold; heavier loads were not tested",
    "no_tested_load": "no tested load's lower limit keeps the threshold",
    "load_unknown": "no load was noted",
    "one_load_only": "one load alone makes no ladder",
    "pain_or_early_stop": "every bout had pain, an early stop or an alarm symptom noted",
    "no_baseline": "there is no free walk to compare with",
    "not_measured": "rotation was not measured",
    "too_few_strides": "no bout has strides enough to be compared",
    BASELINE_SMALL: "the free walk turns too little, or repeats too little with the stride, to be "
    "compared with",
}
"""Answer of a rung, and what it means."""

Key = tuple[str, str, str, str, str]


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
        Sorted by hold, side, implement; an implement is compared without regard to case
        and spaces, and named as it is first written. ``heaviest_kept_kg`` is the heaviest tested
        load whose lower limit keeps the reduced threshold, ``likely_kept_kg`` the
        heaviest whose fit does, ``next_kg`` the next heavier tested load after
        ``heaviest_kept_kg`` (the lightest where none is kept), NaN where no
        heavier one was tested. Bouts with pain, an early stop or an alarm symptom noted,
        perturbed bouts and bouts without a noted load, or with one of 0, do not enter.
        Never an extrapolation.

    Notes
    -----
    The limits are those of each load by itself: where all loads truly keep 74 %, one is
    called kept in 1 to 4 % of visits, any of four in 2 to 4 %, of eight in 3 to 5 % (simulated).
    """
    groups: dict[Key, list[int]] = {}
    for index, data in enumerate(bouts):
        if _belongs(data.row):
            groups.setdefault(ladder_key(data.row), []).append(index)
    rungs = []
    for key, indices in sorted(groups.items()):
        known = [k for k in indices if np.isfinite(bouts[k].row.load_kg)]
        places = in_order([bouts[k] for k in known])
        steps = [
            step_of(bouts[k], comparisons[k], settings, place)
            for k, place in zip(known, places, strict=True)
        ]
        as_written = (*key[:2], bouts[indices[0]].row.implement, *key[3:])
        unknown = [bouts[k].row.bout for k in indices if k not in known]
        rungs.append(with_loads_unknown(_rung(as_written, steps, settings), unknown))
    return with_implements_apart(rungs)


def _belongs(row: BoutRow) -> bool:
    """Whether a bout carries a load, noted or not, that hangs still."""
    is_carry = row.hold not in ("free", "unknown") and row.load_kg != 0.0
    return is_carry and row.perturbed == "none"


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
        stopped=stopped_loads(steps),
        too_few_kg=too_few_loads(steps),
        not_compared_kg=not_compared_loads(steps),
        repeats=differing_repeats(usable),
        pains_0_10=most_pain(steps),
        pain_limit_0_10=settings.pain_limit_0_10,
        stops=stops_at_each(steps),
        alarms=alarms_at_each(steps),
        n_counted=counted_at_each(usable, loads.tolist()),
        unclear_alone=unclear_at_each(usable, loads.tolist()),
        noted=noted_at_each(usable, loads.tolist()),
        overstated_kg=tuple(sorted({step.load_kg for step in usable if step.is_overstated})),
    )
    return replace(rung, notices=ladder_notices(rung, steps))


def _is_usable(step: Step) -> bool:
    has_kept = bool(np.isfinite(step.log_kept + step.df))
    return step.eligible and has_kept and step.because != BASELINE_SMALL


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
    if not steps:
        return "load_unknown"
    counted = [step for step in steps if step.eligible]
    if not counted:
        return "pain_or_early_stop"
    if all(step.because in CHEST_DOUBTS for step in counted):
        return "not_measured"
    known = {step.finding for step in counted}
    if known in ({"no_baseline"}, {"not_measured"}):
        return known.pop()
    if all(step.because == BASELINE_SMALL for step in counted):
        return BASELINE_SMALL
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

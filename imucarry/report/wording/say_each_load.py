"""What each load of a ladder kept against the threshold, and bouts judged together, in words."""

from __future__ import annotations

import math

from imucarry.basics.records import LadderRung
from imucarry.report.wording import words_ladder as words
from imucarry.report.wording.numbers import kilograms, number
from imucarry.report.wording.say import percent_said, sentence_case
from imucarry.report.wording.say_lighter import anded, noted_with


def each_load(rung: LadderRung) -> str:
    """Say of every load that counts where it lies against the threshold."""
    found: dict[str, list[str]] = {key: [] for key in words.EACH_LOAD}
    for k, load in enumerate(rung.loads_kg):
        if math.isfinite(rung.kept_pct[k]):
            found[where_it_lies(rung, k)].append(kilograms(load))
    return "".join(
        words.EACH_LOAD[key].format(loads=anded(loads), threshold=number(rung.threshold_pct, 0))
        for key, loads in found.items()
        if loads
    )


def one_load(rung: LadderRung) -> dict[str, str]:
    """Return what the one load that counts kept."""
    k = next(k for k, kept in enumerate(rung.kept_pct) if math.isfinite(kept))
    limits = (rung.threshold_pct,)
    values = {"kept": rung.kept_pct[k], "low": rung.ci_low_pct[k], "high": rung.ci_high_pct[k]}
    where = where_it_lies(rung, k)
    alone = _unclear_alone(rung, k)
    finding = words.ONE_LOAD["above_together" if alone and where == "above" else where]
    return {
        "together": words.AND_TOGETHER.format(bouts=_bouts_counted(rung, k))
        if _is_repeated(rung, k)
        else "",
        "load": kilograms(rung.loads_kg[k]),
        "pain": noted_with(rung, rung.loads_kg[k]),
        "finding": finding.format(threshold=number(rung.threshold_pct, 0), alone=alone),
        **{name: percent_said(value, limits) for name, value in values.items()},
    }


def together(rung: LadderRung) -> str:
    """Say that several bouts with the load named as kept were judged as one."""
    if rung.heaviest_kept_kg not in rung.loads_kg:
        return ""
    k = rung.loads_kg.index(rung.heaviest_kept_kg)
    if not _is_repeated(rung, k):
        return ""
    bouts = sentence_case(_bouts_counted(rung, k))
    return words.TOGETHER.format(
        bouts=bouts, load=kilograms(rung.loads_kg[k]), alone=_unclear_alone(rung, k)
    )


def _is_repeated(rung: LadderRung, k: int) -> bool:
    return bool(rung.n_counted) and rung.n_counted[k] > 1


def _bouts_counted(rung: LadderRung, k: int) -> str:
    """ "both bouts", "all 3 bouts"."""
    count = rung.n_counted[k]
    return words.BOUTS_COUNTED["two" if count == 2 else "more"].format(count=count)


def _unclear_alone(rung: LadderRung, k: int) -> str:
    """Name the bouts of a load judged together that are not clear by themselves."""
    names = list(rung.unclear_alone[k]) if _is_repeated(rung, k) else []
    if not names:
        return ""
    return words.UNCLEAR_ALONE["one" if len(names) == 1 else "more"].format(bouts=anded(names))


def why_missing(rung: LadderRung, load_kg: float) -> str:
    """Why a load has no share: too few strides, too small a free walk, or not measured."""
    if load_kg in rung.not_compared_kg:
        return "not_compared"
    return "too_few" if load_kg in rung.too_few_kg else "missing"


def where_it_lies(rung: LadderRung, k: int) -> str:
    """Where a load's own interval lies against the threshold: above, below or across it."""
    if rung.ci_low_pct[k] > rung.threshold_pct:
        return "above"
    return "below" if rung.ci_high_pct[k] < rung.threshold_pct else "across"

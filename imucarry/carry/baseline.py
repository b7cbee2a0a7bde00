"""Each bout against the same person's free walk."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import SIDES, BoutData, Comparison, Estimate, Notice, Score, Side
from imucarry.basics.settings import CarrySettings
from imucarry.carry.baseline_arms import arm_notices
from imucarry.carry.baseline_moved import baseline_notices, small_notices
from imucarry.carry.baseline_notices import match_notices, more_notices, motion_notices
from imucarry.carry.kept import (
    ACROSS,
    BASELINE_SMALL,
    LogRatio,
    find_score,
    log_ratio,
    percent,
    rotation_finding,
)
from imucarry.carry.pace import alike, is_known
from imucarry.carry.perturbed import spread_scores
from imucarry.carry.visit_bouts import (
    SWING,
    YAW,
    VisitBouts,
    baseline_indices,
    gather_bouts,
    grouped_means,
    is_free,
)


@dataclass(frozen=True, slots=True)
class Kept:
    """How much of the baseline one bout kept of one measure, and against which bouts."""

    estimate: Estimate
    used: tuple[int, ...] = ()
    ratio: LogRatio | None = None
    baseline_deg: float = float("nan")


def against_free_walk(
    bouts: Sequence[BoutData],
    scores: Sequence[Sequence[Score]],
    settings: CarrySettings,
) -> tuple[Comparison, ...]:
    """Compare each bout with the free walks of the same visit.

    Parameters
    ----------
    bouts : sequence of BoutData
        All bouts of one visit.
    scores : sequence of sequences of Score
        Of each bout, with ``sternum_yaw_range``, ``arm_swing`` and ``cadence``, and
        ``speed`` and ``stride_length`` where the distance is known.
    settings : CarrySettings

    Returns
    -------
    tuple of Comparison
        One a bout, in the same order. ``scores`` holds ``yaw_kept`` and, for each
        side, ``arm_swing_kept``: in % of the baseline's mean (all free bouts, or
        those that the bout names, equal weight a bout; a free bout against the
        others). Where the distance is known ``yaw_kept_matched`` is the same
        against the free walks of like speed and stride length alone, and so is
        ``arm_swing_kept_matched``; missing as ``no_like_walk`` where there is none.

    Notes
    -----
    The intervals hold stride noise and walk-to-walk variation: see
    `imucarry.carry.kept`. Bouts are never matched on cadence: a heavy carry
    raises cadence far more than speed. A cadence far from the free walks' is told
    where no distance is known.
    """
    visit = gather_bouts(bouts, scores, settings)
    return tuple(_compare(visit, index) for index in range(len(bouts)))


def _compare(visit: VisitBouts, index: int) -> Comparison:
    """Compare one bout with its baseline."""
    free = baseline_indices(visit, index)
    yaw = kept_of(visit, index, free, YAW, "none", "no_chest_sensor")
    finding, because = _finding(visit, index, yaw)
    like = _like_walks(visit, index, free)
    arms = tuple(_arm_score(visit, index, free, side) for side in SIDES)
    ratio = yaw.ratio or LogRatio(*[float("nan")] * 4)
    return Comparison(
        baseline_bouts=_names(visit, yaw.used or free),
        scores=(
            _score(visit, index, "yaw_kept", yaw.estimate),
            *_matched(visit, index, like),
            *arms,
            *_matched_arms(visit, index, like),
            *spread_scores(visit.bouts, index),
        ),
        rotation_finding=finding,
        finding_because=because,
        notices=(
            *_notices(visit, index, yaw, finding),
            *arm_notices(visit, index, free, like, arms),
        ),
        yaw_log_se_bout=ratio.se_bout,
        yaw_log_se_baseline=ratio.se_baseline,
        yaw_log_df=ratio.df,
        like_bouts=_names(visit, like or ()),
    )


def kept_of(
    visit: VisitBouts, index: int, free: Sequence[int], measure: str, side: str, absent: str,
    alone: str = "no_free_walk",
) -> Kept:  # fmt: skip
    """How much of the baseline's mean a bout kept.

    `absent` is the reason where the bout has no score, `alone` where `free` is empty.
    """
    doubt = visit.bouts[index].chest_doubt
    if doubt and measure == YAW:
        return Kept(Estimate(missing_because=doubt))
    score = find_score(visit.scores[index], measure, side)
    own = visit.means[index, measure, side]
    if score is None or own is None:
        because = absent if score is None else score.estimate.missing_because
        return Kept(Estimate(missing_because=because or "no_interval"))
    if not free:
        return Kept(Estimate(missing_because=alone))
    others = [index] if is_free(visit.bouts[index]) else []
    walks = grouped_means(visit, [*free, *others], measure, side)
    baseline = [walks[k] for k in free if k in walks]
    if not baseline:
        return Kept(Estimate(missing_because="free_walk_not_measured"))
    ratio = log_ratio(own, baseline, list(walks.values()), visit.settings)
    return Kept(
        percent(ratio, own.n_used),
        tuple(k for k in free if k in walks),
        ratio,
        float(np.mean([item.mean for item in baseline])),
    )


def _matched(visit: VisitBouts, index: int, like: Sequence[int] | None) -> tuple[Score, ...]:
    """``yaw_kept_matched`` against the free walks of like pace; () where no pace is known."""
    if like is None:
        return ()
    kept = kept_of(visit, index, like, YAW, "none", "no_chest_sensor", alone="no_like_walk")
    return (_score(visit, index, "yaw_kept_matched", kept.estimate),)


def _like_walks(visit: VisitBouts, index: int, free: Sequence[int]) -> list[int] | None:
    """Return the free walks of like pace; None where no pace is known."""
    known = [k for k in free if is_known(visit.paces[k])]
    if not is_known(visit.paces[index]) or not known:
        return None
    pace = visit.paces[index]
    return [k for k in known if alike(pace, visit.paces[k], visit.settings.speed_match_pct)]


def _matched_arms(visit: VisitBouts, index: int, like: Sequence[int] | None) -> tuple[Score, ...]:
    """``arm_swing_kept_matched`` of each side; () where no pace is known."""
    if like is None:
        return ()
    name, alone = "arm_swing_kept_matched", "no_like_walk"
    return tuple(_arm_score(visit, index, like, side, name, alone) for side in SIDES)


def _finding(visit: VisitBouts, index: int, yaw: Kept) -> tuple[str, str]:
    """Return the rotation finding by the thresholds, and why it is not a clear one."""
    if visit.bouts[index].trunk is None:
        return "not_measured", "no_chest_sensor"
    if not baseline_indices(visit, index):
        return "no_baseline", "no_free_walk"
    because = yaw.estimate.missing_because
    if because == "free_walk_not_measured":
        return "no_baseline", because
    if because:
        return "unclear", because
    if is_small(visit, yaw):
        return "unclear", BASELINE_SMALL
    finding = rotation_finding(yaw.estimate, visit.settings)
    return finding, ACROSS if finding == "unclear" else ""


def is_small(visit: VisitBouts, yaw: Kept) -> bool:
    """Whether the baseline's swing is too small to tell what a bout kept, alone or by its floor.

    Notes
    -----
    A swing that varies holds a part that does not go with the strides, the floor f. It
    makes the baseline b too large, ``b^2 - f^2`` being the square of the rest, and leaves
    f even to a trunk that keeps nothing. Up to some share of b, a finding is told if the
    interval allows one with both allowed for as well. An interval that allows none by itself
    allows none then either, so that all bouts without a finding have the same reason.
    """
    if yaw.baseline_deg < visit.settings.baseline_least_deg:
        return True
    share = _floor_of(visit, yaw.used) / yaw.baseline_deg
    if share * visit.settings.baseline_floor_ratio <= 1.0:
        return False
    if share > evidence.BASELINE_FLOOR_MOST.value:
        return True
    low, high = yaw.estimate.ci_low, yaw.estimate.ci_high
    low = float(np.sqrt(max(low**2 - (100.0 * share) ** 2, 0.0)))
    certain = replace(yaw.estimate, ci_low=low, ci_high=high / float(np.sqrt(1.0 - share**2)))
    return rotation_finding(certain, visit.settings) == "unclear"


def _floor_of(visit: VisitBouts, walks: Sequence[int]) -> float:
    """Return the mean floor of free walks [deg], 0 where none is known."""
    floors = [floor_deg(visit.bouts[k]) for k in walks]
    return float(np.nanmean(floors)) if np.isfinite(floors).any() else 0.0


def floor_deg(data: BoutData) -> float:
    """Return the median over the kept strides of what unlocked motion alone would give [deg]."""
    if data.yaw is None:
        return float("nan")
    floors = data.yaw.floor_rad[data.strides.kept_yaw]
    floors = floors[np.isfinite(floors)]
    return float(np.degrees(np.median(floors))) if floors.size else float("nan")


def _arm_score(
    visit: VisitBouts, index: int, free: Sequence[int], side: Side,
    name: str = "arm_swing_kept", alone: str = "no_free_walk",
) -> Score:  # fmt: skip
    kept = kept_of(visit, index, free, SWING, side, "no_wrist_sensor", alone)
    estimate = kept.estimate
    if kept.baseline_deg < visit.settings.arm_baseline_least_deg:
        estimate = Estimate(missing_because=BASELINE_SMALL)
    own = find_score(visit.scores[index], SWING, side)
    role = own.role if own is not None else "none"
    return Score(visit.bouts[index].row.bout, name, side, role, "%", estimate)


def _score(visit: VisitBouts, index: int, measure: str, estimate: Estimate) -> Score:
    return Score(visit.bouts[index].row.bout, measure, "none", "none", "%", estimate)


def _names(visit: VisitBouts, indices: Sequence[int]) -> tuple[str, ...]:
    return tuple(visit.bouts[k].row.bout for k in indices)


def _notices(visit: VisitBouts, index: int, yaw: Kept, finding: str) -> tuple[Notice, ...]:
    """Everything that a person should know before believing a carry's comparison."""
    if not yaw.used or is_free(visit.bouts[index]):
        return ()
    found = find_score(visit.scores[index], YAW)
    pace = match_notices(visit, index, yaw.used, "" if is_small(visit, yaw) else finding)
    return (
        *(small_notices(yaw.baseline_deg, visit.settings.baseline_least_deg,
                        _floor_of(visit, yaw.used)) if is_small(visit, yaw) else ()),
        *baseline_notices(visit, yaw.used, YAW),
        *pace,
        *(
            more_notices(yaw.estimate, pace, visit.bouts[index].row.bout)
            if not is_small(visit, yaw) else ()
        ),
        *motion_notices(
            visit, index, yaw.used, found.estimate.value if found else float("nan"),
            floor_deg(visit.bouts[index]),
        ),
    )  # fmt: skip

"""What a person should know before believing a comparison with the free walk."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import BoutData, Notice
from imucarry.basics.statistics import t_quantile
from imucarry.carry.kept import WalkMean
from imucarry.carry.pace import alike, read_cadence
from imucarry.carry.visit import Visit, grouped_means, is_free, started_at


def baseline_notices(visit: Visit, free: Sequence[int], measure: str) -> tuple[Notice, ...]:
    """Notices about the baseline itself: a single walk, or one that moved."""
    names = ", ".join(visit.bouts[k].row.bout for k in free)
    if len(free) == 1:
        return (
            Notice(
                "one_free_walk",
                "compared with one free walk only: how much this person's walks differ is taken "
                "from the setting between_walk_cv_pct, not from this visit",
                where=names,
            ),
        )
    moved = _moved(visit, free, measure)
    return () if moved is None else (moved,)


def _moved(visit: Visit, free: Sequence[int], measure: str) -> Notice | None:
    """Tell when earlier and later free walks differ by more than walks do by chance.

    Notes
    -----
    1. The walks of the baseline are split at the first carry, else in the middle.
    2. Only walks of like pace are compared, where pace is known; their changes are
       averaged.
    3. The interval takes walk-to-walk variation from the setting alone: the walks
       that may have moved cannot say how much walks differ.
    """
    ordered = sorted(free, key=lambda k: started_at(visit.bouts[k]))
    means = grouped_means(visit, ordered, measure, "none")
    early, late = _split(visit, list(means))
    both = {means[k].group for k in early} & {means[k].group for k in late}
    if not both:
        return None
    early, late = ([k for k in part if means[k].group in both] for part in (early, late))
    between = (visit.settings.between_walk_cv_pct / 100.0) ** 2
    parts = [
        _log_mean([means[k] for k in part if means[k].group == group], between)
        for group in both
        for part in (late, early)
    ]
    change = sum(mean for mean, _ in parts[::2]) - sum(mean for mean, _ in parts[1::2])
    error = float(np.sqrt(sum(variance for _, variance in parts))) / len(both)
    reach = t_quantile(0.5 + 0.5 * INTERVAL_LEVEL.value, visit.settings.between_walk_df) * error
    if abs(change / len(both)) <= reach:
        return None
    return _moved_notice(visit, early, late, float(np.expm1(change / len(both))))


def _moved_notice(
    visit: Visit, early: Sequence[int], late: Sequence[int], change_frac: float
) -> Notice:
    first, then = (", ".join(visit.bouts[k].row.bout for k in part) for part in (early, late))
    return Notice(
        "baseline_moved",
        f"the free walks moved: {then} turned {100.0 * change_frac:+.0f} % against {first}, "
        "more than walks differ by chance; fatigue, learning, a shifted sensor or another pace "
        "may be behind it",
        where=f"{first} / {then}",
        severity="check",
    )


def _split(visit: Visit, ordered: list[int]) -> tuple[list[int], list[int]]:
    """Split walks in time order at the first carry, else in the middle."""
    carries = [started_at(data) for data in visit.bouts if not is_free(data)]
    first = min(carries, default=float("-inf"))
    early = [k for k in ordered if started_at(visit.bouts[k]) < first]
    middle = len(early) if 0 < len(early) < len(ordered) else len(ordered) // 2
    return ordered[:middle], ordered[middle:]


def _log_mean(walks: Sequence[WalkMean], between: float) -> tuple[float, float]:
    """Mean of the logs of some walks, and its variance."""
    variances = [between + walk.log_se**2 for walk in walks]
    mean = float(np.mean(np.log([walk.mean for walk in walks])))
    return mean, float(np.sum(variances)) / len(walks) ** 2


def match_notices(
    visit: Visit, index: int, free: Sequence[int], near: Sequence[int]
) -> tuple[Notice, ...]:
    """Notices about speed and stride length, which change rotation by themselves.

    Where no distance tells them, cadence is looked at instead.
    """
    bout = visit.bouts[index].row.bout
    if not near:
        return (
            Notice(
                "speed_not_checked",
                "speed not checked: less rotation may be shorter steps",
            ),
            *_cadence_notices(visit, index, free),
        )
    pace = visit.paces[index]
    if any(alike(pace, visit.paces[k], visit.settings.speed_match_pct) for k in near):
        return ()
    other = visit.paces[near[0]]
    return (
        Notice(
            "speed_differs",
            f"no free walk of like speed and stride length; the nearest, "
            f"{visit.bouts[near[0]].row.bout}, was walked at {other.speed_mps:.2f} m/s with "
            f"{other.stride_length_m:.2f} m strides, this bout at {pace.speed_mps:.2f} m/s with "
            f"{pace.stride_length_m:.2f} m: less rotation may be shorter steps",
            where=bout,
            severity="check",
        ),
    )


def _cadence_notices(visit: Visit, index: int, free: Sequence[int]) -> tuple[Notice, ...]:
    """Tell when a bout's cadence is far from the mean of the free walks it is compared with."""
    own = read_cadence(visit.scores[index])
    each = {k: read_cadence(visit.scores[k]) for k in free}
    known = {k: cadence for k, cadence in each.items() if np.isfinite(cadence)}
    if not known or not np.isfinite(own):
        return ()
    mean = float(np.mean(list(known.values())))
    if abs(np.log(own / mean)) <= np.log1p(evidence.CADENCE_MATCH_PCT.value / 100.0):
        return ()
    walks = ", ".join(f"{visit.bouts[k].row.bout} {cadence:.0f}" for k, cadence in known.items())
    bout = visit.bouts[index].row.bout
    return (
        Notice(
            "cadence_differs",
            f"cadence differs from the free walk's by {100.0 * (own / mean - 1.0):+.0f} %: this "
            f"bout {own:.0f} steps/min, compared with {walks}; without a distance it cannot be "
            "told whether speed or length of steps is behind it, and either changes rotation by "
            "itself: the share kept may be pace and not the carry. Give lane_m, or name free "
            "walks of like pace under baseline",
            where=bout,
            severity="check",
        ),
    )


def motion_notices(
    visit: Visit, index: int, free: Sequence[int], range_deg: float, floor_deg: float
) -> tuple[Notice, ...]:
    """Notices about the bout's own rotation: near its floor, or at an unusual phase."""
    bout = visit.bouts[index].row.bout
    found = []
    if range_deg < evidence.NEAR_FLOOR_RATIO.value * floor_deg:
        found.append(
            Notice(
                "yaw_near_floor",
                "rotation is close to what motion that is not locked to the stride gives: "
                "the kept share is at most what is shown",
                where=bout,
            )
        )
    gap = phase_gap_deg(visit.bouts[index], [visit.bouts[k] for k in free])
    if gap > visit.settings.phase_far_deg:
        found.append(
            Notice(
                "phase_unusual",
                f"rotation is not in its usual phase ({gap:.0f} deg of the stride from the free "
                "walk's): the trunk may be turning with the pelvis",
                where=bout,
                severity="check",
            )
        )
    return tuple(found)


def phase_gap_deg(data: BoutData, free: Sequence[BoutData]) -> float:
    """Return how far a bout's mean phase to the steps is from the free walks' [deg], 0..180."""
    own = _mean_phasor([data])
    usual = _mean_phasor(free)
    least = evidence.PHASE_LEAST_R.value
    if not (abs(own) >= least and abs(usual) >= least):
        return float("nan")
    return float(abs(np.degrees(np.angle(own * np.conj(usual)))))


def _mean_phasor(bouts: Sequence[BoutData]) -> complex:
    """Return the mean direction of the kept strides' phase, equal weight a bout."""
    each = []
    for data in bouts:
        phase = data.columns.get("sternum_yaw_phase_deg", np.empty(0))
        phase = phase[data.strides.kept_yaw] if phase.size else phase
        phase = phase[np.isfinite(phase)]
        if phase.size:
            each.append(complex(np.exp(1j * np.radians(phase)).mean()))
    return complex(np.mean(each)) if each else complex("nan")

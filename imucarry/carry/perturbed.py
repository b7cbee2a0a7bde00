"""Carries with a load that swings on elastic: is the motion's spread larger or smaller?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import (
    SIDES,
    BoolArray,
    BoutData,
    Estimate,
    FloatArray,
    IntArray,
    Score,
    Side,
    Strides,
)
from imucarry.basics.statistics import Interval, log_ratio_interval, mean_interval, neighbours


@dataclass(frozen=True, slots=True)
class Deviations:
    """Mean squares of strides about their pass [rad^2], with pass and place; shape (K,)."""

    square_rad2: FloatArray
    pass_number: IntArray
    position: IntArray


NOTHING = Deviations(np.empty(0), np.empty(0, np.int64), np.empty(0, np.int64))


def spread_scores(bouts: Sequence[BoutData], index: int) -> tuple[Score, ...]:
    """Compare the spread of a perturbed bout's paths with the unperturbed bouts'.

    Parameters
    ----------
    bouts : sequence of BoutData
        All bouts of the visit.
    index : int

    Returns
    -------
    tuple of Score
        ``yaw_path_spread_ratio`` and, for each worn wrist, ``arm_path_spread_ratio``:
        SD of the path over all perturbed repeats of the same hold, side and load,
        divided by that of the unperturbed ones. Empty for an unperturbed bout. More
        or less spread is neither good nor bad; an interval that holds 1 is unclear.
    """
    row = bouts[index].row
    if row.perturbed == "none":
        return ()
    same = [data for data in bouts if _condition(data) == _condition(bouts[index])]
    pushed = [data for data in same if data.row.perturbed == row.perturbed]
    steady = [data for data in same if data.row.perturbed == "none"]
    yaw = spread_ratio(*([_yaw_deviations(d) for d in part] for part in (pushed, steady)))
    scores = [Score(row.bout, "yaw_path_spread_ratio", "none", "none", "1", yaw)]
    for side in SIDES:
        if side in bouts[index].swing:
            arm = spread_ratio(
                *([_arm_deviations(d, side) for d in part] for part in (pushed, steady))
            )
            scores.append(Score(row.bout, "arm_path_spread_ratio", side, "none", "1", arm))
    return tuple(scores)


def _condition(data: BoutData) -> tuple[str, str, str, str, float]:
    row = data.row
    return row.hold, row.left_hold, row.right_hold, row.loaded_side, round(row.load_kg, 3)


def _yaw_deviations(data: BoutData) -> Deviations:
    if data.yaw is None:
        return NOTHING
    return path_deviations(data.yaw.curve_rad, data.strides, data.strides.kept_yaw)


def _arm_deviations(data: BoutData, side: Side) -> Deviations:
    swing = data.swing.get(side)
    kept = data.strides.kept_left_arm if side == "left" else data.strides.kept_right_arm
    if swing is None or swing.range_rad.size != kept.size:
        return NOTHING
    return path_deviations(swing.angle_curve_rad, data.strides, kept)


def path_deviations(curves: FloatArray, strides: Strides, kept: BoolArray) -> Deviations:
    """Mean square of each kept stride's path about the mean path of its own pass.

    Parameters
    ----------
    curves : ndarray, shape (S, 101) [rad]
    strides : Strides
    kept : ndarray of bool, shape (S,)

    Returns
    -------
    Deviations
        Scaled by m / (m - 1) with m strides in the pass, so that their mean is an
        unbiased variance; passes with one stride are left out.
    """
    good = kept & np.isfinite(curves).all(axis=1)
    square = np.full(kept.size, np.nan)
    for number in np.unique(strides.pass_number[good]):
        rows = good & (strides.pass_number == number)
        n_rows = int(rows.sum())
        if n_rows > 1:
            deviation = curves[rows] - curves[rows].mean(axis=0)
            square[rows] = (deviation**2).mean(axis=1) * n_rows / (n_rows - 1)
    used = np.isfinite(square)
    return Deviations(square[used], strides.pass_number[used], strides.stride_in_pass[used])


def spread_ratio(pushed: Sequence[Deviations], steady: Sequence[Deviations]) -> Estimate:
    """Ratio of two SDs from the mean squares of their strides, with its interval.

    Notes
    -----
    1. log variance of each condition from the mean over all strides.
    2. Its standard error by the delta method from the scatter of the mean squares,
       likeness of neighbours allowed for, and from bout to bout where a condition
       has three repeats; the larger of the two.
    3. t interval of half the difference of the logs, Satterthwaite df.
    """
    if not any(item.square_rad2.size for item in steady):
        return Estimate(missing_because="no_unperturbed_bout")
    one, other = _log_variance(pushed), _log_variance(steady)
    if one is None or other is None:
        return Estimate(missing_because="too_few_strides")
    ratio = log_ratio_interval(one, other)
    return Estimate(
        float(np.exp(0.5 * ratio.value)),
        float(np.exp(0.5 * ratio.low)),
        float(np.exp(0.5 * ratio.high)),
        ratio.n,
    )


def _log_variance(bouts: Sequence[Deviations]) -> Interval | None:
    """Pooled variance of a condition with its error, or None where strides are too few."""
    bouts = [item for item in bouts if item.square_rad2.size]
    if sum(item.square_rad2.size for item in bouts) < evidence.SPREAD_LEAST_STRIDES.value:
        return None
    square = np.concatenate([item.square_rad2 for item in bouts])
    if square.mean() <= 0:
        return None
    # Passes of different bouts are different passes.
    lift = 1 + max(int(item.pass_number.max()) for item in bouts)
    order = neighbours(
        np.concatenate([item.pass_number + k * lift for k, item in enumerate(bouts)]),
        np.concatenate([item.position for item in bouts]),
    )
    within = mean_interval(square, order)
    between = mean_interval(np.array([item.square_rad2.mean() for item in bouts]))
    if len(bouts) > 2 and between.standard_error > within.standard_error:
        return replace(within, standard_error=between.standard_error,
                       degrees_of_freedom=between.degrees_of_freedom)  # fmt: skip
    return within

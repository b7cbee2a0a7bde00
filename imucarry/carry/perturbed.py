"""Carries with a load that swings on elastic: is the motion's spread larger or smaller?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.evidence.measures import (
    INTERVAL_LEVEL,
    LEAST_VARIANCE_KEPT_FRAC,
    MOST_CORRELATION,
)
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
from imucarry.basics.statistics import mean_interval, neighbours, t_quantile
from imucarry.basics.statistics.neighbours import variance_inflation
from imucarry.carry.implements import implement_key

LIKENESS = np.linspace(0.0, MOST_CORRELATION.value, 19)
"""Correlations of neighbouring strides that are tried."""


@dataclass(frozen=True, slots=True)
class Deviations:
    """Strides' paths about the mean path of their own pass.

    Attributes
    ----------
    square_rad2 : ndarray, shape (K,) [rad^2]
        Mean square of each stride's path.
    next_rad2 : ndarray, shape (K,) [rad^2]
        Mean product with the path of the stride that follows; NaN where none does.
    pass_number, position : ndarray of int, shape (K,)
    """

    square_rad2: FloatArray
    next_rad2: FloatArray
    pass_number: IntArray
    position: IntArray


NOTHING = Deviations(
    np.empty(0), np.empty(0), np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64)
)


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
        SD of the path over all perturbed repeats of the same hold, side, load and
        implement, divided by that of the unperturbed ones. Empty for an unperturbed bout. More
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


def _condition(data: BoutData) -> tuple[str, str, str, str, str, float]:
    row = data.row
    implement, load_kg = implement_key(row.implement), round(row.load_kg, 3)
    return row.hold, row.left_hold, row.right_hold, row.loaded_side, implement, load_kg


def _yaw_deviations(data: BoutData) -> Deviations:
    if data.yaw is None:
        return NOTHING
    return path_deviations(data.yaw.curve_rad, data.strides, data.strides.kept_yaw)


def _arm_deviations(data: BoutData, side: Side) -> Deviations:
    swing = data.swing.get(side)
    kept = data.strides.kept_arm(side)
    if swing is None or swing.range_rad.size != kept.size:
        return NOTHING
    return path_deviations(swing.angle_curve_rad, data.strides, kept)


def path_deviations(curves: FloatArray, strides: Strides, kept: BoolArray) -> Deviations:
    """Return how each kept stride's path departs from the mean path of its own pass.

    Parameters
    ----------
    curves : ndarray, shape (S, 101) [rad]
    strides : Strides
    kept : ndarray of bool, shape (S,)

    Returns
    -------
    Deviations
        Passes with one stride are left out.
    """
    good = np.flatnonzero(kept & np.isfinite(curves).all(axis=1))
    run, place = strides.pass_number[good], strides.stride_in_pass[good]
    _, of_pass, n_strides = np.unique(run, return_inverse=True, return_counts=True)
    many = n_strides[of_pass] > 1
    good, run, place, of_pass = good[many], run[many], place[many], of_pass[many]
    away = curves[good]
    for number in np.unique(of_pass):
        away[of_pass == number] -= away[of_pass == number].mean(axis=0)
    following = np.full(good.size, np.nan)
    adjacent = np.flatnonzero(neighbours(run, place).adjacent)
    following[adjacent] = (away[adjacent] * away[adjacent + 1]).mean(axis=1)
    return Deviations((away**2).mean(axis=1), following, run, place)


def spread_ratio(pushed: Sequence[Deviations], steady: Sequence[Deviations]) -> Estimate:
    """Ratio of two SDs from the mean squares of their strides, with its interval.

    Notes
    -----
    1. Log variance of each condition from the mean over all strides, each freed of what
       the mean path of its pass takes from it (`freed`); the likeness of neighbouring
       strides is taken to be one with elastic and without.
    2. Its error by the delta method from the scatter of the mean squares, likeness of
       neighbours allowed for, and from bout to bout: `SPREAD_BETWEEN_BOUTS_PCT` counted
       as `BETWEEN_WALK_DF` degrees of freedom, pooled with what the repeats show.
    3. t interval of half the difference of the logs, Satterthwaite df.
    """
    conditions = [[item for item in part if item.square_rad2.size] for part in (pushed, steady)]
    if not conditions[1]:
        return Estimate(missing_because="no_unperturbed_bout")
    least = evidence.SPREAD_LEAST_STRIDES.value
    n_strides = [sum(item.square_rad2.size for item in part) for part in conditions]
    if min(n_strides) < least:
        return Estimate(missing_because="too_few_strides")
    alike = likeness([item for part in conditions for item in part])
    found = [_pooled(part, alike) for part in conditions]
    if not all(np.isfinite(part.bout_log).all() for part in found):
        return Estimate(missing_because="too_few_strides")
    between, df_between = _between_bouts(found)
    terms = [(part.log_se**2, part.df) for part in found]
    terms.append((between * sum(part.square_share for part in found), df_between))
    total = sum(variance for variance, _ in terms)
    df = total**2 / sum(variance**2 / df for variance, df in terms)
    reach = t_quantile(0.5 + 0.5 * INTERVAL_LEVEL.value, df) * np.sqrt(total)
    value = np.log(found[0].variance / found[1].variance)
    middle, low, high = np.exp(0.5 * (value + np.array([0.0, -reach, reach]))).tolist()
    return Estimate(middle, low, high, min(n_strides))


@dataclass(frozen=True, slots=True)
class _Pooled:
    """Variance of a condition, the error of its log, and what its bouts say by themselves."""

    variance: float
    log_se: float
    df: float
    square_share: float  # sum of the squares of the bouts' shares of the strides
    bout_log: FloatArray
    bout_log_se2: FloatArray


def _pooled(bouts: Sequence[Deviations], alike: float) -> _Pooled:
    squares = [freed(item, alike) for item in bouts]
    # Passes of different bouts are different passes.
    lift = 1 + max(int(item.pass_number.max()) for item in bouts)
    runs = [item.pass_number + k * lift for k, item in enumerate(bouts)]
    places = [item.position for item in bouts]
    whole = mean_interval(
        np.concatenate(squares), neighbours(np.concatenate(runs), np.concatenate(places))
    )
    each = [
        mean_interval(square, neighbours(run, place))
        for square, run, place in zip(squares, runs, places, strict=True)
    ]
    share = np.array([square.size for square in squares]) / whole.n
    means = np.array([mean.value for mean in each])
    errors = np.array([mean.standard_error for mean in each])
    with np.errstate(divide="ignore", invalid="ignore"):
        return _Pooled(
            whole.value,
            float(np.divide(whole.standard_error, whole.value)),
            whole.degrees_of_freedom,
            float((share**2).sum()),
            np.log(means),
            (errors / means) ** 2,
        )


def _between_bouts(conditions: Sequence[_Pooled]) -> tuple[float, float]:
    """Return the variance of log variances from bout to bout beyond stride noise, and its df."""
    prior_df = evidence.BETWEEN_WALK_DF.value
    squares = prior_df * (2.0 * evidence.SPREAD_BETWEEN_BOUTS_PCT.value / 100.0) ** 2
    df = prior_df
    for part in conditions:
        own_df = part.bout_log.size - 1
        about = part.bout_log - part.bout_log.mean()
        squares += float(about @ about) - own_df * float(part.bout_log_se2.mean())
        df += own_df
    return max(squares / df, 0.0), df


def freed(part: Deviations, alike: float) -> FloatArray:
    """Return mean squares freed of what the mean path of each pass takes from them.

    Parameters
    ----------
    part : Deviations
    alike : float
        Correlation of neighbouring strides.

    Returns
    -------
    ndarray, shape (K,) [rad^2]
        Times m / (m - V) for m strides in the pass, whose mean varies V times as much
        as that of unlike strides: their mean is then an unbiased variance.
    """
    free = np.empty(part.square_rad2.size)
    for number in np.unique(part.pass_number):
        rows = part.pass_number == number
        m = int(rows.sum())
        inflation = variance_inflation(alike, neighbours(np.zeros(m), part.position[rows]))
        left = max(m - inflation, LEAST_VARIANCE_KEPT_FRAC.value * (m - 1))
        free[rows] = part.square_rad2[rows] * m / left
    return free


def likeness(parts: Sequence[Deviations]) -> float:
    """Return the correlation of neighbouring strides' paths, 0 to `MOST_CORRELATION`.

    Notes
    -----
    The ratio of mean product and mean square that a first-order autoregression would
    show about the means of these very passes, compared with the one seen. Passes of
    two strides say nothing of it.
    """
    squares, products, seen = np.zeros(LIKENESS.size), np.zeros(LIKENESS.size), np.zeros(2)
    for part in parts:
        for number in np.unique(part.pass_number):
            rows = part.pass_number == number
            if rows.sum() > 2:
                expected = _expected(part.position[rows])
                squares, products = squares + expected[0], products + expected[1]
                seen += part.square_rad2[rows].sum(), np.nansum(part.next_rad2[rows])
    if not seen[0] > 0.0:
        return 0.0
    return float(np.interp(seen[1] / seen[0], products / squares, LIKENESS))


def _expected(position: IntArray) -> tuple[FloatArray, FloatArray]:
    """Sums of squares and of neighbours' products about a pass's mean, by likeness."""
    lags = np.abs(position[:, None] - position)
    adjacent = np.flatnonzero(np.diff(position) == 1)
    squares, products = np.empty(LIKENESS.size), np.empty(LIKENESS.size)
    for k, alike in enumerate(LIKENESS):
        alike_at = alike**lags
        row, whole = alike_at.mean(axis=1), alike_at.mean()
        squares[k] = position.size * (1.0 - whole)
        products[k] = (alike - row[adjacent] - row[adjacent + 1] + whole).sum()
    return squares, products

"""How much of the free walk's motion a bout kept, with an interval."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import BoolArray, BoutData, Estimate, FloatArray, Score
from imucarry.basics.settings import CarrySettings
from imucarry.basics.statistics import mean_interval, neighbours, t_quantile

BASELINE_SMALL: Final = "baseline_small"
ACROSS: Final = "interval_holds_threshold"
"""Codes of why a finding is unclear: too little to compare with, or limits across a threshold."""


@dataclass(frozen=True, slots=True)
class WalkMean:
    """The mean of one walk over its strides.

    Attributes
    ----------
    bout : str
    mean : float
        In the measure's unit, above 0.
    log_se : float
        Standard error of the mean from its strides alone, as a fraction of the mean.
    df : float
        Degrees of freedom of `log_se`.
    n_used : int
    group : int
        Walks of one group were walked alike (speed, stride length).
    """

    bout: str
    mean: float
    log_se: float
    df: float
    n_used: int
    group: int = 0


@dataclass(frozen=True, slots=True)
class LogRatio:
    """Log of a bout's mean against the baseline's, with the parts of its standard error."""

    value: float
    se_bout: float
    se_baseline: float
    df: float


def find_score(scores: Sequence[Score], measure: str, side: str = "none") -> Score | None:
    """Return the score of a measure and side, or None."""
    found = (score for score in scores if score.measure == measure and score.side == side)
    return next(found, None)


def walk_mean(data: BoutData, score: Score | None) -> WalkMean | None:
    """Return the mean behind a score, or None where it has no value or no error.

    Parameters
    ----------
    data : BoutData
    score : Score or None
        Of ``sternum_yaw_range`` or ``arm_swing``.

    Notes
    -----
    The standard error comes from the bout's strides, likeness of neighbours allowed
    for. Without strides (no chest sensor) it is read back from the score's interval, from its
    upper half alone where the lower limit is cut at 0.
    """
    if score is None or not score.estimate.value > 0:
        return None
    value, n_used = score.estimate.value, score.estimate.n_used
    error, freedom = _stride_error(data, score)
    if not np.isfinite(error):
        low, high = score.estimate.ci_low, score.estimate.ci_high
        half = high - value if low == 0.0 else 0.5 * (high - low)
        freedom = float(max(n_used - 1, 1))
        error = half / t_quantile(0.5 + 0.5 * INTERVAL_LEVEL.value, freedom)
    if not np.isfinite(error):
        return None
    return WalkMean(score.bout, value, error / value, freedom, n_used)


def _stride_error(data: BoutData, score: Score) -> tuple[float, float]:
    """Return the standard error of a bout's mean over its strides and its df, or NaN."""
    values, kept = _stride_values(data, score)
    if data.trunk is None or values.size != kept.size:
        return float("nan"), float("nan")
    strides = data.strides
    order = neighbours(strides.pass_number[kept], strides.stride_in_pass[kept])
    interval = mean_interval(values[kept], order)
    return interval.standard_error, interval.degrees_of_freedom


def _stride_values(data: BoutData, score: Score) -> tuple[FloatArray, BoolArray]:
    """Return the per-stride column behind a score, and which strides count."""
    column, kept = {
        "none": ("sternum_yaw_range_deg", data.strides.kept_yaw),
        "left": ("left_arm_swing_deg", data.strides.kept_left_arm),
        "right": ("right_arm_swing_deg", data.strides.kept_right_arm),
    }[score.side]
    return data.columns.get(column, np.empty(0)), kept


def between_walk_variance(free: Sequence[WalkMean], settings: CarrySettings) -> tuple[float, float]:
    """Variance of log means from walk to walk, beyond stride noise, and its df.

    Parameters
    ----------
    free : sequence of WalkMean
        This visit's free walks; only walks of the same group are compared.
    settings : CarrySettings

    Returns
    -------
    variance : float
        Pooled by degrees of freedom with the prior of the settings.
    df : float

    Notes
    -----
    1. Within each group: squares of the log means about the group's mean, less
       the squares that stride noise alone is expected to give.
    2. Prior: ``between_walk_cv`` as a pseudo-sample of ``between_walk_df``.
    3. Pool: (prior df x prior variance + squares) / (prior df + own df).
    """
    squares, own_df = 0.0, 0
    for group in {walk.group for walk in free}:
        logs = np.log([walk.mean for walk in free if walk.group == group])
        noise = np.mean([walk.log_se**2 for walk in free if walk.group == group])
        squares += float(((logs - logs.mean()) ** 2).sum() - (logs.size - 1) * noise)
        own_df += logs.size - 1
    prior = (settings.between_walk_cv_pct / 100.0) ** 2
    df = settings.between_walk_df + own_df
    return max((settings.between_walk_df * prior + squares) / df, 0.0), df


def log_ratio(
    walk: WalkMean, baseline: Sequence[WalkMean], free: Sequence[WalkMean], settings: CarrySettings
) -> LogRatio:
    """Log of a walk's mean over the mean of the baseline's walks, equal weight a walk.

    Notes
    -----
    The variance has four parts, each with its own degrees of freedom: walk-to-walk
    variation of the bout and of the B baseline walks, v (1 + 1/B); stride noise of
    the bout; stride noise of the baseline. The degrees of freedom of the sum follow
    Satterthwaite (1946, Biometrics Bulletin 2:110-114).
    """
    between, df_between = between_walk_variance(free, settings)
    means = np.array([item.mean for item in baseline])
    share = means / means.sum()
    noise_terms = [(walk.log_se**2, walk.df)] + [
        ((part * item.log_se) ** 2, item.df) for part, item in zip(share, baseline, strict=True)
    ]
    between_baseline = between * float((share**2).sum())
    var_bout = between + walk.log_se**2
    var_baseline = between_baseline + sum(variance for variance, _ in noise_terms[1:])
    terms = [(between + between_baseline, df_between), *noise_terms]
    spread = sum(variance**2 / df for variance, df in terms)
    df = (var_bout + var_baseline) ** 2 / spread if spread > 0 else df_between
    value = float(np.log(walk.mean / means.mean()))
    return LogRatio(value, float(np.sqrt(var_bout)), float(np.sqrt(var_baseline)), float(df))


def percent(ratio: LogRatio, n_used: int) -> Estimate:
    """Put a log ratio into per cent with its interval."""
    se = float(np.hypot(ratio.se_bout, ratio.se_baseline))
    half = t_quantile(0.5 + 0.5 * INTERVAL_LEVEL.value, ratio.df) * se
    limits = 100.0 * np.exp(ratio.value + np.array([-half, 0.0, half]))
    return Estimate(float(limits[1]), float(limits[0]), float(limits[2]), n_used)


def rotation_finding(kept: Estimate, settings: CarrySettings) -> str:
    """Name what the interval of the kept rotation allows to say."""
    if kept.ci_high < settings.reduced_pct:
        return "minimal" if kept.ci_high < settings.minimal_pct else "reduced"
    return "rotates" if kept.ci_low > settings.reduced_pct else "unclear"

"""Effective numbers of strides, intervals, spread, circular statistics.

`neighbours` says which strides follow each other; `mean_interval` and its
relatives use it to allow for the likeness of neighbouring strides. Every 95 %
interval here estimates the person's long-run value in the condition of the bout:
another bout of the same person may differ by more, and `carry` allows for that.
"""

from imucarry.basics.statistics.circular import (
    circular_difference,
    circular_interval,
    circular_mean,
    resultant_interval,
    resultant_length,
)
from imucarry.basics.statistics.clusters import clustered_slope
from imucarry.basics.statistics.distributions import (
    chi2_quantile,
    normal_quantile,
    t_quantile,
)
from imucarry.basics.statistics.means import (
    Interval,
    influence_interval,
    mean_interval,
    mean_only,
    scaled,
    share_interval,
    slope_interval,
)
from imucarry.basics.statistics.neighbours import Neighbours, neighbours, subset, unrelated
from imucarry.basics.statistics.ratios import (
    log_ratio_interval,
    paired_log_ratio,
)
from imucarry.basics.statistics.spread import (
    cv_interval,
    robust_sd,
    robust_sd_interval,
    sd_interval,
)

__all__ = [
    "Interval",
    "Neighbours",
    "chi2_quantile",
    "circular_difference",
    "circular_interval",
    "circular_mean",
    "clustered_slope",
    "cv_interval",
    "influence_interval",
    "log_ratio_interval",
    "mean_interval",
    "mean_only",
    "neighbours",
    "normal_quantile",
    "paired_log_ratio",
    "resultant_interval",
    "resultant_length",
    "robust_sd",
    "robust_sd_interval",
    "scaled",
    "sd_interval",
    "share_interval",
    "slope_interval",
    "subset",
    "t_quantile",
    "unrelated",
]

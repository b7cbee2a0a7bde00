"""Intervals that let values of one person, or of any cluster, be alike."""

from __future__ import annotations

import math

import numpy as np

from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import FloatArray, IntArray
from imucarry.basics.statistics.distributions import t_quantile
from imucarry.basics.statistics.means import Interval


def clustered_slope(x: FloatArray, y: FloatArray, cluster: IntArray) -> Interval:
    """Return the least-squares slope of y on x; values of one cluster may be alike.

    Parameters
    ----------
    x, y : ndarray, shape (n,)
    cluster : ndarray of int, shape (n,)
        Whose values they are.

    Returns
    -------
    Interval
        NaN with fewer than 2 clusters, or where the slope is undefined without one.

    Notes
    -----
    Cluster jackknife (CV3): each cluster is left out in turn, and the variance is
    (G - 1) / G times the sum of squares of the slopes' changes, with G - 1 degrees of
    freedom for G clusters: MacKinnon, Nielsen & Webb 2023, J Appl Econometrics
    38:671-694; Bell & McCaffrey 2002, Survey Methodology 28:169-181 (both from memory,
    not confirmed; checked against a general statistics library, and its coverage is
    tested). With few clusters it is somewhat too wide rather than too narrow.
    """
    index = np.unique(cluster, return_inverse=True)[1]
    n_clusters = int(index.max()) + 1 if index.size else 0
    if n_clusters < 2:
        return Interval(n=int(x.size))
    x, y = x - x.mean(), y - y.mean()
    parts = np.array(
        [np.bincount(index, weights=values) for values in (np.ones_like(x), x, y, x * x, x * y)]
    )
    whole = parts.sum(axis=1)
    slope = float(_slopes(whole[:, None])[0])
    without = _slopes(whole[:, None] - parts)
    error = math.sqrt((n_clusters - 1) / n_clusters * float(((without - slope) ** 2).sum()))
    reach = t_quantile(0.5 + INTERVAL_LEVEL.value / 2.0, n_clusters - 1) * error
    return Interval(slope, slope - reach, slope + reach, error, n_clusters - 1, int(x.size))


def _slopes(sums: FloatArray) -> FloatArray:
    """Return slopes from columns of n and the sums of x, y, x^2 and xy; NaN where x is one."""
    n, x, y, xx, xy = sums
    with np.errstate(divide="ignore", invalid="ignore"):
        spread = xx - x * x / n
        # What is left of a spread of one value is rounding.
        slopes: FloatArray = np.where(spread > 1e-12 * xx, (xy - x * y / n) / spread, np.nan)
    return slopes

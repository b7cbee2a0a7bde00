"""A curve that never rises, fitted with a band."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import FloatArray
from imucarry.basics.statistics import t_quantile

UPPER = 0.5 + 0.5 * INTERVAL_LEVEL.value
LEAST_VARIANCE = 1e-12  # keeps the weights finite where strides do not differ at all


def falling_fit(values: FloatArray, weights: FloatArray) -> tuple[FloatArray, list[slice]]:
    """Weighted least-squares fit that never rises, and its blocks of equal value.

    Notes
    -----
    Pool adjacent violators: Ayer et al. 1955, Ann. Math. Statist. 26:641-647.
    """
    blocks: list[tuple[float, float, int]] = []
    for value, weight in zip(values.tolist(), weights.tolist(), strict=True):
        blocks.append((value, weight, 1))
        while len(blocks) > 1 and blocks[-1][0] > blocks[-2][0]:
            (one, w_one, n_one), (two, w_two, n_two) = blocks[-2:]
            total = w_one + w_two
            blocks[-2:] = [((one * w_one + two * w_two) / total, total, n_one + n_two)]
    ends = np.cumsum([count for _, _, count in blocks]).tolist()
    slices = [slice(end - block[2], end) for end, block in zip(ends, blocks, strict=True)]
    fit = np.repeat([value for value, _, _ in blocks], [count for _, _, count in blocks])
    return np.asarray(fit, dtype=np.float64), slices


def monotone_band(
    values: FloatArray,
    var_bout: FloatArray,
    var_shared: FloatArray,
    df: FloatArray,
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Fit a curve that never rises, with a band.

    Parameters
    ----------
    values, var_bout, var_shared, df : ndarray, shape (L,)
        Log of kept rotation at rising loads; the variance of each load's own part,
        the variance of the baseline's part that all loads share, and the degrees
        of freedom.

    Returns
    -------
    fit, low, high : ndarray, shape (L,)

    Notes
    -----
    1. The fit pools adjacent violators with weights 1 / var_bout.
    2. Where the truth never rises, a load's kept share is at least the mean over
       itself and any heavier loads, and at most the mean over itself and any
       lighter ones. The lower limit at a load is the t limit of the weighted mean
       from that load to the heavier end of its block; the upper limit that of the
       mean from the lighter end. The block was chosen after the loads were seen and the
       best of its limits is taken: each is at 1 - 0.025 / (loads of the block)
       (Bonferroni), or the band of 4 to 8 like loads holds the truth in 84 to 92 %
       instead of 95 % (simulated).
    3. Limits are made monotone: a limit that holds at a heavier load holds below it.
    4. Where the loads of a block contradict each other (one's limit lies beyond the
       fit), the band there reaches over the limits of each load by itself.
    """
    weights = 1.0 / np.maximum(var_bout, LEAST_VARIANCE)
    fit, blocks = falling_fit(values, weights)
    low, high = np.empty_like(fit), np.empty_like(fit)
    for block in blocks:
        n_loads = block.stop - block.start
        for k in range(block.start, block.stop):
            to_heavier, to_lighter = slice(k, block.stop), slice(block.start, k + 1)
            low[k] = _limit(to_heavier, values, weights, var_shared, df, -1.0, n_loads)
            high[k] = _limit(to_lighter, values, weights, var_shared, df, 1.0, n_loads)
    low = np.maximum.accumulate(low[::-1])[::-1]
    high = np.minimum.accumulate(high)
    crossed = (low > fit) | (high < fit)
    for block in blocks:
        if crossed[block].any():
            alone = [slice(k, k + 1) for k in range(block.start, block.stop)]
            low[block] = min(_limit(k, values, weights, var_shared, df, -1.0) for k in alone)
            high[block] = max(_limit(k, values, weights, var_shared, df, 1.0) for k in alone)
    return fit, np.minimum(low, fit), np.maximum(high, fit)


def _limit(
    part: slice,
    values: FloatArray,
    weights: FloatArray,
    var_shared: FloatArray,
    df: FloatArray,
    sign: float,
    n_limits: int = 1,
) -> float:
    """t limit of the weighted mean over some loads; the sign says lower or upper.

    One of so many limits that are to hold together.
    """
    total = weights[part].sum()
    mean = float((values[part] * weights[part]).sum() / total)
    upper = 1.0 - (1.0 - UPPER) / n_limits
    se = float(np.sqrt(1.0 / total + var_shared[part].mean()))
    return mean + sign * t_quantile(upper, float(df[part].mean())) * se

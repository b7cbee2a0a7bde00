"""The step period over time, from the trunk's mirror symmetry.

One step later the trunk moves as its own mirror image: forward and vertical
acceleration repeat, lateral acceleration changes sign. The lag at which that
holds best is the step period; twice the lag (a stride) and half the lag (the
second hump of the vertical) do not have it.
"""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.records import FloatArray, IntArray
from imucarry.walk.grid import filtered

N_LAGS = 37  # 4 % from lag to lag over two octaves


def step_lags_s() -> FloatArray:
    """Return the step periods that are tried, log-spaced [s]."""
    shortest = 0.5 / evidence.STRIDE_RATE_MAX_HZ.value
    longest = 0.5 / evidence.STRIDE_RATE_MIN_HZ.value
    return np.geomspace(shortest, 1.05 * longest, N_LAGS)


def mirror_correlation(
    acc_mps2: FloatArray, rate_hz: float, lags_s: FloatArray, hop: int
) -> FloatArray:
    """Return how well the trunk mirrors itself after each lag, over time.

    Parameters
    ----------
    acc_mps2 : ndarray, shape (N, 3) [m/s^2]
        Along forward, left, up, without gravity.
    rate_hz : float [Hz]
    lags_s : ndarray, shape (L,) [s]
    hop : int
        Samples from one row of the result to the next.

    Returns
    -------
    ndarray, shape (ceil(N / hop), L)
        1 is a perfect mirror image, 0 none.
    """
    x = filtered(
        acc_mps2,
        rate_hz,
        low_hz=evidence.RHYTHM_BAND_LOW_HZ.value,
        high_hz=evidence.RHYTHM_BAND_HIGH_HZ.value,
    )
    width = int(evidence.RHYTHM_WINDOW_S.value * rate_hz)
    # What repeats (forward and up) and what changes sign (left), a row each.
    forward, left, up = np.ascontiguousarray(x.T)
    level = window_means(np.stack([forward**2 + up**2, left**2]), width, hop)
    level += np.array(
        [[evidence.RHYTHM_EVEN_FLOOR_M2PS4.value], [evidence.RHYTHM_ODD_FLOOR_M2PS4.value]]
    )
    result = np.zeros((level.shape[1], lags_s.size))
    pair = np.zeros((2, x.shape[0]))
    for column, lag in enumerate(np.rint(lags_s * rate_hz).astype(int)):
        if lag >= x.shape[0]:
            continue
        # Each product belongs to the middle of its two samples.
        middle = slice(lag // 2, lag // 2 + x.shape[0] - lag)
        pair[:, : middle.start] = pair[:, middle.stop :] = 0.0
        np.multiply(forward[:-lag], forward[lag:], out=pair[0, middle])
        pair[0, middle] += up[:-lag] * up[lag:]
        np.multiply(left[:-lag], -left[lag:], out=pair[1, middle])
        result[:, column] = (window_means(pair, width, hop) / level).mean(axis=0)
    return result


def window_means(x: FloatArray, width: int, hop: int) -> FloatArray:
    """Centred moving means along the rows, at every `hop`-th sample alone.

    Parameters
    ----------
    x : ndarray, shape (C, N)
    width, hop : int

    Returns
    -------
    ndarray, shape (C, ceil(N / hop))
        The columns of `walk.grid.moving_mean`, thinned.
    """
    n_samples = x.shape[1]
    total = np.zeros((x.shape[0], n_samples + 1))
    np.cumsum(x, axis=1, out=total[:, 1:])
    index = np.arange(0, n_samples, hop)
    low = np.maximum(index - width // 2, 0)
    high = np.minimum(index + width // 2 + 1, n_samples)
    return np.asarray((total[:, high] - total[:, low]) / (high - low))


def without_multiples(mirror: FloatArray, lags_s: FloatArray) -> FloatArray:
    """Take from each lag part of what its half and its third have.

    Three steps later the trunk is mirrored too, and two steps later it nearly is
    where the sway is small.

    Parameters
    ----------
    mirror : ndarray, shape (R, L)
    lags_s : ndarray, shape (L,) [s]

    Returns
    -------
    ndarray, shape (R, L)
    """
    result = mirror.copy()
    for column, lag_s in enumerate(lags_s):
        for divisor in (2.0, 3.0):
            if lag_s / divisor < lags_s[0]:
                continue
            part = int(np.abs(lags_s - lag_s / divisor).argmin())
            near = mirror[:, max(part - 1, 0) : part + 2].max(axis=1)
            result[:, column] -= evidence.RHYTHM_MULTIPLE_FRAC.value * np.maximum(near, 0.0)
    return result


def smoothest_path(reward: FloatArray, lags_s: FloatArray) -> IntArray:
    """Return the row-by-row choice of lag with the most reward and the least change.

    Parameters
    ----------
    reward : ndarray, shape (R, L)
    lags_s : ndarray, shape (L,) [s]

    Returns
    -------
    ndarray of int, shape (R,)

    Notes
    -----
    Dynamic programming over rows (Viterbi 1967).
    """
    change = np.abs(np.log(lags_s[:, None] / lags_s[None, :]))
    cost = evidence.RHYTHM_CHANGE_COST.value * np.minimum(change, evidence.RHYTHM_JUMP_LIMIT.value)
    best = reward[0].copy()
    came_from = np.zeros(reward.shape, dtype=np.int64)
    columns = np.arange(lags_s.size)
    for row in range(1, reward.shape[0]):
        total = best[None, :] - cost
        came_from[row] = total.argmax(axis=1)
        best = reward[row] + total[columns, came_from[row]]
    path = np.empty(reward.shape[0], dtype=np.int64)
    path[-1] = best.argmax()
    for row in range(reward.shape[0] - 1, 0, -1):
        path[row - 1] = came_from[row, path[row]]
    return path


def step_rhythm(acc_mps2: FloatArray, rate_hz: float) -> tuple[FloatArray, FloatArray]:
    """Return the step period [s] and its strength (0 to 1) at every sample.

    Parameters
    ----------
    acc_mps2 : ndarray, shape (N, 3) [m/s^2]
        Along forward, left, up, without gravity.
    rate_hz : float [Hz]

    Returns
    -------
    period_s, strength : ndarray, shape (N,)
    """
    hop = max(1, int(evidence.RHYTHM_HOP_S.value * rate_hz))
    lags_s = step_lags_s()
    mirror = mirror_correlation(acc_mps2, rate_hz, lags_s, hop)
    path = smoothest_path(without_multiples(mirror, lags_s), lags_s)
    rows = np.arange(path.size)
    samples, knots = np.arange(acc_mps2.shape[0]), rows * hop
    period_s = np.exp(np.interp(samples, knots, np.log(lags_s[path])))
    strength = np.interp(samples, knots, mirror[rows, path])
    return period_s, strength

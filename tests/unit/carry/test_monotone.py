"""The band of a line that never rises holds what its level says."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.basics.statistics import t_quantile
from imucarry.carry.monotone import monotone_band

OWN_VARIANCE, SHARED_VARIANCE, DF = 0.006, 0.004, 20.0


def band(
    truth: np.ndarray, rng: np.random.Generator
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Log kept shares as they would be measured, with the line through them."""
    n = truth.size
    # Errors as large as estimated ones of so many degrees of freedom seem.
    scale = np.sqrt(DF / rng.chisquare(DF))
    errors = np.sqrt(OWN_VARIANCE) * rng.standard_normal(n)
    errors += np.sqrt(SHARED_VARIANCE) * rng.standard_normal()
    values = truth + scale * errors
    variances = np.full(n, OWN_VARIANCE), np.full(n, SHARED_VARIANCE), np.full(n, DF)
    return values, *monotone_band(values, *variances)


@pytest.mark.parametrize("n_loads", [1, 2, 4, 8])
def test_the_band_of_like_loads_holds_the_truth_at_each(n_loads: int) -> None:
    rng = np.random.default_rng(20)
    truth = np.zeros(n_loads)
    held = np.zeros(n_loads)
    for _ in range(1000):
        _, _, low, high = band(truth, rng)
        held += (low <= truth) & (truth <= high)
    assert held.min() / 1000 >= 0.93


def test_the_band_of_like_loads_is_narrower_than_the_limits_of_each() -> None:
    rng = np.random.default_rng(21)
    widths = [np.subtract(*band(np.zeros(4), rng)[:1:-1]).mean() for _ in range(300)]
    alone = 2.0 * t_quantile(0.975, DF) * np.sqrt(OWN_VARIANCE + SHARED_VARIANCE)
    assert np.mean(widths) < 0.95 * alone


def test_loads_that_fall_have_their_own_limits() -> None:
    values = np.array([0.0, -0.3, -0.6])
    variances = np.full(3, OWN_VARIANCE), np.full(3, SHARED_VARIANCE), np.full(3, DF)
    fit, low, high = monotone_band(values, *variances)
    reach = t_quantile(0.975, DF) * np.sqrt(OWN_VARIANCE + SHARED_VARIANCE)
    np.testing.assert_allclose(fit, values)
    np.testing.assert_allclose(low, values - reach)
    np.testing.assert_allclose(high, values + reach)

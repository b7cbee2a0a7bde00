"""Quantiles of the normal, Student's t and chi-square distributions.

``scipy.stats`` takes most of a second to import; ``scipy.special`` holds the same
quantiles and is imported when the first one is asked for.
"""

from __future__ import annotations

from functools import lru_cache

# Most bouts have a few numbers of strides, and most intervals the same level.
REMEMBERED = 1024


@lru_cache(REMEMBERED)
def normal_quantile(probability: float) -> float:
    """Return the quantile of the standard normal distribution."""
    from scipy.special import ndtri

    return float(ndtri(probability))


@lru_cache(REMEMBERED)
def t_quantile(probability: float, degrees_of_freedom: float) -> float:
    """Return the quantile of Student's t; the degrees of freedom may be a fraction."""
    from scipy.special import stdtrit

    return float(stdtrit(degrees_of_freedom, probability))


@lru_cache(REMEMBERED)
def chi2_quantile(probability: float, degrees_of_freedom: float) -> float:
    """Return the quantile of the chi-square distribution."""
    from scipy.special import gammaincinv

    return float(2.0 * gammaincinv(degrees_of_freedom / 2.0, probability))


def f_quantile(probability: float, numerator_df: float, denominator_df: float) -> float:
    """Return the quantile of the F distribution."""
    from scipy.special import betaincinv

    # The complement is worked out by itself: with many degrees of freedom the share rounds to 1.
    share = float(betaincinv(numerator_df / 2.0, denominator_df / 2.0, probability))
    rest = float(betaincinv(denominator_df / 2.0, numerator_df / 2.0, 1.0 - probability))
    return denominator_df * share / (numerator_df * rest)

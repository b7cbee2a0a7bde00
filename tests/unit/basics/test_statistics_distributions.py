"""Quantiles against scipy.stats, which is too slow to import where the package runs."""

from __future__ import annotations

import subprocess
import sys

import pytest
from scipy import stats

from imucarry.basics.statistics.distributions import (
    chi2_quantile,
    f_quantile,
    normal_quantile,
    t_quantile,
)

PROBABILITIES = (0.001, 0.025, 0.3, 0.5, 0.9, 0.975, 0.9995)
FREEDOMS = (1.0, 1.7, 4.0, 11.3, 40.0, 300.0)


@pytest.mark.parametrize("probability", PROBABILITIES)
def test_normal(probability: float) -> None:
    expected = stats.norm.ppf(probability)
    assert normal_quantile(probability) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("freedom", FREEDOMS)
@pytest.mark.parametrize("probability", PROBABILITIES)
def test_t_and_chi_square(probability: float, freedom: float) -> None:
    assert t_quantile(probability, freedom) == pytest.approx(
        stats.t.ppf(probability, freedom), rel=1e-8, abs=1e-8
    )
    assert chi2_quantile(probability, freedom) == pytest.approx(
        stats.chi2.ppf(probability, freedom), rel=1e-9
    )


@pytest.mark.parametrize(("one", "other"), [(5.0, 9.0), (22.5, 14.2), (200.0, 3.0)])
@pytest.mark.parametrize("probability", PROBABILITIES)
def test_f(probability: float, one: float, other: float) -> None:
    expected = stats.f.ppf(probability, one, other)
    assert f_quantile(probability, one, other) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("probability", PROBABILITIES)
def test_f_of_unlimited_freedom_is_chi_square(probability: float) -> None:
    # Not against f.ppf: before scipy 1.17 it is off by 0.1 % here.
    below = stats.chi2.ppf(probability, 20.0) / 20.0
    above = 20.0 / stats.chi2.isf(probability, 20.0)
    assert f_quantile(probability, 20.0, 1e15) == pytest.approx(below, rel=1e-9)
    assert f_quantile(probability, 1e15, 20.0) == pytest.approx(above, rel=1e-9)


@pytest.mark.parametrize("probability", PROBABILITIES)
def test_f_of_next_to_no_freedom(probability: float) -> None:
    largest = 1e300  # beyond it, scipy 1.17 says infinity and versions before it 2e303
    expected = min(stats.f.ppf(probability, 20.0, 1e-3), largest)
    found = min(f_quantile(probability, 20.0, 1e-3), largest)
    assert found == pytest.approx(expected, rel=1e-9)


def test_the_package_does_not_import_slow_modules() -> None:
    code = (
        "import sys, imucarry.measures.table, imucarry.measures.columns\n"
        "print([m for m in ('scipy.stats', 'scipy.signal', 'pandas') if m in sys.modules])"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "[]"

"""Bias and limits of Bland & Altman 1986; numbers retyped, see SOURCE.md."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.basics.limits_of_agreement import limits_of_agreement
from imucarry.basics.reliability import minimal_detectable_change, standard_error_of_measurement

LARGE = np.array(
    [[494, 490], [395, 397], [516, 512], [434, 401], [476, 470], [557, 611], [413, 415],
     [442, 431], [650, 638], [433, 429], [417, 420], [656, 633], [267, 275], [478, 492],
     [178, 165], [423, 372], [427, 421]], dtype=np.float64,
)  # fmt: skip
MINI = np.array(
    [[512, 525], [430, 415], [520, 508], [428, 444], [500, 500], [600, 625], [364, 460],
     [380, 390], [658, 642], [445, 432], [432, 420], [626, 605], [260, 227], [477, 467],
     [259, 268], [350, 370], [451, 443]], dtype=np.float64,
)  # fmt: skip
DIFFERENCES = LARGE[:, 0] - MINI[:, 0]


def test_bias_and_its_interval_as_printed() -> None:
    found = limits_of_agreement(DIFFERENCES, z=2.0)
    assert found.bias.value == pytest.approx(-2.1, abs=0.05)
    assert found.sd == pytest.approx(38.8, abs=0.05)
    # Printed from rounded SE and t: 2.12 x 9.4 against 2.1199 x 9.4019.
    assert (found.bias.low, found.bias.high) == pytest.approx((-22.0, 17.8), abs=0.1)


def test_limits_as_printed() -> None:
    found = limits_of_agreement(DIFFERENCES, z=2.0)
    # Printed from the rounded SD: -2.1 -+ 2 x 38.8.
    assert (found.lower.value, found.upper.value) == pytest.approx((-79.7, 75.5), abs=0.15)


def test_intervals_of_the_limits_as_printed() -> None:
    """The paper's sqrt(3 s^2 / n) = 16.3; (1/n + z^2 / (2 (n - 1))) s^2 with z = 2 gives 16.6."""
    found = limits_of_agreement(DIFFERENCES, z=2.0)
    printed = (-114.3, -45.1, 40.9, 110.1)
    limits = (found.lower.low, found.lower.high, found.upper.low, found.upper.high)
    # 2.12 x (16.6 - 16.3) = 0.7, and 0.15 from the rounded limits.
    assert limits == pytest.approx(printed, abs=0.85)


def test_limits_with_the_exact_normal_quantile() -> None:
    found = limits_of_agreement(DIFFERENCES)
    assert (found.lower.value, found.upper.value) == pytest.approx((-78.0973, 73.862), abs=0.002)


@pytest.mark.parametrize(("table", "repeatability"), [(LARGE, 43.29), (MINI, 56.32)])
def test_repeatability_of_each_meter(table: np.ndarray, repeatability: float) -> None:
    """The paper's coefficient takes 2 and no mean difference; recomputed from the data."""
    differences = table[:, 0] - table[:, 1]
    within = np.sqrt((differences**2).sum() / (2 * differences.size))
    assert 2 * np.sqrt(2) * within == pytest.approx(repeatability, abs=0.01)
    # Ours leaves the mean change between first and second reading out of the error.
    sem = standard_error_of_measurement(table)
    assert sem == pytest.approx(differences.std(ddof=1) / np.sqrt(2))
    assert minimal_detectable_change(sem) == pytest.approx(1.959964 * differences.std(ddof=1))

"""What a bout kept: the finding that an interval allows, and a mean's error read back from it."""

from __future__ import annotations

import numpy as np
import pytest
from accuracy_findings import stride_bout
from scipy.stats import t

from imucarry.basics.records import BoutRow, Estimate, Score
from imucarry.basics.settings import CarrySettings
from imucarry.carry.kept import rotation_finding, walk_mean

SETTINGS = CarrySettings(reduced_pct=75.0, minimal_pct=40.0)


@pytest.mark.parametrize(
    ("low", "value", "high", "finding"),
    [
        (76.0, 90.0, 110.0, "rotates"),
        (75.0, 90.0, 110.0, "unclear"),
        (70.0, 90.0, 110.0, "unclear"),
        (60.0, 70.0, 80.0, "unclear"),
        (50.0, 60.0, 74.0, "reduced"),
        (30.0, 38.0, 48.0, "reduced"),  # nearly still is not certain
        (30.0, 34.0, 39.9, "minimal"),
    ],
)
def test_the_whole_interval_decides_and_not_the_value(
    low: float, value: float, high: float, finding: str
) -> None:
    assert rotation_finding(Estimate(value, low, high, 20), SETTINGS) == finding


@pytest.mark.parametrize(("low", "high"), [(6.0, 14.0), (0.0, 14.0)])
def test_an_interval_cut_at_nought_is_read_from_its_upper_half(low: float, high: float) -> None:
    data, _ = stride_bout(BoutRow("b", 0.0, 30.0), 0, np.empty(0))
    found = walk_mean(
        data, Score("b", "arm_swing", "left", "none", "deg", Estimate(10.0, low, high, 12))
    )
    assert found is not None
    assert found.log_se == pytest.approx(4.0 / t.ppf(0.975, 11) / 10.0)

"""Intraclass correlations of Shrout & Fleiss 1979; numbers retyped, see SOURCE.md."""

from __future__ import annotations

import math
import warnings

import numpy as np
import pandas as pd
import pytest

from imucarry.basics.reliability import (
    intraclass_correlations,
    mean_squares,
    minimal_detectable_change,
    standard_error_of_measurement,
)

RATINGS = np.array(
    [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]],
    dtype=np.float64,
)
PRINTED = {"1,1": 0.17, "2,1": 0.29, "3,1": 0.71, "1,k": 0.44, "2,k": 0.62, "3,k": 0.91}
MORE_DIGITS = {
    "1,1": 0.165742, "2,1": 0.289764, "3,1": 0.714841,
    "1,k": 0.442797, "2,k": 0.620051, "3,k": 0.909316,
}  # fmt: skip


def test_mean_squares_as_printed() -> None:
    """Table 3: BMS 11.24, WMS 6.26, JMS 32.49, EMS 1.02."""
    ms = mean_squares(RATINGS)
    printed = (11.24, 6.26, 32.49, 1.02)
    for found, expected in zip((ms.between, ms.within, ms.judges, ms.error), printed, strict=True):
        assert found == pytest.approx(expected, abs=0.005)


@pytest.mark.parametrize("form", list(PRINTED))
def test_values_as_printed(form: str) -> None:
    found = intraclass_correlations(RATINGS)[form].value
    assert found == pytest.approx(PRINTED[form], abs=0.005)
    assert found == pytest.approx(MORE_DIGITS[form], abs=1e-6)


def library_table(ratings: np.ndarray) -> pd.DataFrame:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the library's own start-up warnings
        import pingouin

        n, k = ratings.shape
        long = pd.DataFrame(
            {
                "subject": np.repeat(np.arange(n), k),
                "judge": np.tile(np.arange(k), n),
                "rating": ratings.ravel(),
            }
        )
        return pingouin.intraclass_corr(long, "subject", "judge", "rating")


@pytest.mark.parametrize("seed", [None, 1, 2])
def test_intervals_agree_with_a_statistics_library(seed: int | None) -> None:
    ratings = RATINGS
    if seed is not None:
        rng = np.random.default_rng(seed)
        ratings = rng.normal(0, 2, (14, 1)) + rng.normal(0, 1, (14, 3)) + [0.0, 0.5, -0.5]
    table = library_table(ratings)
    column = next(name for name in table.columns if name.startswith("CI95"))
    ours = intraclass_correlations(ratings)
    for form, (_, row) in zip(("1,1", "2,1", "3,1", "1,k", "2,k", "3,k"), table.iterrows(),
                              strict=True):  # fmt: skip
        assert ours[form].value == pytest.approx(row["ICC"], abs=1e-6)
        # The library prints its limits to two decimals.
        assert [ours[form].low, ours[form].high] == pytest.approx(list(row[column]), abs=0.0051)


def test_standard_error_of_measurement_is_the_root_of_the_error_mean_square() -> None:
    sem = standard_error_of_measurement(RATINGS)
    assert sem == pytest.approx(1.009675, abs=1e-6)
    # The reference rounds the normal quantile to 1.96, 2e-5 above the exact one.
    assert minimal_detectable_change(sem) == pytest.approx(2.798677, rel=3e-5)


def test_a_table_without_variation_has_no_correlation() -> None:
    assert math.isnan(intraclass_correlations(np.ones((5, 2)))["2,1"].value)

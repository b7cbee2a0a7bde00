"""Participants who do not differ at all have no intraclass correlation, and raise nothing."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.basics.reliability import intraclass_correlations


@pytest.mark.parametrize("row", [[1.0, 2.0], [1.0, 1.0], [0.1 + 0.2, 0.7], [8.3, 8.1]])
def test_alike_participants(row: list[float]) -> None:
    found = intraclass_correlations(np.array([row] * 12))
    assert len(found) == 6
    assert all(np.isnan([icc.value, icc.low, icc.high]).all() for icc in found.values())


def test_repeats_that_agree_have_the_greatest_correlation() -> None:
    found = intraclass_correlations(np.array([[k, k] for k in range(12)], dtype=float))
    assert found["3,1"].value == pytest.approx(1.0)

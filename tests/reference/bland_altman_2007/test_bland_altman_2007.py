"""Limits with repeats within persons of Bland & Altman 2007; numbers retyped, see SOURCE.md."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.basics.limits_of_agreement import repeated_limits_of_agreement

PAIRS: dict[int, tuple[tuple[float, float], ...]] = {
    1: ((7.83, 6.57), (7.42, 5.62), (7.89, 6.9), (7.12, 6.57), (7.88, 6.35)),
    2: ((6.16, 4.06), (7.26, 4.29), (6.71, 4.26), (6.54, 4.09)),
    3: ((4.75, 4.71), (5.24, 5.5), (4.86, 5.08), (4.78, 5.02), (6.05, 6.01), (5.42, 5.67)),
    4: ((4.21, 4.14), (3.61, 4.2), (3.72, 4.61), (3.87, 4.68), (3.92, 5.04)),
    5: ((3.13, 3.03), (2.98, 2.86), (2.85, 2.77), (3.17, 2.46), (3.09, 2.32), (3.12, 2.43)),
    6: ((5.92, 5.9), (6.42, 5.81), (5.92, 5.7), (6.27, 5.76)),
    7: ((7.13, 5.09), (6.62, 4.63), (6.58, 4.61), (6.93, 5.09)),
    8: ((4.54, 4.72), (4.81, 4.61), (5.11, 4.36), (5.29, 4.2), (5.39, 4.36), (5.57, 4.2)),
    9: ((4.48, 3.17), (4.92, 3.12), (3.97, 2.96)),
    10: ((4.22, 4.35), (4.65, 4.62), (4.74, 3.16), (4.44, 3.53), (4.5, 3.53)),
    11: ((6.78, 7.2), (6.07, 6.09), (6.52, 7.0), (6.42, 7.1), (6.41, 7.4), (5.76, 6.8)),
    12: ((5.06, 4.5), (4.72, 4.2), (4.9, 3.8), (4.8, 3.8), (4.9, 4.2), (5.1, 4.5)),
}
"""RV and IC, by subject."""


def test_bias_and_limits_as_worked_there() -> None:
    differences = np.array([rv - ic for pairs in PAIRS.values() for rv, ic in pairs])
    person = np.repeat(list(PAIRS), [len(pairs) for pairs in PAIRS.values()])
    assert (differences.size, sum(len(pairs) ** 2 for pairs in PAIRS.values())) == (60, 312)
    found = repeated_limits_of_agreement(differences, person, z=1.96)
    assert found.bias.value == pytest.approx(0.6021667, abs=1e-6)
    assert found.sd == pytest.approx(0.99062408, abs=1e-6)
    assert found.lower.value == pytest.approx(-1.3394565, abs=1e-6)
    assert found.upper.value == pytest.approx(2.5437899, abs=1e-6)
    assert (found.n_pairs, found.n_persons) == (60, 12)

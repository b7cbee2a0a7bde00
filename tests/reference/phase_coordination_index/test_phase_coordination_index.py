"""Phase coordination index worked from its definition; see SOURCE.md."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.measures.asymmetry import contact_phase_deg, pci_interval, phase_coordination

REFERENCE_S = np.array([0.0, 1.1, 2.21, 3.3, 4.41, 5.5])
OTHER_S = np.array([0.55, 1.66, 2.75, 3.87, 4.95])
PHASE_DEG = (180.0, 181.621622, 178.348624, 184.864865, 178.348624)


def test_worked_example() -> None:
    phase = contact_phase_deg(REFERENCE_S[:-1], OTHER_S, REFERENCE_S[1:])
    assert phase == pytest.approx(PHASE_DEG, abs=5e-7)
    spread, departure = phase_coordination(phase)
    assert spread == pytest.approx(1.509084, abs=5e-7)
    assert departure == pytest.approx(1.087693, abs=5e-7)
    found = pci_interval(phase)
    assert found.value == pytest.approx(2.596777, abs=5e-7)
    assert 0.0 < found.low < found.value < found.high


@pytest.mark.parametrize(("phase_deg", "expected"), [(180.0, 0.0), (190.0, 5.5556)])
def test_phases_that_are_all_alike(phase_deg: float, expected: float) -> None:
    assert pci_interval(np.full(23, phase_deg)).value == pytest.approx(expected, abs=5e-5)

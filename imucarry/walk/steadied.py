"""What pitch and roll make of a sensor above the hips, taken out, for finding contacts.

In each step the trunk is pushed forward before it is lifted: forward acceleration leads
the vertical. A trunk that pitches at the step rate moves a sensor above the hips back and
forth as well, and may hide that or turn it round; one that rolls may turn its sway round.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from imucarry.basics.evidence import contacts as contacts_evidence
from imucarry.basics.evidence import forward as evidence
from imucarry.basics.records import FloatArray, TrunkMotion
from imucarry.walk.grid import filtered


def steadied(acc_mps2: FloatArray, gyr_radps: FloatArray, rate_hz: float) -> FloatArray:
    """Take out what pitch and roll about the hips make of a sensor above them.

    Parameters
    ----------
    acc_mps2, gyr_radps : ndarray, shape (N, 3) [m/s^2], [rad/s]
        Along two level axes, right-handed, and up.
    rate_hz : float [Hz]

    Returns
    -------
    ndarray, shape (N, 3) [m/s^2]

    Notes
    -----
    Only what is slow enough to be the trunk itself counts: faster turning is soft tissue.
    """
    if acc_mps2.shape[0] < 2:
        return acc_mps2
    slow = filtered(gyr_radps[:, :2], rate_hz, high_hz=contacts_evidence.RHYTHM_BAND_HIGH_HZ.value)
    moved = np.gradient(slow, axis=0) * rate_hz * evidence.LEVER_M.value
    result = acc_mps2.copy()
    result[:, 0] -= moved[:, 1]
    result[:, 1] += moved[:, 0]
    return result


def forward_lead(acc_mps2: FloatArray, rate_hz: float) -> float:
    """Return how far forward acceleration leads the vertical in each step.

    The imaginary part of their coherence at the step rate, -1 to 1: positive in walking.

    Parameters
    ----------
    acc_mps2 : ndarray, shape (N, 3) [m/s^2]
        Along forward, left, up.
    rate_hz : float [Hz]
    """
    low_hz, high_hz = evidence.LEAD_BAND_HZ.value
    if acc_mps2.shape[0] < rate_hz / low_hz:
        return 0.0
    acc = filtered(acc_mps2[:, [0, 2]], rate_hz, low_hz=low_hz, high_hz=high_hz)
    spectrum = np.fft.rfft(acc, axis=0)
    shared = np.sum(spectrum[:, 0] * np.conj(spectrum[:, 1]))
    power = np.sqrt(np.prod(np.sum(np.abs(spectrum) ** 2, axis=0)))
    return float(np.imag(shared) / max(power, float(np.finfo(float).tiny)))


def readings(trunks: Sequence[TrunkMotion]) -> list[list[TrunkMotion]]:
    """Return how each bout's trunk may be read for its contacts, the likeliest first.

    Parameters
    ----------
    trunks : sequence of TrunkMotion
        Of all bouts of a session.

    Returns
    -------
    list of list of TrunkMotion
        As it came alone where forward leads the vertical.

    Notes
    -----
    Where forward hardly leads in most bouts, or not at all in one, there are more:

    1. Pitch taken out, first where forward leads clearly then, else last.
    2. As it came.
    3. Where forward lags: its sign changed, before as it came. The sensor faces backward,
       or the pitch is larger than the push of the steps.
    """
    leads = [forward_lead(trunk.acc_mps2, trunk.rate_hz) for trunk in trunks]
    hardly = bool(leads) and float(np.median(leads)) < evidence.LEAD_CLEAR.value
    return [
        _readings(trunk, lead) if hardly or lead < evidence.LEAD_LEAST.value else [trunk]
        for trunk, lead in zip(trunks, leads, strict=True)
    ]


def _readings(trunk: TrunkMotion, lead: float) -> list[TrunkMotion]:
    acc = trunk.acc_mps2
    steady = _with_forward(trunk, steadied(acc, trunk.gyr_radps, trunk.rate_hz)[:, 0])
    steady_lead = forward_lead(steady.acc_mps2, trunk.rate_hz)
    result = [_with_forward(trunk, -acc[:, 0]), trunk] if lead < 0 else [trunk]
    if steady_lead >= evidence.LEAD_CLEAR.value:
        return [steady, *result]
    return [*result, steady] if steady_lead > 0 else result


def _with_forward(trunk: TrunkMotion, forward_mps2: FloatArray) -> TrunkMotion:
    acc = trunk.acc_mps2.copy()
    acc[:, 0] = forward_mps2
    return replace(trunk, acc_mps2=acc)

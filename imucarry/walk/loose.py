"""A chest sensor that shakes on its strap: its rotation reads too large."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import worn as evidence
from imucarry.basics.records import BoutData, Contacts, Notice, TrunkMotion
from imucarry.basics.units import DEG_PER_RAD
from imucarry.motion.signals import band_pass


def check_loose(bouts: Sequence[BoutData]) -> tuple[Notice, ...]:
    """Tell of bouts in which the chest sensor shakes as on a loose strap.

    Parameters
    ----------
    bouts : sequence of BoutData

    Notes
    -----
    A trunk turns at the stride's rhythm and two or three times that; soft tissue rings
    at 8 to 15 Hz. What turns between these belongs to the strap, and the range of a
    stride grows by some three times its root mean square.
    """
    found = []
    for bout in bouts:
        if bout.trunk is None:
            continue
        shake_deg, turn_deg = shake_and_turn_deg(bout.trunk, bout.contacts)
        least_deg = max(evidence.SHAKE_LEAST_DEG.value, evidence.SHAKE_LEAST_FRAC.value * turn_deg)
        if shake_deg >= least_deg:
            message = (
                f"the chest sensor shakes by {shake_deg:.1f} deg several times a step, as on a "
                "loose strap: the rotation reads too large; fasten the strap and repeat"
            )
            found.append(
                Notice(code="chest_loose", message=message, where=bout.row.bout, severity="check")
            )
    return tuple(found)


def shake_and_turn_deg(trunk: TrunkMotion, contacts: Contacts) -> tuple[float, float]:
    """Return how far a trunk turns faster than a stride's harmonics, and in its rhythm.

    Parameters
    ----------
    trunk : TrunkMotion
    contacts : Contacts

    Returns
    -------
    shake_deg, turn_deg : float [deg]
        Root mean squares from the first to the last contact; 0 where there are too few
        contacts, or too few samples a second to tell.
    """
    time_s, rate_hz = trunk.time_s, trunk.rate_hz
    high_hz = evidence.SHAKE_HIGH_HZ.value
    if contacts.time_s.size < evidence.SHAKE_LEAST_CONTACTS.value or rate_hz < 3.0 * high_hz:
        return 0.0, 0.0
    stride_hz = 0.5 / float(np.median(np.diff(contacts.time_s)))
    between_hz = evidence.SHAKE_LOW_STRIDES.value * stride_hz
    walked = (time_s >= contacts.time_s[0]) & (time_s <= contacts.time_s[-1]) & trunk.usable
    if between_hz >= high_hz or not walked.any():
        return 0.0, 0.0
    rate = np.where(trunk.usable, trunk.gyr_radps[:, 2], 0.0)
    turned = np.cumsum(rate - rate[walked].mean()) / rate_hz
    shake, turn = (
        band_pass(turned, rate_hz=rate_hz, low_hz=low, high_hz=high, order=4)[walked]
        for low, high in ((between_hz, high_hz), (0.5 * stride_hz, between_hz))
    )
    return float(np.std(shake)) * DEG_PER_RAD, float(np.std(turn)) * DEG_PER_RAD

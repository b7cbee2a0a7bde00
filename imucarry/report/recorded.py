"""What of a bout a sensor did not record."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import report as evidence
from imucarry.basics.records import BoutData, Side


def wrist_lacks(data: BoutData, side: Side) -> str:
    """Why the recording of a wrist leaves too few strides, as a reason code; "" where it does not.

    Without samples in half of the bout the sensor was not recording; with them, but fewer that
    can be used, samples were missing or stood still.
    """
    arm = data.arms.get(side)
    duration_s = data.row.end_s - data.row.start_s
    if arm is None or not duration_s > 0.0:
        return ""
    inside = (arm.time_s >= data.row.start_s) & (arm.time_s <= data.row.end_s)
    needed = evidence.WRIST_RECORDED_SHARE.value * duration_s * arm.rate_hz
    if np.count_nonzero(inside) < needed:
        return "wrist_not_recording"
    return "wrist_gaps" if np.count_nonzero(inside & arm.usable) < needed else ""

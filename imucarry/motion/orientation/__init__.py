"""Orientation of a worn sensor over its whole recording.

>>> from imucarry.motion.orientation import estimate_orientation

The default, "levelled", uses the whole recording at once and has no lag. Its
stages can be read against the offline filter of Laidig & Seel 2023 (Information
Fusion 91:187-204), whose idea it shares: integrate the gyroscope, smooth the
acceleration in the nearly inertial frame, and correct the tilt there. It goes on to
fit the gyroscope's scale and alignment and the accelerometer's offset, not the bias
alone, to the drift of gravity.
"""

from __future__ import annotations

from imucarry.motion.orientation.estimate import CONTRADICTION, FILTERS, estimate_orientation

__all__ = ["CONTRADICTION", "FILTERS", "estimate_orientation"]

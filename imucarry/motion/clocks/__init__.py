"""One clock for the sensors of a session, from the motion that they share.

>>> from imucarry.motion.clocks import align_clocks, on_session_clock
"""

from __future__ import annotations

from imucarry.motion.clocks.align import align_clocks, on_session_clock

__all__ = ["align_clocks", "on_session_clock"]

"""The only unit conversions of the package.

Inside, everything is SI and radians; degrees appear in settings, tables and
reports.
"""

from __future__ import annotations

import math
from typing import Final

STANDARD_GRAVITY_MPS2: Final = 9.80665
"""Standard gravity [m/s^2]: 3rd General Conference on Weights and Measures, 1901."""

RAD_PER_DEG: Final = math.pi / 180.0
DEG_PER_RAD: Final = 180.0 / math.pi
DEG_PER_TURN: Final = 360.0

ACC_UNITS_MPS2: Final[dict[str, float]] = {
    "m/s^2": 1.0,
    "g": STANDARD_GRAVITY_MPS2,
    "mg": STANDARD_GRAVITY_MPS2 / 1000.0,
}
"""Acceleration units by name, each with its size in m/s^2."""

GYR_UNITS_RADPS: Final[dict[str, float]] = {
    "rad/s": 1.0,
    "deg/s": RAD_PER_DEG,
    "mdeg/s": RAD_PER_DEG / 1000.0,
    "mrad/s": 1.0 / 1000.0,
}
"""Angular-rate units by name, each with its size in rad/s."""

TIME_UNITS_S: Final[dict[str, float]] = {
    "s": 1.0,
    "ms": 1e-3,
    "us": 1e-6,
    "ns": 1e-9,
    "min": 60.0,
    "h": 3600.0,
    "d": 86400.0,
}
"""Time units by name, each with its size in seconds."""

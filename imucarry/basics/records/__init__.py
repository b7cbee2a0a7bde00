"""The frozen records that flow through the package, in the order in which they arise.

A record of arrays checks their shapes once, when it is made, and makes them read-only;
recordings and motion are finite too. Code that receives one trusts it. Two records of
arrays are equal only where they are one and the same. Radians and SI units throughout;
index ranges are half-open.
"""

from imucarry.basics.records.arrays import (
    BoolArray,
    FloatArray,
    IndexRanges,
    IntArray,
    freeze,
    require_finite,
)
from imucarry.basics.records.motion import ClockFit, Orientation
from imucarry.basics.records.reading import (
    BoutRow,
    ColumnReading,
    FileReading,
    Notice,
    Recording,
    RomReading,
    Session,
)
from imucarry.basics.records.scores import (
    AimReading,
    BoutResult,
    Comparison,
    Estimate,
    LadderRung,
    RetestFinding,
    Score,
    SensorResult,
    SessionScores,
    StoppedLoad,
)
from imucarry.basics.records.vocabulary import (
    AIMS,
    DROP_REASONS,
    HOLDS,
    LOADED_SIDES,
    PERTURBED,
    PLACEMENTS,
    SHOULDER_ROTATION_AIMS,
    SIDES,
    Side,
)
from imucarry.basics.records.walking import (
    ArmMotion,
    BodyFrame,
    BoutData,
    Contacts,
    Pass,
    Strides,
    StrideSwing,
    StrideYaw,
    TrunkMotion,
    Window,
)

__all__ = [
    "AIMS",
    "DROP_REASONS",
    "HOLDS",
    "LOADED_SIDES",
    "PERTURBED",
    "PLACEMENTS",
    "SHOULDER_ROTATION_AIMS",
    "SIDES",
    "AimReading",
    "ArmMotion",
    "BodyFrame",
    "BoolArray",
    "BoutData",
    "BoutResult",
    "BoutRow",
    "ClockFit",
    "ColumnReading",
    "Comparison",
    "Contacts",
    "Estimate",
    "FileReading",
    "FloatArray",
    "IndexRanges",
    "IntArray",
    "LadderRung",
    "Notice",
    "Orientation",
    "Pass",
    "Recording",
    "RetestFinding",
    "RomReading",
    "Score",
    "SensorResult",
    "Session",
    "SessionScores",
    "Side",
    "StoppedLoad",
    "StrideSwing",
    "StrideYaw",
    "Strides",
    "TrunkMotion",
    "Window",
    "freeze",
    "require_finite",
]

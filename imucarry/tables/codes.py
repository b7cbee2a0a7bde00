"""What the codes in the tables mean: a dictionary for those who read the CSV files."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from imucarry.carry.aim import AIM_CODES
from imucarry.carry.earlier import HISTORY_FINDINGS
from imucarry.carry.ladder import LADDER_ANSWERS
from imucarry.carry.retest import RETEST_FINDINGS
from imucarry.measures.reasons import MISSING, NOTES

Codes = Mapping[str, str]

ROTATION: Final[Codes] = {
    "rotates": "the lower limit of yaw_kept_pct lies above the threshold of reduced",
    "reduced": "the upper limit of yaw_kept_pct lies below the threshold of reduced",
    "minimal": "the upper limit of yaw_kept_pct lies below the threshold of minimal too",
    "unclear": "the interval holds the threshold, or the free walks allow no comparison",
    "no_baseline": "there is no free walk to compare with",
    "not_measured": "there is no chest sensor, or rotation was not measured",
}
"""The thresholds are settings: ``reduced_pct`` (75 %) and ``minimal_pct`` (40 %)."""

COMPARISON: Final[Codes] = {
    "no_free_walk": "there is no free walk to compare with",
    "free_walk_not_measured": "it was not measured in the free walk",
    "baseline_small": "the free walk moved too little, or repeated too little with the stride, to "
    "compare with",
    "gyro_contradicts_gravity": "the chest sensor's gyroscope contradicts its accelerometer",
    "standing_contradicts": "the trunk stood otherwise in all quiet standing than in the walks",
    "no_unperturbed_bout": "there is no such carry without elastic",
}

DROPPED: Final[Codes] = {
    "start": "first stride of a pass",
    "stop": "last stride of a pass",
    "turn": "in a turn",
    "beside_turn": "beside a turn",
    "gap": "a gap of samples too long to bridge",
    "clipped": "the gyroscope at the end of its range",
    "contact_missed": "a contact was missed",
    "no_sensor": "no sensor worn there",
}

MISSING_BECAUSE: Final[Codes] = {**MISSING, **COMPARISON}
UNCLEAR_BECAUSE: Final[Codes] = {
    **MISSING_BECAUSE,
    "interval_holds_threshold": "the interval holds the threshold",
}
AIMS: Final[Codes] = AIM_CODES
ANSWERS: Final[Codes] = LADDER_ANSWERS
QUALIFIERS: Final[Codes] = NOTES
TESTS: Final[Codes] = RETEST_FINDINGS
CHANGES: Final[Codes] = HISTORY_FINDINGS

"""Every reason code of this room with a plain sentence, for the tables.

``MISSING`` are the reasons why a measure has no value, ``NOTES`` the codes that
qualify a value that is there.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

MISSING: Mapping[str, str] = MappingProxyType(
    {
        "no_chest_sensor": "There was no chest sensor, and this measure needs one.",
        "no_wrist_sensor": "There was no sensor on this wrist.",
        "too_few_strides": "Too few strides counted for a value that could be trusted.",
        "held_arm": "Not applicable: the arm held a load.",
        "not_held": "Not applicable: this arm was not said to hold a load.",
        "not_loaded": "Not applicable: no load was carried.",
        "no_loaded_side": "Not applicable: the load was not on one side only.",
        "load_unknown": "The load in kilograms was not given.",
        "no_body_mass": "The body mass was not given.",
        "no_distance": "Neither the length of the lane nor the distance walked was given.",
        "no_like_walk": "There was no free walk of like speed and stride length.",
        "walk_not_seen": "The chest sensor was off for a part of the walk.",
        "not_quiet_standing": "There was no quiet standing to measure the posture against.",
        "rate_too_low": "The chest sensor sampled too slowly to time steps that finely.",
        "direction_unknown": "It could not be told which way along the swing is forward, nor "
        "how far outward the forearm hangs.",
        "clock_unknown": "It is not known well enough how the wrist's clock stands to the chest's.",
        "amplitude_under_floor": "The motion was too small for its timing to mean anything.",
        "two_to_one": "The arm swung with every step, twice a stride, so it has no one place "
        "in the stride.",
        "phase_not_stable": "The timing differed so much between strides that it has no mean.",
        "not_positive": "The values average zero or less, so no ratio of them exists.",
    }
)

NOTES: Mapping[str, str] = MappingProxyType(
    {
        "few_strides_for_variability": "Fewer than 50 strides: a spread from so few repeats "
        "poorly on another day.",
        "below_timing_noise": "It cannot be told from the scatter of the contact times.",
        "below_walking_floor": "It is below the walking floor, the part that is not locked to "
        "the stride: no rotation is claimed.",
        "no_interval": "A total or a known limit: nothing was averaged, so it has no interval.",
        "levelled_at_bout_mean": "There was no quiet standing to level the sensor by: it "
        "was levelled at the mean of the bout.",
        "own_cycles": "There was no chest sensor: the arm's own swings were counted.",
        "bout_times": "The arms do not show the whole walk: it is the time from the bout's start "
        "to its end.",
        "clock_not_set": "The wrist's clock could not be set by the chest's: strides may be cut "
        "at the wrong times.",
        "fewer_harmonics": "The chest sensor sampled too slowly for 20 harmonics of the stride: "
        "compare it only with values of the same rate and of strides as long.",
        "interval_undefined": "The strides are too few or differ too much for limits that mean "
        "something.",
    }
)

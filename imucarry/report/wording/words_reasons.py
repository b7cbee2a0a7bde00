"""Why something is missing, and what qualifies a value that is there."""

from __future__ import annotations

from typing import Final

Words = dict[str, str]

REASONS: Final[Words] = {
    "not_computed": "it was not worked out for this bout",
    "no_chest_sensor": "there was no chest sensor",
    "no_wrist_sensor": "this wrist had no sensor",
    "no_sensor": "there was no sensor",
    "too_few_strides": "too few strides count",
    "few_strides": "too few strides count",
    "wrist_not_recording": "the wrist sensor was not recording",
    "wrist_recorded_part": "the wrist sensor recorded less than half of the bout",
    "wrist_gaps": "the wrist sensor's samples are mostly missing or stand still",
    "no_walking": "no walking was found",
    "held_arm": "this arm held a load",
    "not_held": "this arm held no load",
    "not_loaded": "no load was carried",
    "no_loaded_side": "the load was not on one side only",
    "load_unknown": "the load was not given",
    "clock_unknown": "the clocks of the sensors could not be put on one",
    "no_body_mass": "the body mass was not given",
    "no_distance": "neither lane nor distance was given",
    "walk_not_seen": "the chest sensor was off for a part of the walk",
    "not_quiet_standing": "there was no quiet standing to compare with",
    "rate_too_low": "the chest sensor sampled too slowly for this",
    "direction_unknown": "which way is forward could not be told",
    "amplitude_under_floor": "the motion was too small to time it",
    "two_to_one": "the arm swung with every step, twice a stride",
    "phase_not_stable": "the timing differed too much from stride to stride",
    "not_positive": "the values average zero or less",
    "no_free_walk": "there is no free walk to compare with",
    "no_like_walk": "there is no free walk of like speed and stride length",
    "free_walk_not_measured": "it was not measured in the free walk",
    "no_baseline": "there is no free walk to compare with",
    "baseline_small": "the free walk itself moved too little, or repeated too little with the "
    "stride, to compare with",
    "gyro_contradicts_gravity": "the chest sensor's gyroscope contradicts its accelerometer",
    "standing_contradicts": "the trunk stood otherwise in all quiet standing than in the walks",
    "no_interval": "there is no interval for it",
    "interval_holds_threshold": "the true value may lie on either side of the line",
    "no_unperturbed_bout": "there is no such carry without elastic",
}
"""By code, each as the end of a sentence that says "because"."""

NOTES: Final[Words] = {
    "few_strides_for_variability": "fewer than 50 strides: a spread from so few repeats poorly on "
    "another day",
    "below_timing_noise": "cannot be told from the scatter of the contact times",
    "below_walking_floor": "below the part of the rotation that does not repeat with the stride: "
    "no rotation is claimed",
    "no_interval": "a total or a known limit: nothing was averaged, so it has no interval",
    "levelled_at_bout_mean": "no quiet standing to level by: the sensor was levelled at the mean "
    "of the bout",
    "bout_times": "the arms do not show the whole walk: the time from the bout's start to its end",
    "clock_not_set": "the wrist's clock could not be set by the chest's: strides may be cut at the "
    "wrong times",
    "own_cycles": "no chest sensor: the arm's own swings were counted",
    "fewer_harmonics": "sampled too slowly for 20 harmonics of the stride: compare it only with "
    "values of the same rate and of strides as long",
    "interval_undefined": "the strides are too few or differ too much for limits that mean "
    "something",
}
"""By code, each as a footnote."""

DROP_REASONS: Final[Words] = {
    "start": "first stride of a pass",
    "stop": "last stride of a pass",
    "turn": "turning round",
    "beside_turn": "beside a turn",
    "gap": "samples missing",
    "clipped": "sensor at the end of its range",
    "contact_missed": "a foot contact was missed",
    "no_sensor": "no sensor",
}

BOUTS: Final = "bouts {bouts}"
"""Several bouts of which the same is said."""

SPAN: Final = "{least} to {most}"

"""Thresholds and defaults of the room `walk`."""

from __future__ import annotations

from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE, Evidence

# --- trunk, sternum yaw and arm swing ------------------------------------------

FILTER_MARGIN_S = Evidence(
    key="walk.filter_margin_s",
    value=5.0,
    unit="s",
    source=ENGINEERING_CHOICE,
    why="Longer than the memory of the slowest filter over a bout.",
)
YAW_CUTOFF_HZ = Evidence(
    key="walk.yaw_cutoff_hz",
    value=6.0,
    unit="Hz",
    source=COMMON_PRACTICE,
    why="Keeps six harmonics of a stride rate of 1 Hz; soft tissue and strap ring at 8 to 15 Hz.",
)
HEADING_CUTOFF_HZ = Evidence(
    key="walk.heading_cutoff_hz",
    value=0.3,
    unit="Hz",
    source=ENGINEERING_CHOICE,
    why="Below the slowest stride rate looked for (0.5 Hz), fast enough to follow a turn.",
)
YAW_FITS = Evidence(
    key="walk.yaw_fits",
    value=(
        (4, 4, 4, 1.0),
        (2, 4, 3, 2.0),
        (4, 2, 3, 2.0),
        (1, 4, 3, 2.6),
        (4, 1, 3, 2.6),
        (2, 2, 2, 2.6),
        (0, 4, 2, 4.0),
        (4, 0, 2, 4.0),
    ),
    unit="1",
    source=ENGINEERING_CHOICE + "; found on invented walks: straight, curved, beside turns",
    why="Each row: quarter strides used before and after, degree of the path's polynomial, error "
    "of the yaw range that a residual of 1 stands for; the row that promises least is taken.",
)
YAW_HARMONICS = Evidence(
    key="walk.yaw_harmonics",
    value=6,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Stride harmonics that the path's polynomial is kept apart from: as many as pass the "
    "low-pass at a stride rate of 1 Hz.",
)
FLOOR_LEAST_STRIDES = Evidence(
    key="walk.floor_least_strides",
    value=3,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="From fewer strides the bout's mean curve is mostly the stride itself.",
)

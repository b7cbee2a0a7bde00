"""Thresholds and defaults of the room `report`."""

from __future__ import annotations

from imucarry.basics.evidence.row import ENGINEERING_CHOICE, Evidence

TRACE_POINTS = Evidence(
    key="report.trace_points_1",
    value=600,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A line of a printed trace is about 600 dots wide; more points only make the page heavy.",
)
TRACE_POINTS_ALL = Evidence(
    key="report.trace_points_all_1",
    value=4800,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The points of one line over all bouts: a session of many bouts keeps its page small.",
)
TRACE_POINTS_LEAST = Evidence(
    key="report.trace_points_least_1",
    value=120,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Fewer points would no longer show single strides of a short bout.",
)
WRIST_RECORDED_SHARE = Evidence(
    key="report.wrist_recorded_share_1",
    value=0.5,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="With less than half of a bout recorded by a wrist, that is why too few strides count.",
)
BAND_LOW_PCT = Evidence(
    key="report.band_low_pct",
    value=5.0,
    unit="%",
    source=ENGINEERING_CHOICE,
    why="The free walk's band holds nine strides in ten, so that one odd stride does not set it.",
)
BAND_HIGH_PCT = Evidence(
    key="report.band_high_pct",
    value=95.0,
    unit="%",
    source=ENGINEERING_CHOICE,
    why="The free walk's band holds nine strides in ten, so that one odd stride does not set it.",
)
SKETCH_WIDENING = Evidence(
    key="report.sketch_widening_1",
    value=3.0,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A swing of 10 deg is hard to see on paper; the sketch opens it three times and says so.",
)
SKETCH_WIDEST_DEG = Evidence(
    key="report.sketch_widest_deg",
    value=170.0,
    unit="deg",
    source=ENGINEERING_CHOICE,
    why="A wider drawn angle would no longer be read as forward.",
)
PROBABLY_SHARE = Evidence(
    key="report.probably_share_1",
    value=0.75,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Where the estimate and three quarters of the 95 % interval (in logarithms) lie below the "
    "line, the true share does so five times in six: less was probably kept.",
)

"""From the raw signal to the clean one: the chest sensor's turn rates, heading, sternum yaw."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import report as evidence
from imucarry.basics.records import (
    BoolArray,
    BoutResult,
    FloatArray,
    SensorResult,
    SessionScores,
    TrunkMotion,
)
from imucarry.basics.units import DEG_PER_RAD
from imucarry.report.figures.chart import Chart, Mark, Panel, dots, line, span_of, zone
from imucarry.report.recorded import unusable
from imucarry.report.wording import say, texts
from imucarry.report.wording.numbers import number

RAW_HEIGHT = 90.0
HEADING_HEIGHT = 60.0
CLEAN_HEIGHT = 90.0
AXES = ("x", "y", "z")
WRISTS = ("left_wrist", "right_wrist")


def trace_chart(scores: SessionScores, bout: BoutResult) -> Chart | None:
    """The signals of a bout, thinned: the chest's, without one the wrists' as recorded."""
    n_points = points_for(len(scores.bouts))
    window = _window(bout)
    if window is None:
        return None
    worn = {sensor.recording.placement: sensor for sensor in scores.sensors}
    words = texts.FIGURES["trace"]
    # A chest sensor that was off has a trunk motion without samples.
    trunk = bout.data.trunk if bout.data.trunk is not None and bout.data.trunk.time_s.size else None
    if trunk is not None:
        panels = _chest_panels(bout, trunk, worn.get("chest"), window, n_points)
    else:
        panels = [_raw(worn[p], window, n_points) for p in WRISTS if p in worn]
    if not panels:
        return None
    return Chart(
        key=f"trace-{bout.data.ordinal}",
        title=words["title"].format(bout=say.bout_name(bout.data.row)),
        finding=texts.FIGURE_FINDINGS["trace"].format(
            start=number(window[0]), end=number(window[1])
        ),
        caption=words["caption" if trunk is not None else "caption_wrists"],
        panels=tuple(panels),
        x_label=words["x"],
        x_range=window,
    )


def _window(bout: BoutResult) -> tuple[float, float] | None:
    """From the first to the last sample of the chest, else of a wrist."""
    motions = [bout.data.trunk, *bout.data.arms.values()]
    times = [motion.time_s for motion in motions if motion is not None and motion.time_s.size > 1]
    return (float(times[0][0]), float(times[0][-1])) if times else None


def _chest_panels(
    bout: BoutResult,
    trunk: TrunkMotion,
    chest: SensorResult | None,
    window: tuple[float, float],
    n_points: int,
) -> list[Panel]:
    raw = [_raw(chest, window, n_points)] if chest is not None else []
    return [*raw, _heading(trunk, n_points), _clean(bout, trunk, n_points)]


def points_for(n_bouts: int) -> int:
    """How many points a line may have, so that the page stays small."""
    share = evidence.TRACE_POINTS_ALL.value // max(n_bouts, 1)
    return max(evidence.TRACE_POINTS_LEAST.value, min(evidence.TRACE_POINTS.value, share))


def thin(values: FloatArray, n_points: int) -> FloatArray:
    """Reduce to at most `n_points`, the least and greatest of each bucket as they come.

    Peaks survive; shape (N,) or (N, K), thinned along the first axis.
    """
    n_buckets = n_points // 2
    if len(values) <= n_points:
        return values
    size = len(values) // n_buckets
    shaped = values[: n_buckets * size].reshape(n_buckets, size, *values.shape[1:])
    least, most = shaped.min(axis=1), shaped.max(axis=1)
    falls = shaped.argmin(axis=1) > shaped.argmax(axis=1)
    pair = np.stack([np.where(falls, most, least), np.where(falls, least, most)], axis=1)
    return np.asarray(pair.reshape(2 * n_buckets, *values.shape[1:]))


def _grid(values: FloatArray, thinned: FloatArray, time_s: FloatArray) -> FloatArray:
    """Times of the thinned points: evenly spread over the samples they stand for."""
    n_out = len(thinned)
    if n_out == len(values):
        return time_s
    used = (len(values) // (n_out // 2)) * (n_out // 2)
    return np.asarray(time_s[0] + (time_s[used - 1] - time_s[0]) * (np.arange(n_out) + 0.5) / n_out)


def _raw(sensor: SensorResult, window: tuple[float, float], n_points: int) -> Panel:
    time = sensor.recording.time_s
    first, last = np.searchsorted(time, window)
    rates = sensor.recording.gyr_radps[first:last] * DEG_PER_RAD
    thinned = thin(rates, n_points)
    grid = _grid(rates, thinned, time[first:last]) if len(rates) else time[first:last]
    marks = tuple(
        line(f"raw_{axis}", grid, thinned[:, k], texts.LEGEND["axis"].format(axis=axis))
        for k, axis in enumerate(AXES)
    )
    place = texts.PLACEMENTS.get(sensor.recording.placement, sensor.recording.placement)
    label = texts.FIGURES["trace"]["raw"].format(place=place)
    return Panel(marks, label, span_of([thinned]), RAW_HEIGHT)


def _heading(trunk: TrunkMotion, n_points: int) -> Panel:
    """Heading from its first value on: where zero lies has no meaning."""
    yaw = (trunk.yaw_rad - trunk.heading_rad[0]) * DEG_PER_RAD
    path = (trunk.heading_rad - trunk.heading_rad[0]) * DEG_PER_RAD
    yaw_thin, path_thin = thin(yaw, n_points), thin(path, n_points)
    grid = _grid(yaw, yaw_thin, trunk.time_s)
    marks = (
        line("free", grid, path_thin, texts.LEGEND["path"]),
        line("raw_z", grid, yaw_thin, texts.LEGEND["heading"]),
    )
    span = span_of([yaw_thin, path_thin])
    return Panel(marks, texts.FIGURES["trace"]["heading"], span, HEADING_HEIGHT)


def _clean(bout: BoutResult, trunk: TrunkMotion, n_points: int) -> Panel:
    clean = (trunk.yaw_rad - trunk.heading_rad) * DEG_PER_RAD
    thinned = thin(clean, n_points)
    grid = _grid(clean, thinned, trunk.time_s)
    low, high = span_of([thinned])
    level = low - 0.08 * (high - low)
    marks: list[Mark] = _left_out(bout)
    marks += _gaps(trunk.usable, trunk.time_s)
    marks.append(line("raw_z", grid, thinned))
    contacts = bout.data.contacts
    for side, chosen in (("left", contacts.is_left), ("right", ~contacts.is_left)):
        times = contacts.time_s[chosen]
        label = texts.LEGEND[f"{side}_contact"]
        marks.append(dots(side, times, np.full(times.size, level), label))
    return Panel(
        tuple(marks), texts.FIGURES["trace"]["clean"], (level - 0.08 * (high - low), high),
        CLEAN_HEIGHT,
    )  # fmt: skip


def _left_out(bout: BoutResult) -> list[Mark]:
    strides = bout.data.strides
    out = ~strides.kept_yaw
    return [
        zone("x", "free_band", float(a), float(b), texts.LEGEND["left_out"])
        for a, b in zip(strides.start_s[out], strides.end_s[out], strict=True)
    ]


def _gaps(usable: BoolArray, time_s: FloatArray) -> list[Mark]:
    label = texts.DROP_REASONS["gap"]
    return [zone("x", "gap", start_s, end_s, label) for start_s, end_s in unusable(usable, time_s)]

"""How good the recordings are: rate, gaps, clock, bias, noise, mounting of each sensor."""

from __future__ import annotations

import numpy as np

from imucarry.basics.records import FileReading, FloatArray, SensorResult, SessionScores
from imucarry.basics.units import DEG_PER_RAD
from imucarry.report.views import Cell, Table, TableRow
from imucarry.report.wording import texts
from imucarry.report.wording.numbers import number


def quality_table(scores: SessionScores) -> Table | None:
    """One column a sensor, one row a property."""
    if not scores.sensors:
        return None
    columns = [_quality(sensor) for sensor in scores.sensors]
    heads = tuple(
        texts.PLACEMENTS.get(s.recording.placement, s.recording.placement) for s in scores.sensors
    )
    rows = tuple(
        TableRow(label, tuple(Cell(column.get(key, "")) for column in columns))
        for key, label in texts.QUALITY.items()
        if any(column.get(key) for column in columns)
    )
    return Table(texts.PAGE["quality"], texts.TABLE["sensor"], heads, rows)


def _quality(sensor: SensorResult) -> dict[str, str]:
    recording, fit = sensor.recording, sensor.clock
    readings = recording.readings
    bias = ", ".join(number(float(v) * DEG_PER_RAD, 2) for v in sensor.orientation.bias_radps)
    scale = ", ".join(number(100.0 * float(v), 2) for v in sensor.orientation.rate_scale.diagonal())
    noise = _noise(sensor, recording.gyr_radps) * DEG_PER_RAD
    rest = sum(b - a for a, b in sensor.orientation.rest) / recording.rate_hz
    found = {
        "rate": number(recording.rate_hz, 1),
        "duration": number(recording.time_s.size / recording.rate_hz, 1),
        "clock": number(fit.offset_s, 3),
        "drift": number(fit.drift_ppm, 0),
        "clock_sd": number(fit.sd_s, 3),
        "clock_source": texts.CLOCK_SOURCES.get(fit.source, fit.source),
        "bias": bias,
        "bias_sd": number(sensor.orientation.bias_sd_radps * DEG_PER_RAD, 3),
        "scale": scale,
        "noise": number(noise, 2),
        "noise_acc": number(_noise(sensor, recording.acc_mps2), 3),
        "rest": number(rest, 1),
        "mounted": _mounted(sensor),
    }
    return found | _file_quality(readings) | _frame_quality(sensor)


def _noise(sensor: SensorResult, signal: FloatArray) -> float:
    """Standard deviation while still, median of the three axes and of the rests."""
    parts = [signal[a:b].std(axis=0) for a, b in sensor.orientation.rest if b - a > 1]
    return float(np.median(parts)) if parts else float("nan")


def _mounted(sensor: SensorResult) -> str:
    """How the sensor sits: as told, else as it was worked out."""
    recording, frame = sensor.recording, sensor.frame
    if recording.up or recording.out:
        return texts.MOUNTED.format(up=recording.up or "?", out=recording.out or "?")
    if frame is not None:
        forward, _, up = frame.sensor_to_body
        return texts.MOUNTED_WORKED_OUT.format(up=nearest_axis(up), out=nearest_axis(forward))
    rests = [r.rest_acc_mps2 for r in recording.readings if r.rest_acc_mps2 is not None]
    if rests:
        return texts.MOUNTED_AT_REST.format(up=nearest_axis(np.array(rests[0])))
    return texts.MOUNTED_UNKNOWN


def nearest_axis(direction: FloatArray) -> str:
    """The sensor axis that a direction is nearest to: "+x", "-z"."""
    k = int(np.argmax(np.abs(direction)))
    return ("+" if direction[k] >= 0 else "-") + "xyz"[k]


def _file_quality(readings: tuple[FileReading, ...]) -> dict[str, str]:
    if not readings:
        return {}
    bridged, left = sum(r.n_gaps_bridged for r in readings), sum(r.n_gaps for r in readings)
    return {
        "file": ", ".join(dict.fromkeys(r.file for r in readings)),
        "jitter": number(max(r.jitter_ms for r in readings), 1),
        "gaps": f"{bridged} / {left}",
        "longest": number(max(r.longest_gap_s for r in readings), 2),
        "clipped": number(100.0 * max(r.clipped_frac for r in readings), 2),
    }


def _frame_quality(sensor: SensorResult) -> dict[str, str]:
    frame = sensor.frame
    if frame is None:
        return {}
    return {
        "levelled": texts.FRAME_WORDS.get(frame.levelled_in, frame.levelled_in),
        "forward": texts.FRAME_WORDS.get(frame.forward_source, frame.forward_source),
        "slope": number(frame.sensor_slope_rad * DEG_PER_RAD),
    }

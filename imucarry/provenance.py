"""What a run rests on: version, settings, input hashes, notices. No path, host or clock."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from functools import cache
from importlib.metadata import version as installed_version
from typing import Any

from imucarry import __version__
from imucarry.basics.records import Notice, SensorResult, SessionScores
from imucarry.basics.settings import Settings, as_tree
from imucarry.readers.shown import shown_name

PROGRAM = "imucarry"
_NUMERIC_LIBRARIES = ("numpy", "scipy", "pandas", "ahrs")


def run_key(input_sha256: Sequence[tuple[str, str]], settings: Settings) -> str:
    """Return a sha256 that changes when inputs, settings or version change."""
    content = json.dumps(
        {"inputs": sorted(input_sha256), "settings": as_tree(settings), "version": __version__},
        sort_keys=True,
    )
    return hashlib.sha256(content.encode()).hexdigest()


def run_record(scores: SessionScores, settings: Settings, files: Sequence[str]) -> dict[str, Any]:
    """Return the content of a session's ``run.json``: enough to repeat the run.

    Parameters
    ----------
    scores : SessionScores
    settings : Settings
    files : sequence of str
        The run's own files, which a later run may replace.
    """
    return {
        "program": PROGRAM,
        "version": __version__,
        "key": run_key(scores.session.input_sha256, settings),
        "participant": scores.session.participant,
        "session": scores.session.session,
        "date": scores.session.date.isoformat() if scores.session.date else None,
        "body_mass_kg": scores.session.body_mass_kg,
        "inputs": [
            {"file": shown_name(file), "sha256": digest}
            for file, digest in scores.session.input_sha256
        ],
        "settings": as_tree(settings),
        "libraries": _library_versions(),
        "sensors": [_sensor(sensor) for sensor in scores.sensors],
        "notices": [_notice(notice) for notice in scores.notices],
        "files": sorted(files),
    }


@cache
def _library_versions() -> dict[str, str]:
    """Looked up once: reading what is installed takes longer than all else here."""
    return {name: installed_version(name) for name in _NUMERIC_LIBRARIES}


def _notice(notice: Notice) -> dict[str, str]:
    return asdict(notice)


def _sensor(sensor: SensorResult) -> dict[str, Any]:
    recording, frame = sensor.recording, sensor.frame
    return {
        "placement": recording.placement,
        "rate_hz": round(recording.rate_hz, 6),
        "understood": [asdict(reading) for reading in recording.readings],
        "gyroscope_bias_radps": [round(float(b), 9) for b in sensor.orientation.bias_radps],
        "gyroscope_scale": sensor.orientation.rate_scale.round(6).tolist(),
        "clock": asdict(sensor.clock),
        "mounting": None
        if frame is None
        else {
            "sensor_to_body": frame.sensor_to_body.round(6).tolist(),
            "levelled_in": frame.levelled_in,
            "forward_source": frame.forward_source,
        },
    }


def json_text(content: Mapping[str, Any]) -> str:
    """Return JSON as it is written to files: sorted, indented, without NaN.

    NaN has no place in JSON; undefined numbers become null.
    """
    plain = _without_nan(content)
    return json.dumps(plain, indent=2, sort_keys=True, ensure_ascii=False, allow_nan=False) + "\n"


def _without_nan(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {str(key): _without_nan(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_without_nan(item) for item in value]
    if isinstance(value, float) and value != value:
        return None
    return value

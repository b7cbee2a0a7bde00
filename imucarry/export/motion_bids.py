"""Motion-BIDS: raw samples, events and scores in the Brain Imaging Data Structure.

Follows the BIDS specification 1.11, motion. One tracking system a clock: sensors
that share one time grid are one system, any other sensor is a system of its own.
``motion.tsv`` has no header and one column for each row of ``channels.tsv``.
De-identified: labels and codes instead of what people wrote, no dates (the order
and spacing of recordings within the visit is kept on an invented date).
"""

from __future__ import annotations

import io
import json
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import numpy as np

from imucarry import __version__
from imucarry.basics.records import BoutRow, ClockFit, Recording, SessionScores
from imucarry.export.codes import Codes, coded, codes_of
from imucarry.export.labels import Labels
from imucarry.tables import package
from imucarry.tables.build import BUILDERS
from imucarry.tables.schema import TABLES
from imucarry.tables.text import csv_text

BIDS_VERSION = "1.11.0"
TASK = "loadedcarry"
# The specification asks for shifted dates to lie before 1925.
_NO_DATE = datetime(1900, 1, 1)
_TRACKED_POINTS = {
    "chest": "sternum",
    "left_wrist": "leftForeArm",
    "right_wrist": "rightForeArm",
}
_CHANNELS = (("ACCEL", "m/s^2"), ("GYRO", "rad/s"))
_AXES = ("x", "y", "z")
_CHANNEL_COLUMNS = ("name", "component", "type", "tracked_point", "units", "reference_frame")


def write(scores: SessionScores, labels: Labels) -> dict[str, bytes]:
    """Return the files of a data set with one participant's one visit.

    Parameters
    ----------
    scores : SessionScores
    labels : Labels

    Returns
    -------
    dict of str to bytes
        Contents by path relative to the data set, with ``/``.
    """
    who = f"sub-{labels.participant}_ses-{labels.session}"
    visit = f"sub-{labels.participant}/ses-{labels.session}"
    files = _dataset_files(labels)
    scans: list[tuple[str, str]] = []
    zero_s = min(recording.time_s[0] for recording in scores.session.recordings)
    for system, recordings in tracking_systems(scores.session.recordings):
        events = _events(recordings[0], scores)
        stem = f"motion/{who}_task-{TASK}_tracksys-{system}"
        files |= {
            f"{visit}/{stem}_{suffix}": content
            for suffix, content in _system_files(recordings, events).items()
        }
        acquired = _NO_DATE + timedelta(seconds=float(recordings[0].time_s[0] - zero_s))
        scans.append((f"{stem}_motion.tsv", acquired.isoformat(timespec="microseconds")))
    files[f"{visit}/{who}_scans.tsv"] = _tsv(("filename", "acq_time"), scans)
    return files | _derivative_files(scores, labels, f"derivatives/imucarry/{visit}")


def tracking_systems(
    recordings: Sequence[Recording],
) -> tuple[tuple[str, tuple[Recording, ...]], ...]:
    """Group recordings by clock: the same grid is the same system.

    Returns
    -------
    tuple of (label, recordings)
    """
    groups: dict[tuple[float, float, int], list[Recording]] = {}
    for recording in recordings:
        grid = (float(recording.time_s[0]), recording.rate_hz, recording.time_s.size)
        groups.setdefault(grid, []).append(recording)
    return tuple(
        ("imu" if k == 1 else f"imu{k}", tuple(group)) for k, group in enumerate(groups.values(), 1)
    )


# --- the data set ------------------------------------------------------------


def _dataset_files(labels: Labels) -> dict[str, bytes]:
    description = {
        "Name": "Loaded carries",
        "BIDSVersion": BIDS_VERSION,
        "DatasetType": "raw",
        "GeneratedBy": [{"Name": "imucarry", "Version": __version__}],
    }
    readme = (
        "Chest- and wrist-worn accelerometer and gyroscope recordings of loaded carries.\n\n"
        "Samples are as read from the sensors, in sensor axes, on a uniform time grid; samples "
        "lost in long gaps are n/a. Dates are not real. Scores are in derivatives/imucarry.\n"
    )
    return {
        "dataset_description.json": _json(description),
        "README": readme.encode(),
        "participants.tsv": _tsv(("participant_id",), [(f"sub-{labels.participant}",)]),
        ".bidsignore": b"run.json\n",
    }


def _derivative_files(scores: SessionScores, labels: Labels, folder: str) -> dict[str, bytes]:
    codes = codes_of(scores)
    labelled = replace(
        scores,
        session=replace(scores.session, participant=labels.participant, session=labels.session),
    )
    files = {
        "derivatives/imucarry/dataset_description.json": _json(
            {
                "Name": "Loaded carries: scores",
                "BIDSVersion": BIDS_VERSION,
                "DatasetType": "derivative",
                "GeneratedBy": [{"Name": "imucarry", "Version": __version__}],
            }
        )
    }
    resources = []
    for table in TABLES:
        content = csv_text(table, coded(BUILDERS[table.name](labelled), codes)).encode()
        files[f"{folder}/{table.file}"] = content
        resources.append(package.resource(table, content))
    title = "Scores of one session of loaded carries"
    files[f"{folder}/datapackage.json"] = _json(
        package.package("imucarry-session", title, resources, __version__)
    )
    return files


# --- one tracking system -----------------------------------------------------


def _system_files(recordings: Sequence[Recording], events: bytes) -> dict[str, bytes]:
    return {
        "motion.tsv": _motion(recordings),
        "motion.json": _json(_motion_sidecar(recordings)),
        "channels.tsv": _tsv(_CHANNEL_COLUMNS, _channel_rows(recordings)),
        "channels.json": _json(_frames(recordings)),
        "events.tsv": events,
        "events.json": _json(_EVENT_COLUMNS),
    }


def _motion(recordings: Sequence[Recording]) -> bytes:
    """Return the samples: no header, one column a channel, n/a where a gap was filled."""
    import pandas as pd

    columns = []
    for recording in recordings:
        samples = np.hstack([recording.acc_mps2, recording.gyr_radps])
        for start, stop in recording.gaps:
            samples[start:stop] = np.nan
        columns.append(samples)
    stream = io.StringIO()
    pd.DataFrame(np.hstack(columns)).to_csv(
        stream, sep="\t", header=False, index=False, na_rep="n/a", lineterminator="\n"
    )
    return stream.getvalue().encode()


def _motion_sidecar(recordings: Sequence[Recording]) -> dict[str, Any]:
    first = recordings[0]
    n_points = len(recordings)
    return {
        "TaskName": TASK,
        "TaskDescription": "Walking with and without a load in the hands",
        "SamplingFrequency": first.rate_hz,
        "SamplingFrequencyEffective": first.rate_hz,
        "RecordingDuration": first.time_s.size / first.rate_hz,
        "TrackingSystemName": "inertial measurement units",
        "ACCELChannelCount": 3 * n_points,
        "GYROChannelCount": 3 * n_points,
        "MotionChannelCount": 6 * n_points,
        "TrackedPointsCount": n_points,
        "MissingValues": "n/a",
    }


def _channel_rows(recordings: Sequence[Recording]) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    for recording in recordings:
        point = _TRACKED_POINTS[recording.placement]
        for kind, unit in _CHANNELS:
            for axis in _AXES:
                name = f"{point}_{kind}_{axis}"
                rows.append((name, axis, kind, point, unit, f"sensor_{point}"))
    return rows


def _frames(recordings: Sequence[Recording]) -> dict[str, Any]:
    """Describe each sensor's own axes: how they lie on the body is not known beforehand."""
    levels = {
        f"sensor_{_TRACKED_POINTS[recording.placement]}": {
            "RotationRule": "right-hand",
            "RotationOrder": "n/a",
            "SpatialAxes": "___",
            "Description": "Axes of the sensor's case; how it is worn is worked out from the data.",
        }
        for recording in recordings
    }
    return {"reference_frame": {"Description": "Sensor axes", "Levels": levels}}


# --- events ------------------------------------------------------------------

_EVENT_COLUMNS: dict[str, Any] = {
    "trial_type": {"Description": "Kind of bout", "Levels": {"carry": "Loaded", "walk": "Free"}},
    "bout": {"Description": "Number of the bout in the visit"},
    "hold": {"Description": "How the load is held"},
    "loaded_side": {"Description": "Side that carries the load"},
    "load_kg": {"Description": "Total load carried", "Units": "kg"},
    "aim": {"Description": "What the bout is meant to train"},
}


def _events(recording: Recording, scores: SessionScores) -> bytes:
    """Return the bouts as events, on the system's own clock, from its own first sample."""
    fit = next(
        item.clock for item in scores.sensors if item.recording.placement == recording.placement
    )
    codes = codes_of(scores)
    return _tsv(
        ("onset", "duration", *_EVENT_COLUMNS),
        [_event(bout.data.row, codes, fit, float(recording.time_s[0])) for bout in scores.bouts],
    )


def _event(row: BoutRow, codes: Codes, fit: ClockFit, first_s: float) -> tuple[str, ...]:
    start_s, end_s = (
        (time_s - fit.offset_s) / (1.0 + 1e-6 * fit.drift_ppm)
        for time_s in (row.start_s, row.end_s)
    )
    kind = "walk" if row.hold == "free" else "carry"
    load = "n/a" if np.isnan(row.load_kg) else f"{row.load_kg:.9g}"
    times = (f"{start_s - first_s:.4f}", f"{end_s - start_s:.4f}")
    return (*times, kind, codes.bouts[row.bout], row.hold, row.loaded_side, load, row.aim or "n/a")


# --- text --------------------------------------------------------------------


def _tsv(names: Sequence[str], rows: Sequence[Sequence[str]]) -> bytes:
    lines = ["\t".join(_plain(cell) for cell in row) for row in (names, *rows)]
    return ("\n".join(lines) + "\n").encode()


def _plain(cell: str) -> str:
    """Return a cell without the signs that end cells and rows."""
    return " ".join(cell.split()) or "n/a"


def _json(content: Any) -> bytes:
    return (json.dumps(content, indent=2, ensure_ascii=False) + "\n").encode()

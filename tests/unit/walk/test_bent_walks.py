"""A person who stands upright and walks bent is not judged by angles levelled in the walks."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np

from imucarry.basics.records import Recording, SessionScores, Window
from imucarry.basics.settings import Settings
from imucarry.motion.orientation import estimate_orientation
from imucarry.motion.rotations import from_rotation_vector, rotate
from imucarry.pipeline import run
from imucarry.readers.session import read_session
from imucarry.walk.placement import chest_frame

EXAMPLE = Path(__file__).parents[3] / "data" / "example"


def bent(recording: Recording, windows: list[Window], bent_deg: float) -> Recording:
    """Bend the trunk forward by an angle in the bouts, and upright again after each."""
    settings = Settings()
    frame = chest_frame(recording, estimate_orientation(recording, settings.motion), windows)
    time_s, angle = recording.time_s, np.zeros(recording.time_s.size)
    for w in windows:
        angle += np.interp(time_s, [w.start_s - 1, w.start_s, w.end_s, w.end_s + 1], [0, 1, 1, 0])
    angle *= np.radians(bent_deg)
    left = frame.sensor_to_body[1]
    back = from_rotation_vector(-angle[:, None] * left)
    rate = np.gradient(angle, time_s)[:, None] * left
    return replace(
        recording,
        acc_mps2=rotate(back, recording.acc_mps2),
        gyr_radps=rotate(back, recording.gyr_radps) + rate,
    )


@cache
def scored(bent_deg: float) -> SessionScores:
    session = read_session(EXAMPLE)
    windows = [Window(row.start_s, row.end_s) for row in session.bout_rows or ()]
    recordings = tuple(
        bent(item, windows, bent_deg) if item.placement == "chest" else item
        for item in session.recordings
    )
    return run(replace(session, recordings=recordings), Settings())


def test_bent_a_little_is_judged() -> None:
    found = scored(10.0)
    assert "standing_contradicts" not in {notice.code for notice in found.notices}
    assert {bout.comparison.rotation_finding for bout in found.bouts} == {"rotates", "reduced"}


def test_bent_much_is_not_judged() -> None:
    found = scored(32.0)
    (told,) = (notice for notice in found.notices if notice.code == "standing_contradicts")
    assert "wrong by up to a half" in told.message
    assert "little yaw" not in told.message
    for bout in found.bouts:
        comparison = bout.comparison
        assert comparison.rotation_finding == "unclear"
        assert comparison.finding_because == "standing_contradicts"
        kept = next(s.estimate for s in comparison.scores if s.measure == "yaw_kept")
        assert kept.missing_because == "standing_contradicts"
    assert {rung.answer for rung in found.ladder} == {"not_measured"}
    readings = {bout.aim_reading.code for bout in found.bouts if bout.data.row.hold != "free"}
    assert readings == {"unclear_chest_in_doubt"}

"""A sensor off or frozen in a bout leaves that bout's measures of it empty, and no more."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import FileLayout, Motion, written_bytes
from fuzz_session import bouts_sheet, invented_walk, session_toml, write_files

from imucarry.api import PageOptions, ScoredSession, score_session
from imucarry.api.results import session_files

WORN = ("chest", "left_wrist")
WALK = invented_walk(0)
BETWEEN_S = (WALK.bouts_s[0][1] + WALK.bouts_s[1][0]) / 2


def only(motion: Motion, kept: np.ndarray) -> Motion:
    return replace(motion, time_s=motion.time_s[kept], acc=motion.acc[kept], gyr=motion.gyr[kept])


def scored(folder: Path, motions: Mapping[str, Motion]) -> ScoredSession:
    files = {
        f"{place}.csv": written_bytes(motions[place], FileLayout(units_row=True)) for place in WORN
    }
    files["bouts.csv"] = bouts_sheet(WALK, timed=True).encode()
    files["session.toml"] = session_toml(WORN, files).encode()
    write_files(files, folder)
    return score_session(folder)


def values(result: ScoredSession, bout: str, measure: str) -> np.ndarray:
    rows = result.scores
    mine = rows[(rows.bout == bout) & (rows.measure == measure) & (rows.side != "right")]
    return mine.value.to_numpy(dtype=float)


@pytest.mark.parametrize("off", ["walk 1", "carry 1"])
@pytest.mark.parametrize(
    ("place", "own", "other"),
    [("left_wrist", "arm_swing", "cadence"), ("chest", "cadence", "arm_swing")],
)
def test_off_in_one_bout(tmp_path: Path, off: str, place: str, own: str, other: str) -> None:
    motion = WALK.motions[place]
    late = motion.time_s > BETWEEN_S
    worn = only(motion, late if off == "walk 1" else ~late)
    result = scored(tmp_path, {**WALK.motions, place: worn})
    on = "carry 1" if off == "walk 1" else "walk 1"
    assert np.isnan(values(result, off, own)).all()
    assert np.isfinite(values(result, on, own)).all()
    assert np.isfinite(values(result, on, other)).all()
    if place == "left_wrist":
        assert np.isfinite(values(result, off, other)).all()
    assert session_files(result, PageOptions())["report.html"]


def frozen(motion: Motion, start_s: float, end_s: float) -> Motion:
    """Repeat the slowest sample of a span throughout it, so that it looks like rest."""
    acc, gyr = motion.acc.copy(), motion.gyr.copy()
    span = np.flatnonzero((motion.time_s >= start_s) & (motion.time_s < end_s))
    slowest = span[np.abs(gyr[span]).max(axis=1).argmin()]
    acc[span], gyr[span] = acc[slowest], gyr[slowest]
    return replace(motion, acc=acc, gyr=gyr)


def said(result: ScoredSession) -> list[str]:
    found = [notice for notice in result.result.notices if notice.code == "held_values"]
    return [notice.message for notice in found if "all six" in notice.message]


@pytest.mark.parametrize(
    ("place", "own", "other"),
    [("left_wrist", "arm_swing", "cadence"), ("chest", "cadence", "arm_swing")],
)
def test_frozen_throughout_a_bout(tmp_path: Path, place: str, own: str, other: str) -> None:
    motion = WALK.motions[place]
    start_s, end_s = WALK.bouts_s[1]
    stiff = frozen(motion, start_s - 1, end_s + 1)
    result = scored(tmp_path, {**WALK.motions, place: stiff})
    assert np.isnan(values(result, "carry 1", own)).all()
    assert np.isfinite(values(result, "walk 1", own)).all()
    assert np.isfinite(values(result, "walk 1", other)).all()
    (message,) = said(result)
    assert message.startswith("asleep or stuck (all six values unchanged) from ")
    assert " in bout carry 1: " in message
    files = session_files(result, PageOptions())
    assert "Asleep or stuck (all six values unchanged) from " in files["report.html"].decode()


def test_frozen_for_two_seconds_of_a_bout(tmp_path: Path) -> None:
    motion = WALK.motions["chest"]
    start_s, end_s = WALK.bouts_s[0]
    middle_s = (start_s + end_s) / 2
    result = scored(tmp_path, {**WALK.motions, "chest": frozen(motion, middle_s, middle_s + 2.0)})
    (message,) = said(result)
    assert " in bout walk 1: " in message
    rows = result.strides[result.strides.bout == "walk 1"]
    touched = (rows.start_s < middle_s + 1.9) & (rows.end_s > middle_s + 0.1)
    assert not rows[touched].kept_yaw.any()
    assert rows[~touched].kept_yaw.sum() > 3
    assert np.isfinite(values(result, "walk 1", "cadence")).all()


def test_a_whole_sensor_is_not_called_frozen(tmp_path: Path) -> None:
    assert said(scored(tmp_path, WALK.motions)) == []

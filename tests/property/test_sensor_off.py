"""A sensor that was off during a bout leaves that bout's measures of it empty, and no more."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import FileLayout, Motion, written_bytes
from fuzz_session import bouts_sheet, invented_walk, session_toml, write_files

from imucarry.api import PageOptions, ScoredSession, score_session
from imucarry.api.session import session_files

WORN = ("chest", "left_wrist")
WALK = invented_walk(0)
BETWEEN_S = (WALK.bouts_s[0][1] + WALK.bouts_s[1][0]) / 2


def only(motion: Motion, kept: np.ndarray) -> Motion:
    return replace(motion, time_s=motion.time_s[kept], acc=motion.acc[kept], gyr=motion.gyr[kept])


def scored(folder: Path, motions: Mapping[str, Motion]) -> ScoredSession:
    files = {f"{place}.csv": written_bytes(motions[place], FileLayout()) for place in WORN}
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

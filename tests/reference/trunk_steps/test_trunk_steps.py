"""Real walks with known contacts and turns, through the whole pipeline (see SOURCE.md)."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from accuracy_trunk import COPIES, figures, match_trial, read_trial
from open_recordings import make_sessions

from imucarry.basics.records import Session
from imucarry.basics.settings import Settings
from imucarry.pipeline import run
from imucarry.readers.session import read_session


@pytest.fixture(scope="module")
def trials(open_data: Path) -> Path:
    return open_data / "trunk_steps"


def names_of(folder: Path) -> list[str]:
    return sorted(path.stem for path in folder.glob("*.json") if path.stem not in COPIES)


def test_every_figure_that_is_asked_for(trials):
    asked = [figure for figure in figures(trials) if figure.asked]
    assert len(asked) == 6
    assert [figure.what for figure in asked if not figure.holds] == []


def test_no_adult_is_left_behind(trials):
    # Pooled figures could hide one person: of each, 97 in 100 contacts are found, none swapped.
    for adult in "123456789":
        names = [name for name in names_of(trials) if name.startswith(adult)]
        matches = [match_trial(read_trial(trials, name)) for name in names]
        n_true = sum(match.n_true for match in matches)
        n_matched = sum(match.n_matched for match in matches)
        assert n_matched >= 0.97 * n_true, adult
        assert sum(match.n_side_right for match in matches) == n_matched, adult


@pytest.mark.parametrize("name", ["1-1", "2-1", "5-1"])
def test_a_trial_as_a_user_would_bring_it(trials, tmp_path, name):
    (folder,) = make_sessions("trunk_steps", tmp_path, [name], data_dir=trials.parent)
    settings = Settings()
    scores = run(read_session(folder, settings.readers), settings)
    (bout,) = scores.bouts
    events = json.loads((trials / f"{name}.json").read_text(encoding="utf-8"))
    # The session clock starts at the first packet.
    first_s = np.loadtxt(folder / "chest.csv", delimiter=",", skiprows=1, max_rows=1)[0]
    turn_s = np.array(events["UTurnBoundaries"]) / 100.0 - first_s
    before, after = bout.data.passes[:2]
    # Turn boundaries were marked by hand; passes end with a contact, up to a step away.
    assert turn_s[0] - 1.2 < before.end_s < turn_s[0] + 0.3
    assert turn_s[1] - 0.3 < after.start_s < turn_s[1] + 1.2
    strides = bout.data.strides
    inside = (strides.start_s < turn_s[1] - 0.3) & (strides.end_s > turn_s[0] + 0.3)
    assert not strides.kept_yaw[inside].any()
    assert strides.kept_yaw.sum() >= 8
    assert "chest_loose" not in {notice.code for notice in scores.notices}


def test_the_sensors_axes_are_told_from_the_walk(trials):
    # In all of these recordings the sensor's x axis points up and its z axis backwards.
    for name in names_of(trials)[::5]:
        scores = run(Session(name, "1", (read_trial(trials, name).recording,)), Settings())
        frame = scores.sensors[0].frame
        assert frame.forward_source == "walking"
        assert frame.levelled_in == "quiet_standing"
        assert frame.sensor_to_body[2] @ [1.0, 0.0, 0.0] > 0.8
        assert frame.sensor_to_body[0] @ [0.0, 0.0, -1.0] > 0.8

"""What is said of a bout whose steps were missed, or may be false."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from invented_bout import make_bout
from stepping_trunk import stepping, told_contacts

from imucarry.basics.records import BoutData, Contacts, Estimate, Score
from imucarry.basics.settings import MeasureSettings
from imucarry.measures.notices import score_notices
from imucarry.walk.contacts import no_contacts
from imucarry.walk.strides import no_strides

SETTINGS = MeasureSettings()
MISSED = "very uneven steps, as in a limp, or fewer than 48 a minute, may be missed"
WALK = stepping(told_contacts(step_s=0.6, n=50))


def contacts_at(time_s: np.ndarray) -> Contacts:
    sides = np.arange(time_s.size) % 2 == 0
    return Contacts(time_s, sides, np.ones(time_s.size, dtype=np.int64))


def moving(contacts: Contacts, n_kept: int) -> BoutData:
    """A bout whose trunk moved for 30 s, with some strides that count."""
    data = make_bout(30)
    kept = np.arange(30) < n_kept
    return replace(
        data,
        trunk=WALK.trunk,
        contacts=contacts,
        strides=replace(data.strides, kept_yaw=kept),
        row=replace(data.row, start_s=58.2, end_s=89.4),
    )


def checks(data: BoutData, scores: tuple[Score, ...] = ()) -> dict[str, str]:
    notices = score_notices(data, scores, SETTINGS)
    return {notice.code: notice.message for notice in notices if notice.severity == "check"}


def test_a_trunk_that_moved_without_any_walking_is_told_once() -> None:
    data = replace(moving(no_contacts(), 0), strides=no_strides())
    assert checks(data) == {
        "no_walking": "no walking was found between 58 and 89 s, though the trunk moved: " + MISSED
    }


@pytest.mark.parametrize(
    ("n_kept", "end"), [(0, MISSED), (10, MISSED + ". The figures are of the other strides")]
)
def test_figures_are_spoken_of_only_where_there_are_some(n_kept: int, end: str) -> None:
    message = checks(moving(contacts_at(WALK.contact_s[:20]), n_kept))["steps_lost"]
    assert message.startswith("no steps were found in ")
    assert message.endswith(" s that the trunk moved: " + end)


@pytest.mark.parametrize("cadence_spm", [100.0, float("nan"), None])
def test_a_cadence_is_compared_only_where_it_is_given(cadence_spm: float | None) -> None:
    missed = np.delete(WALK.contact_s, [8, 9, 16, 17, 24, 25, 32, 33])
    scores: tuple[Score, ...] = ()
    if cadence_spm is not None:
        estimate = Estimate(cadence_spm)
        scores = (Score("1", "cadence", "none", "none", "{steps}/min", estimate),)
    message = checks(moving(contacts_at(missed), 20), scores)["strides_unlike"]
    given = ". Count the steps of one minute and compare them with the cadence given here"
    assert message.endswith(given if cadence_spm == 100.0 else "than the others")

"""How heavy a load is for the person and how hard a bout felt, in the list of bouts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from imucarry.basics.records import BoutResult, Estimate, Score, SessionScores
from imucarry.basics.settings import Settings
from imucarry.report.assemble import assemble
from imucarry.report.views import FindingView

NAN = float("nan")


def heavy(bout: BoutResult, *, share_pct: float, rpe: float, aim: str) -> BoutResult:
    row = replace(bout.data.row, rpe_0_10=rpe, aim=aim)
    share = Estimate(share_pct, n_used=30, missing_because="" if share_pct > 0 else "no_body_mass")
    others = tuple(score for score in bout.scores if score.measure != "load_body_mass")
    scores = (*others, Score(bout.data.row.bout, "load_body_mass", "none", "none", "%", share))
    return replace(bout, data=replace(bout.data, row=row), scores=scores)


def first_carry(scores: SessionScores, **told: object) -> FindingView:
    bouts = [
        heavy(bout, **told) if bout.data.row.hold != "free" else bout  # type: ignore[arg-type]
        for bout in scores.bouts
    ]
    visit = replace(scores, bouts=tuple(bouts))
    return assemble(visit, Settings(), title="", earlier=None).findings[0]


@pytest.mark.parametrize(
    ("share", "rpe", "aim", "aim_said", "dose"),
    [
        (35.3, 8.0, "strength", "aim: strength", "35 % of body mass, effort 8 of 10"),
        (NAN, 7.5, "", "no aim given", "effort 7.5 of 10"),
        (NAN, NAN, "strength", "aim: strength", ""),
    ],
)
def test_a_bouts_row_has_its_share_of_body_mass_and_its_effort(
    scores: SessionScores, share: float, rpe: float, aim: str, aim_said: str, dose: str
) -> None:
    found = first_carry(scores, share_pct=share, rpe=rpe, aim=aim)
    assert (found.aim, found.dose) == (aim_said, dose)


def test_a_free_walk_without_effort_has_neither(scores: SessionScores) -> None:
    found = assemble(scores, Settings(), title="", earlier=None).findings[-1]
    assert (found.hold, found.aim, found.dose) == ("free walk", "", "")

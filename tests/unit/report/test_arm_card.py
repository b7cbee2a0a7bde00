"""The card of a ladder says whether the free arm swung, also where the trunk kept turning."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from drawn import swing_charts

from imucarry.basics.records import (
    BoutResult,
    Estimate,
    LadderRung,
    Notice,
    Score,
    SessionScores,
    StoppedLoad,
)
from imucarry.basics.settings import Settings
from imucarry.carry.baseline_moved import ARMS_APART, ARMS_UNLIKE
from imucarry.carry.bout_checks import FREE_ARM, UNLIKE_STRIDES, bout_checks
from imucarry.report.notices import checks
from imucarry.report.pictures import rows_table
from imucarry.report.summary import finding
from imucarry.report.wording import say_arms, say_ladder, terminal_lines
from imucarry.report.wording.terminal_table import COLUMNS, bout_lines
from imucarry.walk.worn import WRONG_SIDE

NOT_REACHED = "Where it stops has not been reached."


def with_bout(scores: SessionScores, bout: BoutResult) -> SessionScores:
    bouts = (bout if b.data.row.bout == bout.data.row.bout else b for b in scores.bouts)
    return replace(scores, bouts=tuple(bouts))


def with_arms(scores: SessionScores, shares: dict[float, float]) -> SessionScores:
    """The visit with the free left arm's share [%] of the carries of its first ladder."""
    rung = replace(scores.ladder[0], answer="not_yet_reached", heaviest_kept_kg=24.0)
    return replace(scores, bouts=tuple(_swung(b, rung, shares) for b in scores.bouts),
                   ladder=(rung,))  # fmt: skip


def _swung(bout: BoutResult, rung: LadderRung, shares: dict[float, float]) -> BoutResult:
    row = bout.data.row
    if (row.hold, row.loaded_side) != (rung.hold, rung.loaded_side) or row.load_kg not in shares:
        return bout
    share = shares[row.load_kg]
    estimate = Estimate(share, share - 5.0, share + 5.0, 20)
    score = Score(row.bout, "arm_swing_kept", "left", "free", "%", estimate)
    others = [s for s in bout.comparison.scores if not s.measure.startswith("arm_swing_kept")]
    return replace(bout, comparison=replace(bout.comparison, scores=(*others, score)))


@pytest.mark.parametrize(
    ("shares", "said"),
    [
        ({8.0: 33.0, 16.0: 26.0, 24.0: 30.0},
         "Free left arm: swung less at every load: 8 kg (33 %), 16 kg (26 %) and "
         "24 kg (30 %)."),
        ({8.0: 95.0, 16.0: 58.0, 24.0: 32.0},
         "Free left arm: kept swinging at 8 kg (95 %); swung less at 16 kg (58 %) and "
         "24 kg (32 %)."),
        ({8.0: 95.0, 16.0: 76.0, 24.0: 32.0},
         "Free left arm: kept swinging at 8 kg (95 %); not clear whether it kept swinging at 16 kg "
         "(76 %); swung less at 24 kg (32 %)."),
    ],
)  # fmt: skip
def test_the_card_says_where_the_free_arm_stopped(
    scores: SessionScores, shares: dict[float, float], said: str
) -> None:
    line, arm_line = say_ladder.lines_of(with_arms(scores, shares))
    assert arm_line == said
    assert NOT_REACHED not in line


def test_bouts_with_one_load_are_listed_in_their_order_and_are_no_interval(
    scores: SessionScores,
) -> None:
    told = with_arms(scores, {8.0: 87.0, 16.0: 107.0, 24.0: 32.0})
    bouts = tuple(
        replace(b, data=replace(b.data, row=replace(b.data.row, load_kg=8.0)))
        if b.data.row.load_kg == 16.0 else b
        for b in told.bouts
    )  # fmt: skip
    _, arm_line = say_ladder.lines_of(replace(told, bouts=bouts))
    assert arm_line == (
        "Free left arm: kept swinging at 8 kg (87 % and 107 %); swung less at 24 kg (32 %)."
    )


def test_bouts_with_one_load_of_which_the_arm_kept_swinging_in_one_alone_are_told_apart(
    scores: SessionScores,
) -> None:
    told = with_arms(scores, {8.0: 107.0, 16.0: 78.0, 24.0: 32.0})
    bouts = tuple(
        replace(b, data=replace(b.data, row=replace(b.data.row, load_kg=8.0)))
        if b.data.row.load_kg == 16.0 else b
        for b in told.bouts
    )  # fmt: skip
    _, arm_line = say_ladder.lines_of(replace(told, bouts=bouts))
    assert arm_line == (
        "Free left arm: at 8 kg kept swinging in one bout (107 %), not clear in the other (78 %); "
        "swung less at 24 kg (32 %)."
    )


def test_bouts_with_one_load_differ_only_where_the_arm_kept_swinging_in_one_and_less_in_another(
    scores: SessionScores,
) -> None:
    told = with_arms(scores, {8.0: 107.0, 16.0: 50.0, 24.0: 32.0})
    bouts = tuple(
        replace(b, data=replace(b.data, row=replace(b.data.row, load_kg=8.0)))
        if b.data.row.load_kg == 16.0 else b
        for b in told.bouts
    )  # fmt: skip
    _, arm_line = say_ladder.lines_of(replace(told, bouts=bouts))
    assert "bouts differ at 8 kg (107 %: kept swinging; 50 %: swung less)" in arm_line


def test_of_three_bouts_with_one_load_those_of_one_kind_are_told_together(
    scores: SessionScores,
) -> None:
    told = with_arms(scores, {8.0: 107.0, 16.0: 78.0, 24.0: 79.0})
    bouts = tuple(
        replace(b, data=replace(b.data, row=replace(b.data.row, load_kg=8.0)))
        if b.data.row.load_kg in (16.0, 24.0) else b
        for b in told.bouts
    )  # fmt: skip
    _, arm_line = say_ladder.lines_of(replace(told, bouts=bouts))
    assert arm_line == (
        "Free left arm: at 8 kg kept swinging in one bout (107 %), not clear in 2 bouts "
        "(78 % and 79 %)."
    )


def test_every_load_is_said_of_those_that_count_where_one_does_not(scores: SessionScores) -> None:
    told = with_arms(scores, {8.0: 95.0, 16.0: 90.0, 24.0: 93.0})
    hurt = replace(told.ladder[0], stopped=(StoppedLoad(24.0, 3.0, ""),))
    _, arm_line = say_ladder.lines_of(replace(told, ladder=(hurt,)))
    assert arm_line == (
        "Free left arm: kept swinging at every load that counts: 8 kg (95 %) and 16 kg (90 %)."
    )


def test_where_a_load_that_counts_is_left_out_nothing_is_said_of_every_load(
    scores: SessionScores,
) -> None:
    told = with_arms(scores, {8.0: 95.0, 16.0: 90.0, 24.0: 93.0})
    (bout,) = [b for b in told.bouts if b.data.row.load_kg == 24.0]
    moved = replace(bout, notices=(Notice(UNLIKE_STRIDES, "the arm moved"),))
    _, arm_line = say_ladder.lines_of(with_bout(told, moved))
    assert arm_line == "Free left arm: kept swinging at 8 kg (95 %) and 16 kg (90 %)."


@pytest.mark.parametrize(
    ("share", "said"),
    [
        (95.0, "Free left arm kept swinging: "),
        (76.0, "Free left arm, swing not clear: "),
        (58.0, "The free left arm swung less: "),
    ],
)
def test_the_row_of_a_carry_says_what_its_free_arm_did(
    scores: SessionScores, share: float, said: str
) -> None:
    told = with_arms(scores, {8.0: share})
    (bout,) = [b for b in told.bouts if b.data.row.load_kg == 8.0]
    assert say_arms.arms(bout).startswith(said)


def test_the_mark_of_a_row_says_that_the_free_arm_swung_less(scores: SessionScores) -> None:
    bout = next(b for b in scores.bouts if b.data.row.load_kg == 8.0)
    assert "arm" not in finding(scores, bout, Settings()).mark
    arm = Notice(FREE_ARM, "the free left arm swung less", where=bout.data.row.bout)
    told = replace(bout, notices=(*bout.notices, arm))
    assert finding(scores, told, Settings()).mark.endswith("kept turning, arm swung less")


def test_an_arm_whose_yardstick_is_in_doubt_is_not_said_to_have_swung_less(
    scores: SessionScores,
) -> None:
    told = with_arms(scores, {8.0: 50.0})
    bout = next(b for b in told.bouts if b.data.row.load_kg == 8.0)
    apart = Notice(ARMS_UNLIKE, "no free walk of like pace", severity="check")
    found = replace(bout.comparison, notices=(apart,), rotation_finding="rotates")
    checked = bout_checks(bout.data.row, found, Settings().carry)
    told = with_bout(told, replace(bout, comparison=found, notices=checked))
    bout = next(b for b in told.bouts if b.data.row.load_kg == 8.0)
    assert [n.message.partition(" while")[0] for n in checked if n.code == FREE_ARM] == [
        "the free left arm may have swung less"
    ]
    view = finding(told, bout, Settings())
    assert view.mark.endswith("kept turning, arm in doubt")
    assert view.arms.startswith("Free left arm in doubt: 24.0 deg, 50 % of its swing in free")
    assert "swung less" not in view.reading


def test_an_arm_that_kept_swinging_leaves_the_ladder_open(scores: SessionScores) -> None:
    line, arm_line = say_ladder.lines_of(with_arms(scores, {8.0: 95.0, 16.0: 90.0, 24.0: 93.0}))
    assert (
        arm_line
        == "Free left arm: kept swinging at every load: 8 kg (95 %), 16 kg (90 %) and 24 kg (93 %)."
    )
    assert NOT_REACHED in line


def test_a_share_against_unlike_walks_is_said_to_be_in_doubt(scores: SessionScores) -> None:
    told = with_arms(scores, {8.0: 95.0, 16.0: 90.0, 24.0: 93.0})
    apart = Notice(ARMS_APART, "no free walk of like pace", severity="check")
    bouts = tuple(
        replace(b, comparison=replace(b.comparison, notices=(apart,)))
        if b.data.row.load_kg == 24.0 else b
        for b in told.bouts
    )  # fmt: skip
    for bout in bouts:
        if bout.data.row.load_kg in (16.0, 24.0):
            in_doubt = bout.data.row.load_kg == 24.0
            assert say_arms.arms(bout).startswith("Free left arm in doubt: ") == in_doubt
    line, arm_line = say_ladder.lines_of(replace(told, bouts=bouts))
    assert line != arm_line
    assert arm_line.endswith(
        "kept swinging at 8 kg (95 %) and 16 kg (90 %); swing in doubt at 24 kg (93 %): no fair "
        "free walk to compare with."
    )


def test_the_arm_of_a_bout_whose_loaded_side_is_doubtful_is_not_told(scores: SessionScores) -> None:
    told = with_arms(scores, {8.0: 95.0, 16.0: 90.0, 24.0: 9.0})
    name = next(b.data.row.bout for b in told.bouts if b.data.row.load_kg == 24.0)
    side = Notice(WRONG_SIDE, "check the loaded side", where=name, severity="check")
    doubtful = replace(told, notices=(side,))
    line, arm_line = say_ladder.lines_of(doubtful)
    assert line.endswith(f" Bout {name} may belong to the other side: check its loaded side.")
    assert arm_line == "Free left arm: kept swinging at 8 kg (95 %) and 16 kg (90 %)."
    bout = next(b for b in told.bouts if b.data.row.bout == name)
    view = finding(doubtful, bout, Settings())
    assert view.mark.endswith(", loaded side in doubt")
    assert view.arms == "Loaded side in doubt: which arm was free is not known."
    row = next(line for line in terminal_lines(doubtful) if " 24 " in line)
    assert row.endswith("  side in doubt")
    arm = Notice(FREE_ARM, "the free left arm swung less", where=name, severity="check")
    both = replace(doubtful, notices=(side, arm))
    assert FREE_ARM not in [notice.code for _, notice in checks(both)]


def test_pictures_and_their_tables_mark_a_bout_whose_loaded_side_is_doubtful(
    scores: SessionScores,
) -> None:
    name = next(b.data.row.bout for b in scores.bouts if b.data.row.load_kg == 24.0)
    before = swing_charts(scores)[0]
    assert name in before.finding
    side = Notice(WRONG_SIDE, "check the loaded side", where=name, severity="check")
    doubtful = replace(scores, notices=(side,))
    (chart,) = swing_charts(doubtful)
    assert name not in chart.finding
    labels = [label for panel in chart.panels for _, label in panel.row_labels if name in label]
    assert labels
    assert all(label.endswith(" (side in doubt)") for label in labels)
    table = rows_table(doubtful, doubtful.bouts, "arm_swing", ("left", "right"), "")
    heads = [row.head for row in table.rows if name in row.head]
    assert [head.replace("\u00a0", " ").rpartition(" kg, ")[2] for head in heads] == [
        "side in doubt, left", "side in doubt, right",
    ]  # fmt: skip


def test_the_terminal_marks_a_free_arm_that_swung_less_where_there_is_room(
    scores: SessionScores,
) -> None:
    arm = Notice(FREE_ARM, "the free left arm swung less", severity="check")

    def lines(name: str) -> list[str]:
        bouts = [
            replace(b, data=replace(b.data, row=replace(b.data.row, bout=f"{name}{k}")),
                    notices=(arm,) if b.data.row.load_kg == 16.0 else ())
            for k, b in enumerate(scores.bouts, 1)
        ]  # fmt: skip
        return bout_lines(bouts)

    marked = [line for line in lines("") if "arm less" in line]
    assert len(marked) == 1
    assert "  not clear, arm less  " in marked[0]
    assert max(map(len, lines(""))) <= COLUMNS
    assert not any("arm less" in line for line in lines("a long name "))


def unrecorded(bout: BoutResult, share: float, *, usable: bool) -> BoutResult:
    """A bout whose left wrist sensor has samples, or usable ones, in a `share` of it only."""
    arm = bout.data.arms["left"]
    n = round(share * arm.time_s.size)
    if usable:
        arm = replace(arm, usable=np.arange(arm.time_s.size) < n)
    else:
        arm = replace(
            arm, time_s=arm.time_s[:n], quat=arm.quat[:n], usable=arm.usable[:n],
            gyr_world_radps=arm.gyr_world_radps[:n], acc_world_mps2=arm.acc_world_mps2[:n],
            clipped=arm.clipped[:n],
        )  # fmt: skip
    few = Estimate(missing_because="too_few_strides")
    scores = tuple(
        replace(s, estimate=few) if (s.measure, s.side) == ("arm_swing", "left") else s
        for s in bout.scores
    )
    kept = tuple(s for s in bout.comparison.scores if s.side != "left")
    return replace(
        bout, data=replace(bout.data, arms=bout.data.arms | {"left": arm}), scores=scores,
        comparison=replace(bout.comparison, scores=kept),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("share", "usable", "because"),
    [
        (0.0, False, "the wrist sensor was not recording"),
        (0.1, False, "the wrist sensor recorded less than half of the bout"),
        (0.1, True, "the wrist sensor's samples are mostly missing or stand still"),
        (0.9, False, "too few strides count"),
    ],
)
def test_an_arm_that_its_sensor_did_not_record_is_told_as_such_in_row_and_card(
    scores: SessionScores, share: float, usable: bool, because: str
) -> None:
    told = with_arms(scores, {8.0: 95.0, 16.0: 90.0, 24.0: 93.0})
    bout = next(b for b in told.bouts if b.data.row.load_kg == 24.0)
    told = with_bout(told, unrecorded(bout, share, usable=usable))
    bout = next(b for b in told.bouts if b.data.row.load_kg == 24.0)
    assert say_arms.arms(bout) == f"Free left arm: not known, because {because}."
    arm_line = say_ladder.lines_of(told)[1]
    if share < 0.5:
        kept = "Free left arm: kept swinging at 8 kg (95 %) and 16 kg (90 %)"
        assert arm_line == f"{kept}; not measured at 24 kg (bout {bout.data.row.bout})."
    else:
        assert "24" not in arm_line


def test_a_load_names_every_bout_that_lacks_the_arm(scores: SessionScores) -> None:
    told = with_arms(scores, {8.0: 95.0, 16.0: 90.0, 24.0: 93.0})
    last = next(b for b in told.bouts if b.data.row.load_kg == 24.0)
    again = unrecorded(last, 0.1, usable=False)
    twice = [
        replace(again, data=replace(again.data, row=replace(again.data.row, bout=name)))
        for name in ("7", "9")
    ]
    others = [b for b in told.bouts if b is not last]
    line = say_ladder.lines_of(replace(told, bouts=(*others, *twice)))[1]
    assert line.endswith("; not measured at 24 kg (bouts 7 and 9).")

"""Pain, early stops and still free arms, as checks of a bout."""

from __future__ import annotations

from dataclasses import replace

import pytest

from imucarry.basics.records import BoutRow, Comparison, Estimate, Score
from imucarry.basics.settings import CarrySettings
from imucarry.carry.bout_checks import (
    FREE_ARM,
    NOTED,
    PAIN,
    PAIN_NOTED,
    STOPPED,
    UNLIKE_STRIDES,
    alarms_noted,
    bout_checks,
)
from imucarry.carry.symptoms import names_alarm, names_pain, stop_rank

SETTINGS = CarrySettings()
ROW = BoutRow("s16", 0.0, 20.0, hold="suitcase", loaded_side="right", load_kg=16.0)


def compared(low: float, high: float, finding: str = "rotates", role: str = "free") -> Comparison:
    kept = Estimate((low + high) / 2.0, low, high, 20)
    score = Score("s16", "arm_swing_kept", "left", role, "%", kept)  # type: ignore[arg-type]
    return Comparison(("f",), (score,), finding)


SWUNG = compared(80.0, 100.0)


@pytest.mark.parametrize(
    ("stop_reason", "pain", "code", "message"),
    [
        ("pain", 6.0, STOPPED, "stopped for pain (6 of 10)"),
        ("Pain.", float("nan"), STOPPED, "stopped for pain"),
        ("grip", 2.0, STOPPED, "stopped: grip (pain 2 of 10)"),
        ("grip failure, bell fell", float("nan"), STOPPED, "stopped: grip failure, bell fell"),
        ("completed", 5.0, PAIN, "pain 5 of 10"),
        ("", 0.5, PAIN, "pain 0.5 of 10"),
        ("dizzy", 0.0, STOPPED, "stopped: dizzy"),
        ("- grip -", 0.0, STOPPED, "stopped: grip"),
        ("no pain, grip gave out", 0.0, STOPPED, "stopped: no pain, grip gave out"),
        ("complete loss of grip", 0.0, STOPPED, "stopped: complete loss of grip"),
        ("20 m done of 40", 0.0, STOPPED, "stopped: 20 m done of 40"),
        ("20 m done, dizzy", 0.0, STOPPED, "stopped: 20 m done, dizzy"),
        ("completely exhausted", 0.0, STOPPED, "stopped: completely exhausted"),
        ("Completed, but dizzy", 0.0, STOPPED, "stopped: Completed, but dizzy"),
        (
            "pain in front of shoulder",
            0.0,
            STOPPED,
            "stopped: pain in front of shoulder (but the pain noted is 0 of 10: which is right?)",
        ),
    ],
)
def test_pain_and_early_stops_are_told_in_the_sheets_own_words(
    stop_reason: str, pain: float, code: str, message: str
) -> None:
    row = replace(ROW, stop_reason=stop_reason, pain_0_10=pain)
    (notice,) = bout_checks(row, SWUNG, SETTINGS)
    assert (notice.code, notice.message, notice.where) == (code, message, "s16")
    assert notice.severity == "check"


@pytest.mark.parametrize(
    "stop_reason",
    ["", "completed", "Time", "Completed. ", "-", " -- ", "Completed as planned", "done, no pain",
     "complete, 2 lanes", "As planned", "done - no dizziness", "20 m done",
     "2 lanes completed, fine",     "done, no chest tightness or numbness"],
)  # fmt: skip
def test_a_planned_stop_without_pain_is_not_told(stop_reason: str) -> None:
    assert bout_checks(replace(ROW, stop_reason=stop_reason, pain_0_10=0.0), SWUNG, SETTINGS) == ()


def test_pain_within_the_limit_of_the_settings_is_not_told() -> None:
    limit = replace(SETTINGS, pain_limit_0_10=3.0)
    assert bout_checks(replace(ROW, pain_0_10=3.0), SWUNG, limit) == ()
    assert bout_checks(replace(ROW, pain_0_10=4.0), SWUNG, limit)[0].message == "pain 4 of 10"


@pytest.mark.parametrize(
    ("low", "high", "finding", "message"),
    [
        (13.0, 18.0, "rotates", "swung less while the trunk kept turning: 16 % of its free swing"),
        (50.0, 70.0, "rotates", "swung less while the trunk kept turning: 60 % of its free swing"),
        (33.0, 45.0, "not_measured", "swung less: 39 % of its free swing"),
    ],
)  # fmt: skip
def test_a_free_arm_that_stopped_is_a_check(
    low: float, high: float, finding: str, message: str
) -> None:
    (notice,) = bout_checks(ROW, compared(low, high, finding), SETTINGS)
    assert (notice.code, notice.severity) == (FREE_ARM, "check")
    assert notice.message == f"the free left arm {message}"


@pytest.mark.parametrize(
    "comparison",
    [
        compared(70.0, 80.0),
        compared(13.0, 18.0, finding="reduced"),
        compared(13.0, 18.0, role="held"),
        replace(SWUNG, scores=(replace(SWUNG.scores[0], estimate=Estimate(missing_because="x")),)),
    ],
)
def test_an_arm_that_is_no_surprise_is_no_check(comparison: Comparison) -> None:
    assert bout_checks(ROW, comparison, SETTINGS) == ()


def test_the_arms_of_a_free_walk_are_no_check() -> None:
    assert bout_checks(replace(ROW, hold="free"), compared(13.0, 18.0), SETTINGS) == ()


def arm_scores(swing_deg: float, regularity: float, role: str = "free") -> list[Score]:
    found = {"arm_swing": ("deg", swing_deg), "arm_regularity": ("1", regularity)}
    return [
        Score("s16", measure, "left", role, unit, Estimate(value, value, value, 20))  # type: ignore[arg-type]
        for measure, (unit, value) in found.items()
    ]


@pytest.mark.parametrize(
    ("hold", "shared", "so"),
    [
        ("suitcase", compared(115.0, 290.0), "its swing does not show that it kept swinging"),
        ("suitcase", compared(60.0, 90.0, "reduced"), "its swing does not show that it kept swi"),
        ("suitcase", Comparison((), (), "no_baseline"), "its swing does not show that it kept sw"),
    ],
)
def test_an_arm_that_moved_but_not_with_the_strides_is_a_check(
    hold: str, shared: Comparison, so: str
) -> None:
    (notice,) = bout_checks(replace(ROW, hold=hold), shared, SETTINGS, arm_scores(49.0, 0.1))
    assert (notice.code, notice.severity, notice.where) == (UNLIKE_STRIDES, "check", "s16")
    said = "the free left arm moved, but not with the strides (a gesture, a scratch?): "
    assert notice.message.startswith(f"{said}{so}")


@pytest.mark.parametrize(
    "scores",
    [
        arm_scores(40.0, 0.8),
        arm_scores(40.0, float("nan")),  # too few strides follow each other
        arm_scores(3.0, 0.3),  # a hand that holds a phone
        arm_scores(40.0, 0.1, "held"),
    ],
)
def test_an_arm_that_swings_or_hardly_moves_is_not_doubted(scores: list[Score]) -> None:
    assert bout_checks(ROW, SWUNG, SETTINGS, scores) == ()


def test_of_a_free_walk_an_arm_that_moved_but_not_with_the_strides_is_only_noted() -> None:
    (notice,) = bout_checks(replace(ROW, hold="free"), SWUNG, SETTINGS, arm_scores(49.0, 0.1))
    assert (notice.code, notice.severity, notice.where) == (UNLIKE_STRIDES, "note", "s16")
    assert notice.message.endswith("but not with the strides (a gesture, a scratch?)")


def test_an_arm_that_swung_less_even_so_is_told_as_such() -> None:
    (notice,) = bout_checks(ROW, compared(20.0, 35.0), SETTINGS, arm_scores(15.0, 0.1))
    assert notice.code == FREE_ARM


def test_the_line_of_a_free_arm_is_the_settings() -> None:
    assert bout_checks(ROW, compared(50.0, 70.0), replace(SETTINGS, reduced_pct=65.0)) == ()


@pytest.mark.parametrize(
    ("reason", "alarm", "pain"),
    [
        ("Dizzy", True, False),
        ("numb hand", True, False),
        ("chest tightness", True, False),
        ("out of breath", True, False),
        ("chest sensor slipped", False, False),
        ("number of lanes done", False, False),
        ("Shoulder hurts", False, True),
        ("pain-free, grip gave out", False, False),
        ("nearly passed out", True, False),
        ("vertigo", True, False),
        ("black before eyes", True, False),
        ("heart racing", True, False),
        ("pins and needles in hand", True, False),
        ("tingly fingers", True, False),
        ("no chest pain, grip", False, False),
        ("not dizzy or numb", False, False),
        ("no pain chest tight", True, False),
        ("no power numb hand", True, False),
        ("no breath left", True, False),
        ("no dizziness but chest tight", True, False),
    ],
)
def test_words_of_alarm_and_of_pain_are_told_apart(reason: str, alarm: bool, pain: bool) -> None:
    assert (names_alarm(reason), names_pain(reason)) == (alarm, pain)


@pytest.mark.parametrize(
    ("note", "word"),
    [("client felt dizzy after.", "dizzy"), ("Felt faint, chest tight", 'faint", "chest tight'),
     ("tingling fingers", "tingling"), ("nearly passed out", "passed out")],
)  # fmt: skip
def test_a_symptom_in_a_note_is_a_check_without_the_notes_own_words(note: str, word: str) -> None:
    (notice,) = bout_checks(replace(ROW, note=note), SWUNG, SETTINGS)
    assert (notice.code, notice.severity) == (NOTED, "check")
    assert notice.message == f'the note says "{word}"'
    stopped = replace(ROW, note=note, stop_reason=f"stopped {word}")
    assert [n.code for n in bout_checks(stopped, SWUNG, SETTINGS)] == [STOPPED]


@pytest.mark.parametrize(
    ("stop", "note", "told"),
    [
        ("dizzy", "arm went dead", "arm went dead"),
        ("chest tightness", "numb hand", "numb"),
        ("dizzy, no numbness", "numbness later", "numbness"),
        ("grip failed", "arm went dead", "arm went dead"),
        ("pain", "dizzy", "dizzy"),
    ],
)
def test_an_alarm_in_a_note_is_told_beside_a_stop_for_another_alarm(
    stop: str, note: str, told: str
) -> None:
    found = bout_checks(replace(ROW, stop_reason=stop, note=note), SWUNG, SETTINGS)
    assert [n.code for n in found] == [STOPPED, NOTED]
    assert found[1].message == f'the note says "{told}"'


@pytest.mark.parametrize("note", ["cue: chest out, breath low", "no dizziness", "look ahead"])
def test_a_cue_in_a_note_is_no_symptom(note: str) -> None:
    assert bout_checks(replace(ROW, note=note), SWUNG, SETTINGS) == ()


ALARM_NOTES = (
    "short of breath", "Out of breath at 30 m", "couldn't feel fingers", "could not feel his hand",
    "heard a pop in shoulder", "shoulder felt unstable", "saw stars", "arm went dead",
    "felt sick afterwards", "nausea", "chest tightness", "lost feeling in left hand",
    "no feeling in hand numb", "no pain, numb fingers", "not sure, dizzy at the end",
    "shoulder popped out", "felt as if fainting", "numbness gone after 2 min", "can't breathe",
    "no pain and then dizzy", "elbow gave way", "asked about dizziness: dizzy",
)  # fmt: skip
PAIN_NOTES = {
    "pain 5/10 at front of shoulder": "pain 5/10", "Shoulder hurts": "hurts", "pain 0-2/10": "pain",
    "some ache in the neck": "ache", "could not lift without pain": "pain",
    "pain 10/10": "pain 10/10",
    "no numbness but pain": "pain", "pain: 0.5": "pain", "10 pain": "pain", "pain again": "pain",
}  # fmt: skip
HARMLESS_NOTES = (
    "no pain", "numbness gone", "No pain, numbness or dizziness.", "pain 0/10", "pain: 0",
    "pain-free", "free of pain", "not in pain", "pain gone", "tingling has gone", "no longer numb",
    "denies pain", "never dizzy", "didn't feel sick", "wasn't dizzy", "doesn't hurt", "nil pain",
    "0 pain", "pain none", "stop if dizzy", "watch for numbness", "history of shoulder pain",
    "cue: breathe out on the turn", "chest out, breath low", "chest strap tight", "load unstable",
    "unstable surface", "bottoms-up unstable at the turn", "popped out to take a call",
    "deadlift before this", "dead weight", "dead tired", "felt the trunk turn", "grip gave way",
    "trunk collapsed to the left", "legs sore from Monday", "sick of the gym music", "new shoes",
    "cannot feel a difference", "shoulder clicked", "no nausea", "shoulder not unstable",
    "no pop in shoulder", "pain not asked", "pain scale explained", "painted floor",
    "heart rate 120", "vision straight ahead", "without any pain or tingling", "hip to hip",
    "arm slipped back",
)  # fmt: skip


@pytest.mark.parametrize("note", ALARM_NOTES)
def test_an_alarm_in_a_note_is_told(note: str) -> None:
    (notice,) = bout_checks(replace(ROW, note=note, pain_0_10=0.0), SWUNG, SETTINGS)
    assert notice.code == NOTED


@pytest.mark.parametrize(("note", "word"), PAIN_NOTES.items())
def test_pain_in_a_note_beside_a_pain_of_zero_asks_which_is_right(note: str, word: str) -> None:
    (notice,) = bout_checks(replace(ROW, note=note, pain_0_10=0.0), SWUNG, SETTINGS)
    assert notice.code == PAIN_NOTED
    which = "(but the pain noted is 0 of 10: which is right?)"
    assert notice.message == f'the note says "{word}" {which}'
    (blank,) = bout_checks(replace(ROW, note=note), SWUNG, SETTINGS)
    assert blank.message == f'the note says "{word}"'
    told = bout_checks(replace(ROW, note=note, pain_0_10=5.0), SWUNG, SETTINGS)
    assert [n.code for n in told] == [PAIN]


@pytest.mark.parametrize("note", HARMLESS_NOTES)
def test_a_harmless_note_raises_nothing(note: str) -> None:
    assert bout_checks(replace(ROW, note=note, pain_0_10=0.0), SWUNG, SETTINGS) == ()


@pytest.mark.parametrize(
    "reason",
    ["can't breathe", "could not breathe", "arm went dead", "felt sick", "shoulder popped out",
     "nausea", "sick", "shoulder gave way", "couldn't feel fingers", "tight chest", "saw stars",
     "tunnel vision", "short of breath"],
)  # fmt: skip
def test_plain_words_of_alarm_stand_before_pain(reason: str) -> None:
    assert names_alarm(reason)
    assert stop_rank(reason) <= 1


@pytest.mark.parametrize(
    "reason",
    ["grip gave out", "sweaty hands", "tired", "no nausea, grip", "dead tired", "grip gave way"],
)  # fmt: skip
def test_plain_stops_are_no_alarm(reason: str) -> None:
    assert not names_alarm(reason)


def test_chest_and_dizziness_stand_before_numbness_pain_and_the_rest() -> None:
    worst_first = ["numb and dizzy", "numb hand", "shoulder hurts", "grip"]
    assert [stop_rank(reason) for reason in worst_first] == [0, 1, 2, 3]


def test_an_alarm_in_a_column_that_is_not_read_is_told() -> None:
    row = replace(ROW, extra={"comments": "chest pain and dizzy", "surface": "grass"})
    (notice,) = bout_checks(row, SWUNG, SETTINGS)
    assert (notice.code, notice.where, notice.severity) == (NOTED, "s16", "check")
    assert notice.message == 'the column comments says "chest pain", "dizzy"'
    denied = replace(ROW, extra={"comments": "no chest pain, not dizzy"})
    assert bout_checks(denied, SWUNG, SETTINGS) == ()


@pytest.mark.parametrize(
    ("column", "cell"),
    [("numbness", "left hand"), ("dizziness", "yes"), ("dizzy_(y/n)", "y"), ("numb", "x"),
     ("chest_pain", "1"), ("numbness_left_hand", "TRUE"), ("pins_and_needles", "3"),
     ("shortness_of_breath", "numb too"), ("tingling/numbness", "after the turn")],
)  # fmt: skip
def test_a_column_that_an_alarm_word_names_is_told(column: str, cell: str) -> None:
    (notice,) = bout_checks(replace(ROW, extra={column: cell}), SWUNG, SETTINGS)
    assert (notice.code, notice.severity) == (NOTED, "check")
    assert notice.message == f'the column {column} says "{cell}"'
    for no in ("", "no", "No.", "0", "-", "none", "n", "FALSE", "0/10", "no dizziness", "n/a"):
        assert bout_checks(replace(ROW, extra={column: no}), SWUNG, SETTINGS) == ()


@pytest.mark.parametrize(
    "column", ["headache_tablets", "no_dizziness", "history_of_vertigo", "chest", "surface", "_"]
)
def test_a_column_of_another_thing_is_no_alarm(column: str) -> None:
    assert bout_checks(replace(ROW, extra={column: "yes"}), SWUNG, SETTINGS) == ()


def test_a_long_cell_of_an_alarm_is_cut() -> None:
    (notice,) = bout_checks(replace(ROW, extra={"numbness": "hand " * 99}), SWUNG, SETTINGS)
    assert len(notice.message) < 110


@pytest.mark.parametrize(
    ("note", "extra", "alarms"),
    [
        ("slightly out of breath", {}, ()),
        ("Short of breath at the end", {}, ()),
        ("breathless", {"comments": "out of breath"}, ()),
        ("", {"breathlessness_0_10": "4"}, ()),
        ("", {"shortness_of_breath": "yes"}, ()),
        ("out of breath and dizzy", {}, ("dizzy",)),
        ("", {"breathlessness": "mild, numb hand"}, ("numb",)),
        ("", {"breathlessness_or_dizziness": "3"}, ("breathlessness_or_dizziness: 3",)),
        ("trouble breathing", {}, ("trouble breathing",)),
        ("cannot breathe", {}, ("cannot breathe",)),
        ("", {"chest_tightness": "2"}, ("chest_tightness: 2",)),
        ("", {"numbness_0_10": "1"}, ("numbness_0_10: 1",)),
        ("", {"numbness_0_10": "3/10"}, ("numbness_0_10: 3/10",)),
        ("", {"numbness_0_10": "0.5"}, ()),
        ("", {"numbness_0_10": "0,5 / 10"}, ()),
        ("", {"numbness": "left hand"}, ("numbness: left hand",)),
    ],
)
def test_effort_and_the_least_ratings_are_checks_that_leave_a_load_counted(
    note: str, extra: dict[str, str], alarms: tuple[str, ...]
) -> None:
    row = replace(ROW, note=note, extra=extra)
    assert {n.code for n in bout_checks(row, SWUNG, SETTINGS)} == {NOTED}
    assert alarms_noted(row) == alarms


@pytest.mark.parametrize("cell", ["0", "0.0", "0.00", "0 / 10", "0 of 10"])
def test_a_rating_of_zero_is_no_symptom(cell: str) -> None:
    for column in ("numbness_0_10", "breathlessness_0_10"):
        assert bout_checks(replace(ROW, extra={column: cell}), SWUNG, SETTINGS) == ()

"""Pain that came later, denials, blood pressure and headache in stop words and notes."""

from __future__ import annotations

import pytest

from imucarry.carry.symptoms import (
    alarms_in_note,
    names_alarm,
    names_pain,
    pain_in_note,
    stop_rank,
    unplanned,
)

CAME_LATER = (
    "pain 0 at start, 6 at end", "pain 0 -> 4", "pain 0\u21924", "pain was 0, now 6",
    "pain 0/10 at start, 4/10 at end", "pain none at rest, 4/10 loaded",
    "no more pain than usual", "no pain at start, 6 at end", "No pain at first, then 5/10",
    "pain-free at start, 6 at end", "pain 0 at start. 6 at end", "pain 0 before, after 5",
    "pain 0 at 8 kg, at 16 kg 4", "0 pain at start, 6 at end", "pain: none at rest; 3.5 loaded",
    "pain none at rest, mild loaded", "pain 0 at start, then severe", "no pain until 30 m",
    "no pain except on the turn", "no pain other than usual", "no pain above 3", "no pain 0, 7",
    "pain: 0 first lane, 10 in the second", "pain gone at rest, 4 loaded",
    "pain 0, 6 out of 10 at end",
)  # fmt: skip
NO_PAIN = (
    "pain 0/10", "pain: none", "pain: no", "Any pain? No", "pain - none", "pain = 0", "pain? none",
    "pain 0 at start, 0 at end", "pain 0, 2 lanes", "no pain, 2 more lanes", "pain 0, RPE 6",
    "no pain, RPE was 7/10", "no pain, effort: 6", "pain 0/10, HR 120", "no pain at 8 kg",
    "pain 0, load 16 kg", "no pain in bout 3", "pain 0. 2 of 3 lanes", "no pain, 1st lane slow",
    "no more pain", "no more pain, went well", "pain in shoulder: none", "any pain? no, fine",
    "pain left shoulder: 0", "pain none, slight sway", "pain 0, bad grip", "no ache", "0/10 pain",
    "pain: nil", "no pain, 40 m in 35 s", "no pain, walked at 5 km/h", "never hurting",
    "no pain over the joint",
)  # fmt: skip


@pytest.mark.parametrize("text", CAME_LATER)
def test_pain_that_came_later_is_pain(text: str) -> None:
    assert pain_in_note(text) == ["pain"]
    assert names_pain(text)
    assert unplanned(text)
    assert unplanned(f"completed; {text}")


@pytest.mark.parametrize("text", NO_PAIN)
def test_pain_denied_is_no_pain(text: str) -> None:
    assert pain_in_note(text) == []
    assert not names_pain(text)
    assert not unplanned(f"completed; {text}")


@pytest.mark.parametrize(
    "text",
    ["numbness: none", "tingling: no", "tingling - none", "no loss of feeling in hand",
     "numbness in hand: none", "tingling in left fingers? no", "dizziness: 0", "dizzy? no",
     "chest pain: none", "short of breath: no", "loss of feeling: none", "nausea none",
     "never lost feeling in the hand", "numbness: none. Tingling: no."],
)  # fmt: skip
def test_a_symptom_answered_with_none_is_denied(text: str) -> None:
    assert alarms_in_note(text) == []
    assert pain_in_note(text) == []
    assert not names_alarm(text)


@pytest.mark.parametrize(
    "text",
    ["numbness: yes", "tingling: no change", "dizzy - no grip left", "loss of feeling in hand",
     "pain: no, numbness: yes", "numbness: none at start, 5 at end", "no more dizzy than usual",
     "numb: none of it gone", "no feeling in hand", "numbness none at rest, mild loaded"],
)  # fmt: skip
def test_a_symptom_that_is_not_denied_alarms(text: str) -> None:
    assert alarms_in_note(text)
    assert names_alarm(text)


@pytest.mark.parametrize("text", ["shoulder ached", "arm ached after", "it was hurting"])
def test_pain_in_the_past_is_pain(text: str) -> None:
    assert pain_in_note(text)
    assert names_pain(text)


@pytest.mark.parametrize(
    "reason",
    ["no pain", "No pain.", "pain: none", "pain 0/10", "no pain or dizziness", "pain-free",
     "not dizzy", "no pain, no numbness", "any pain? no"],
)  # fmt: skip
def test_a_denial_alone_is_no_early_stop(reason: str) -> None:
    assert unplanned(reason) == ""


@pytest.mark.parametrize(
    "reason",
    ["no pain, grip", "pain gone", "numbness gone", "previous pain", "no longer numb",
     "history of pain", "no more pain", "no power", "not pain but grip"],
)  # fmt: skip
def test_a_denial_with_more_to_it_is_an_early_stop(reason: str) -> None:
    assert unplanned(reason) == reason


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("bad headache after", ["headache"]),
        ("Headaches at the end", ["headaches"]),
        ("migraine", ["migraine"]),
        ("blood pressure high, 185/115 after", ["blood pressure high", "blood pressure 185/115"]),
        ("BP 190/115", ["BP 190/115"]),
        ("BP: 180/90", ["BP 180/90"]),
        ("bp 150/110 at rest", ["BP 150/110"]),
        ("BP 130/80 before, 190/110 after", ["BP 190/110"]),
        ("checked BP 190 over 115", ["BP 190/115"]),
        ("BP ok, then 200/120", ["BP 200/120"]),
        ("185/115 mmHg", ["blood pressure 185/115"]),
        ("BP above 180/110", ["BP 180/110"]),
        ("BP was 190", ["BP 190"]),
        ("systolic 190", ["systolic 190"]),
        ("diastolic of 115", ["diastolic 115"]),
        ("BP too high", ["BP too high"]),
        ("high blood pressure", ["high blood pressure"]),
        ("blood pressure went up", ["blood pressure went up"]),
        ("BP high 150/95", ["BP high"]),
        ("blood pressure dropped", ["blood pressure dropped"]),
    ],
)
def test_blood_pressure_and_headache_alarm(text: str, words: list[str]) -> None:
    assert alarms_in_note(text) == words
    assert names_alarm(text)
    assert stop_rank(text) == 0
    assert unplanned(f"completed, {text}")


@pytest.mark.parametrize("reason", ["blood pressure", "BP", "grip, blood pressure", "BP issue"])
def test_a_stop_for_blood_pressure_alarms(reason: str) -> None:
    assert names_alarm(reason)
    assert stop_rank(reason) == 0


@pytest.mark.parametrize(
    "text",
    ["no headache", "headache: none", "headache gone", "headache-free", "headache? no", "BP normal",
     "BP ok 120/80", "blood pressure fine", "blood pressure 179/109", "BP 150/95", "BP not high",
     "no high blood pressure", "history of high BP", "BP taken after", "blood pressure cuff off",
     "stop if BP above 180/110", "BP below 180/110", "BP <180/110", "BP never above 180/110",
     "BP limit 180/110", "stop if BP goes high", "BP high? no", "BP high normal", "took BP",
     "high blood pressure tablets taken", "BP 120/80, HR 185", "pain 0/10, BP 130/85",
     "BP up to 130/80", "BP dropped to 120/80", "no blood pressure problems", "checked BP",
     "previous BP 190/115", "controlled high blood pressure", "26/11/2026", "200/120 m done",
     "no symptoms, BP normal", "BP OK", "head up, look ahead", "BP measured at 190 m"],
)  # fmt: skip
def test_harmless_blood_pressure_and_denied_headache_are_silent(text: str) -> None:
    assert alarms_in_note(text) == []
    assert pain_in_note(text) == []
    assert not names_alarm(text)


@pytest.mark.parametrize(
    "reason",
    ["ok", "OK.", "n/a", "N/A", "na", "n.a.", "no stop", "did not stop", "didn\u2019t stop", "0",
     "all good", "fine", "as prescribed", "As prescribed.", "full set", "nil", "n"],
)  # fmt: skip
def test_a_harmless_end_is_no_stop(reason: str) -> None:
    assert unplanned(reason) == ""


@pytest.mark.parametrize(
    "reason",
    ["not ok", "ok until the turn", "fine, then dizzy", "no stop but dizzy", "0 grip left",
     "as prescribed, but pain 6", "as prescribed until grip slipped",
     "as prescribed, stopped early", "as prescribed, 20 m of 40", "full set, numb hand", "nausea",
     "na usea", "not fine"],
)  # fmt: skip
def test_a_harmless_word_does_not_hide_a_stop(reason: str) -> None:
    assert unplanned(reason) == reason


DENIED = (
    "no numbness/tingling", "No dizziness / numbness", "no numbness & tingling",
    "no numbness and tingling", "not dizzy/faint", "no pain/numbness",
    "no numbness/tingling, dizziness or nausea", "No numbness/tingling in left hand",
    "dizziness: none", "dizziness, numbness: none", "dizziness/numbness: no",
    "dizziness, nausea, numbness = 0", "numbness and tingling gone",
    "any dizziness? no", "any dizziness or numbness? no", "any dizziness, numbness or pain? No.",
    "asked about dizziness: none", "asked about dizziness and numbness: none",
    "asked about pain, dizziness: no", "asked about dizziness, none",
    "dizzy y/n: n", "dizzy (y/n): no", "dizziness [y/n] n", "dizziness: n", "dizziness = n",
    "dizziness no", "dizziness no, numbness no", "numbness n", "dizziness negative",
    "dizziness (-)", "dizziness (\u2013), numbness (-)", "dizziness -ve", "numbness (no)",
    "dizziness denied", "dizziness: denied", "dizziness and numbness were denied",
    "denied dizziness", "denies dizziness, numbness, tingling", "did not report dizziness",
    "dizziness not reported", "denied any dizziness or numbness", "denies dizziness",
    "ruled out dizziness", "dizziness ruled out", "dizziness was ruled out",
    "neither dizzy nor numb", "Felt fine, neither dizzy nor numb", "neither dizziness nor nausea",
    "no complaints (dizziness, numbness)", "no symptoms (dizzy / numb / chest pain)",
    "no complaints of dizziness", "no reports of numbness or tingling",
    "dizzy-free", "numbness-free", "at no point dizzy", "at no point was he dizzy",
    "at no time felt numb", "not at any point dizzy", "not at all dizzy", "not dizzy at any point",
)  # fmt: skip
NOT_DENIED = {
    "not only dizzy but numb": ["dizzy", "numb"], "no pain but dizzy": ["dizzy"],
    "dizzy, no numbness": ["dizzy"], "numb, not dizzy": ["numb"],
    "neither strong nor steady, dizzy": ["dizzy"], "no numbness/tingling but dizzy": ["dizzy"],
    "no numbness/dizzy": ["dizzy"], "no pain/dizzy at the end": ["dizzy"],
    "no pain and numbness in hand": ["numbness"], "no pain & tingling": ["tingling"],
    "no dizziness and tingling in fingers": ["tingling"], "no dizziness and numb": ["numb"],
    "dizzy, numbness: none": ["dizzy"], "dizziness, pain: 0": ["dizziness"],
    "dizziness, pain 0/10": ["dizziness"], "dizziness and pain 0": ["dizziness"],
    "dizziness 5/10, numbness: none": ["dizziness"], "dizziness, numbness: 3":
    ["dizziness", "numbness"], "dizziness, numbness gone": ["dizziness"],
    "dizzy y/n: y": ["dizzy"], "dizziness (+)": ["dizziness"], "dizziness: new": ["dizziness"],
    "any dizziness or numbness? yes": ["dizziness", "numbness"],
    "any dizziness? no, but numb": ["numb"], "asked about pain: none. Dizzy": ["dizzy"],
    "asked about numbness: left hand": ["numbness"], "dizziness no better": ["dizziness"],
    "dizziness not denied": ["dizziness"], "could not deny being dizzy": ["dizzy"],
    "dizziness not ruled out": ["dizziness"], "not ruled out dizziness": ["dizziness"],
    "no complaints, dizzy": ["dizzy"], "no complaints except dizziness": ["dizziness"],
    "no complaints (dizzy at the end)": ["dizzy"], "dizzy, free hand swung": ["dizzy"],
    "numb free hand": ["numb"], "no numbness/tingling until 30 m": ["tingling"],
    "at no point steady, dizzy": ["dizzy"], "at one point dizzy": ["dizzy"],
    "dizziness none at start, 5 at end": ["dizziness"], "dizziness - severe": ["dizziness"],
    "felt faint, signal lost": ["faint"],
    "felt faint signal lost": ["faint"], "felt faint light-headed": ["faint", "light-headed"],
    "numb hand pain 0": ["numb"], "numbness, hand pain: 0": ["numbness"],
    "tingling pain none": ["tingling"], "dizziness denied at first, then felt": ["dizziness"],
    "not dizzy and numb hand": ["numb"], "not dizzy and felt faint": ["faint"],
    "no dizziness & tingling left hand": ["tingling"], "pain 0 dizzy": ["dizzy"],
    "pain: 0 numb hand": ["numb"], "no complaints (dizzy)": ["dizzy"],
    "denied dizziness, numb hand": ["numb"],
    "denied dizziness, numbness in hand": ["numbness"], "dizzy no grip left": ["dizzy"],
}  # fmt: skip


@pytest.mark.parametrize("text", DENIED)
def test_every_way_to_deny_a_symptom_is_read_as_none(text: str) -> None:
    assert alarms_in_note(text) == []
    assert not names_alarm(text)


@pytest.mark.parametrize(("text", "words"), NOT_DENIED.items())
def test_what_only_looks_like_a_denial_alarms(text: str, words: list[str]) -> None:
    assert alarms_in_note(text) == words
    assert names_alarm(text)


@pytest.mark.parametrize(
    "text",
    ["faint signal from left sensor", "faint signal", "bluetooth signal faint",
     "faint bluetooth signal", "the beeps were faint"],
)  # fmt: skip
def test_a_faint_signal_is_no_symptom_and_may_be_why_a_bout_ended(text: str) -> None:
    assert alarms_in_note(text) == []
    assert not names_alarm(text)
    assert unplanned(text) == text

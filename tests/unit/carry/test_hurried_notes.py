"""Notes as they are typed in a hurry, each with what a careful colleague would read in it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from imucarry.basics.records import BoutRow, Comparison
from imucarry.basics.settings import CarrySettings
from imucarry.carry.bout_checks import alarms_noted, bout_checks, noted_words
from imucarry.carry.symptoms import alarm_of_column, names_alarm, names_pain, unplanned

ROW = BoutRow("s16", 0.0, 20.0, hold="suitcase", loaded_side="right", load_kg=16.0)

ALARMS = (
    "c/o dizziness x2", "dizzy Y numb N", "dizzy N numb Y", "Dizzy: Y Numb: N",
    "Dizziness: Y / Numbness: N", "dizziness [x] numbness [ ]", "P&N both hands after 20m",
    "P+N in L fingers", "pins and needles R hand", "pins + needles L thumb", "numbness 2/10",
    "tingling 3/10 L hand, pain 0/10", "lightheaded on turning", "light headedness at end",
    "light-headedness, sat down", "a bit woozy after", "giddy at turn", "felt giddy",
    "room was spinning", "near syncope, sat", "presyncopal", "nearly fainted",
    "feint feeling at 30m", "felt dizy", "dizzyness on 2nd lap", "dizzness", "nausious",
    "slight numness R thumb", "numbess L hand", "tinglng fingers", "headach after", "palpatations",
    "heart was racing", "heart skipping", "heart fluttering", "irregular heartbeat felt",
    "felt heart pounding in ears", "felt sick", "feeling a bit sick", "felt really sick after",
    "felt a bit faint", "was sick after bout", "R arm dead at end", "arm felt dead",
    "hand went to sleep", "fingers fell asleep", "felt a pop in elbow", "heard pop L sh",
    "shoulder popped", "sh felt unstable overhead", "shoulder subluxed", "sublux R GHJ",
    "usual numbness L hand, unchanged", "numb L hand as before (carpal tunnel)", "+ve dizziness",
    "dizziness +", "dizziness ++", "dizziness +ve", "cant feel fingers", "couldnt feel his hand",
    "cant breathe", "breathing difficulties", "difficulty with breathing", "wheezy at end",
    "chest tight", "chest felt tight", "tight across chest", "tightness across the chest",
    "heaviness in chest", "chest heavy", "chest hurts", "angina", "vision went blurry",
    "blurry vision", "seeing double", "stars in eyes", "went pale and clammy",
    "collapsed onto bench", "threw up after", "vomitted after", "nauseated but finished",
    "headache since this morning, not worse", "numbness resolved after 1 min",
    "dizzy for 5 s then fine", "dizziness came on at 30 m, gone by end", "numb fingers then ok",
    "? numb", "?dizzy", "poss. numbness L hand", "maybe slightly dizzy", "not sure if dizzy",
    "numbness? yes", "Numbness - yes R", "no numbness but tingling", "no dizziness. Numb R hand.",
    "No pain. Dizzy at end.", "no pain, sl dizzy", "not dizzy until turn",
    "denies pain; reports dizziness", "denies pain but c/o tingling",
    "no problems apart from numb thumb", "all good except dizzy at end",
    "nothing to report but tingling", "no issues other than light headed",
    "pain nil, numbness nil, dizziness yes", "dizziness/numbness: N/Y",
    "Dizziness yes Numbness no Pain no", "dizziness: no numbness: yes", "Q: dizzy? A: yes",
    "dizzy? a little", "numbness present", "hand numb from cold before start",
    "numb from cold water", "blacked out briefly", "post BP 190/100", "Dizzy?Y Numb?N",
    "dizzy:n numb:y", "pain 0 dizziness 2 numbness 0", "Symptoms: dizziness",
    "sx: numb 4th/5th digits R", "Symptoms: none except mild tingling",
    "no symptoms until last lap - light headed", "reports no symptoms bar slight tingle",
    "Nothing abnormal except some nausea", "hardly any tingling", "barely numb",
    "dizziness better, still there", "less numb than last time", "numb again", "numb L arm",
    "L arm numb+++", "hands gone numb", "fingers went numb @ 30m", "fingers went to sleep",
    "arm gone to sleep", "can't feel fingers", "lost sensation in R hand", "no feeling in fingers",
    "reduced sensation R thumb", "dec sensation L hand", "electric shock down arm",
    "knee gave way", "felt sh slip out", "felt unwell", "unwell, stopped", "passed out for a sec",
    "nearly passed out", "saw black", "greyed out", "went dizzy", "dizziness mild",
    "dizziness: mild", "dizziness - mild", "dizziness (mild)", "dizziness yes/no", "dizzy y / n",
    "numb bum from sitting before", "dead arm joke", "P/N R hand", "numbness in feet", "toes numb",
    "face tingling", "tingly lips", "nose numb from the cold", "dizziness to be monitored",
    "monitor dizziness", "stopped because dizzy", "stopped as dizzy", "when dizzy he stopped",
    "dizzy at start, no longer at end", "known migraines", "migraine sufferer",
    "numbness L - none R", "dizziness after - none before", "dizzy at end, none before",
    "checked if dizzy - yes", "checked if numb: yes", "asked if dizzy: yes",
    "asked if dizzy, a little", "previous numbness again", "prev numbness unchanged",
    "hx dizziness, dizzy again", "no feeling hand numb", "cannot feel fingers numb",
    "can't feel hand, numb", "no grip, hand numb", "no change in numbness", "no change dizziness",
    "no improvement in numbness", "no relief from tingling", "dizzy, no fall", "dizzy but no fall",
    "dizzy no fall", "numbness no pain", "numb no pain no dizziness",
    "numb, no pain, no dizziness", "tingling no numbness", "tingling but no numbness",
    "not just numb, dizzy too", "no wonder he was dizzy", "no doubt dizzy", "no water, felt faint",
    "no breakfast - dizzy", "no breakfast: dizzy", "didn't eat, dizzy", "didn't stop though dizzy",
    "didn't say he was dizzy until after", "did not mention numbness until asked",
    "never this dizzy before", "not as dizzy as before", "not so dizzy today", "not very dizzy",
    "not too numb", "wasn't too dizzy", "no worse dizziness", "without load dizzy",
    "dizzy without load", "if anything more numb", "stop - dizzy",
    "stopped if only briefly, dizzy", "R none L numb", "pain none, numb", "pain: 0, numb",
    "pain 0 numb 3", "pain n numb y", "numb y pain n", "numb (R), no pain",
    "numbness (R hand), dizziness (-)", "dizziness (-), numbness (R)", "nil pain but numb",
    "nil pain, numb", "nil else. dizzy", "dizzy -> none after rest",
    "symptoms: none at start, dizzy at end", "no sx at start, then dizzy",
    "no symptoms (but dizzy at end)", "no problem, just dizzy", "no problems, felt sick",
    "no issues; SOB, numb", "denies pain, dizzy", "denied pain then said dizzy",
    "told to stop, dizzy", "reminded to report, says dizzy", "any dizziness? slight",
    "any numbness: L hand", "any pain or dizziness? dizziness", "dizziness? Not sure",
    "dizziness not gone", "numbness not settled", "numbness not yet gone", "numbness almost gone",
    "numbness nearly resolved", "dizziness yesterday and today", "numb last visit, same today",
    "numb since last week", "dizzy like last time", "no longer sick but dizzy",
    "numb to touch R hand", "headache tablet taken for headache", "blackout on lap 2",
    "had a blackout", "pop song on, felt dizzy", "sick beat but sick stomach, felt sick",
    "chest tight, strap loosened", "no strap chest tight", "not dizzy at start but was at end",
    "pt c/o mild dizziness post", "numbness=N dizziness=Y", "Dizzy? no Numb? a bit",
    "dizziness: none, numbness: R thumb", "lightheaded x 10s", "sl. lightheaded",
    "felt light in the head", "head rush on set down", "nausea ++ after", "queasy", "felt queasy",
    "retched", "cold sweat", "palps", "HR 150, heart thumping", "chest pressure L side",
    "sharp chest pain x1", "pins + needles 2nd finger, gone in 1/60", "R hand tingles",
    "tingly, no numbness", "pinky numb", "ulnar numbness", "numb ish R hand", "numbish R hand",
    "hand numb-ish", "R UL paraesthesia", "dizzy, haha no", "R hand numb last 5m", "dizy at cone",
    "c/o numb fingers R, eased 2/60", "tingling L hand throughout", "mild headache",
    "bit of a headache, no nausea", "headache (pre-existing)", "chest tight but ok",
    "tight chest, settled", "dead arm L", "shoulder gave out", "numb from gloves",
    "fainted after set down", "nearly blacked out", "vision dimmed", "seeing stars x2",
    "spots in vision", "couldn't breathe with strap", "BP 185/95 post",
)  # fmt: skip
BREATH = (
    "SOB at end", "mild SOB, settled 1/60", "hard to catch breath",
    "dizziness 0, numbness 0, SOB 2", "ok but sob ++", "short of breath +", "very SOB",
)  # fmt: skip
PAIN = (
    "pain 0 at start, six at end", "pain 0 -> 3", "pain 0-3 during", "R sh pain 3/10",
    "c/o R sh pain", "no increase in pain", "pain no worse", "pain same as last time",
    "pain unchanged 2/10", "pain 4 before, 0 after", "pain 2/10 -> 0/10", "LBP 2/10",
    "neck pain mild", "achy shoulder", "achey traps", "no dizziness no numbness pain 2",
    "no dizziness, pain 2/10", "pain two out of ten", "pain 0 then three", "pain: 0 start / 4 end",
    "pain 0/10 pre, 2/10 post", "pain pre 0 post 4", "VAS 4", "pain (0-10): 4",
    "pain in the neck to set up", "numb - no, dizzy - no, pain - 2",
    "dizziness=0; numbness=0; pain=3", "shooting pain into arm", "shooting pains",
    "pain face emoji?", "pain in the ass setup", "growing pains with sheet",
    "pain 3/10 start 1/10 end", "3/10 pain L sh", "pain now 0, was 4", "pain was 4 now 0",
    "pain 0/0/3", "no pain 1st lap, pain 2nd lap", "pain only on turn", "no pain until last 5 m",
    "pain 0 except on turn", "pain only at end", "no pain bar the last lap", "no pain, then 4/10",
    "0/10 pain start, 5/10 pain end", "pain no, then yes", "numbness NO dizziness NO pain 1/10",
    "pain 2/10 L sh, nil else", "L sh pain 0 \u2192 4/10", "pain ↑ to 5", "pain 1-2/10",
    "pain <1/10", "hurts to grip", "Numb? N Dizzy? N Pain? 2", "shoulder click, pain 2",
    "pain L wrist 3-4/10", "pain in lower back 2", "slight back pain", "pain less than last week",
    "pain eased after", "pain on set down only", "pain 0 walking 3 on lift",
    "pain-free until lift", "no pain w/ 16, 3/10 w/ 24",
)  # fmt: skip
HARMLESS = (
    "Dizziness N / Numbness N", "symptoms: none (dizziness, numbness)",
    "chest pain/tightness: none", "blackout curtains drawn", "nil c/o dizziness",
    "no c/o pain or p&n", "NAD", "NAD, no SOB", "nil SOB, nil CP, nil dizziness",
    "no SOB/CP/dizziness", "denies CP/SOB", "Dizzy: N Numb: N SOB: N",
    "dizziness [ ] numbness [ ]", "dizziness - N, tingling - N, pain - 0", "Symptoms N", "Sx: nil",
    "Sx nil (dizzy, SOB, numb)", "asymptomatic", "no adverse symptoms",
    "no adverse symptoms e.g. dizziness", "no symptoms such as dizziness or numbness",
    "no red flags (numbness, dizziness)", "nil p+n", "nil pins/needles", "numbness n/a",
    "dizziness n/a, pain n/a", "numbness -", "dizziness 0/10 numbness 0/10", "no lightheadedness",
    "no syncope", "no dizzyness", "no numness or tinglin", "sick beat on the playlist",
    "off sick last week", "sister sick, tired today", "faint smell of paint",
    "faint smell in hall", "faint rattle from bell", "faint tan line from strap",
    "faint line on floor, hard to see", "came to a dead stop at cone", "dead stop then restart",
    "dead hang before", "sensor went dead at end", "phone battery dead",
    "pop song in hall, walked in time", "heard a pop song", "numb to the gym music by now",
    "numbers ok", "comfortably numb on radio", "head spinning with all the questions",
    "asked if dizzy: no", "asked re dizziness - denied", "asked re numbness, said none",
    "told to stop if numb", "will stop if pain >5", "reminded to report dizziness",
    "told to say if dizzy", "no new numbness", "no new pain", "no worse than before",
    "pain settled", "DOMS in quads", "DOMS, no pain", "sore from Tuesday", "sore R sh",
    "stiff, not painful", "pain free throughout", "painfree", "painfree ROM full",
    "no pain/numb/dizzy", "no pain, numb or dizzy", "no dizzy, no numb", "not numb/dizzy/sob",
    "neg dizziness, neg numbness", "-ve dizziness -ve numbness",
    "pt denies sx incl dizziness, SOB", "without dizziness this time", "wasnt dizzy",
    "didnt feel dizzy", "doesnt hurt", "out of puff", "puffed at end", "breathing hard, normal",
    "breathing heavy", "chest strap too tight", "chest strap loose", "sore chest from bench press",
    "chest sensor slipped", "no angina sx", "no blurry vision", "vision good",
    "headache tablet taken at breakfast", "history of migraine", "hx migraine", "PMH: vertigo",
    "prev numbness L, none today", "numbness last week, none today",
    "dizzy spell yesterday, fine today", "no numbness today, had some yesterday",
    "some dizziness last visit", "pain pre 0 post 0", "NRS 0", "pain NRS 0", "pain (0-10): 0",
    "pain 0-10: 0", "pain /10: 0", "painful arc neg", "shoulder pain resolved last month",
    "nil of note", "nil pain, nil numbness", "pain nil numbness nil dizziness nil",
    "dizziness/numbness/pain: N/N/N", "Dizziness no Numbness no Pain no",
    "dizziness: no numbness: no", "Dizziness NO, numbness NO, SOB NO", "any numbness? - no",
    "any sx? no dizziness, no numbness", "Q: dizzy? A: no", "dizzy? nope", "dizzy? not at all",
    "says no dizziness", "pt reports no numbness or tingling", "reports nil dizziness",
    "0 dizziness 0 numbness", "zero pain", "numbness absent", "numbness not present",
    "pains taken to set up sensors", "took pains to keep level", "hurt pride only",
    "black out blinds down", "blacked out windows", "power blackout, restarted",
    "BP 128/82, no dizziness", "breath held", "Nil sx", "nil adverse effects",
    "pt well, nil dizziness/SOB/CP", "no LH, no SOB", "no LOC", "no pre-syncope",
    "no probs, L grip fatigue only", "dizziness? N. numbness? N. pain? 0/10", "Dizzy?N Numb?N",
    "Dizziness-no, numbness-no", "pain 0 dizziness 0 numbness 0 RPE 6",
    "Symptoms: nil. Pain 0. RPE 5.", "no pain. No dizziness. Grip ok.",
    "no pain no dizziness grip ok", "no dizziness or chest pain reported",
    "no dizziness reported by pt", "nil reported dizziness", "neither dizziness nor pain reported",
    "he wasn't dizzy or numb", "wasn't short of breath", "not SOB", "not breathless",
    "not at all numb", "never felt numb", "hasn't been dizzy", "hasn't had any headaches",
    "hadn't felt dizzy", "no real dizziness", "no obvious dizziness", "no signs of numbness",
    "no evidence of dizziness", "absence of dizziness", "negative for dizziness",
    "clear of dizziness", "symptom free", "sx free", "knee buckled", "ankle rolled",
    "sh clunked, no pain", "shoulder slipped, put down", "didn't pass out", "was sick of waiting",
    "sick kid at home", "sick pb!", "dead lift warm up", "pop up cones", "felt like a pop star",
    "ears popped", "heart monitor strap on", "heart rate strap loose", "heart rate pounding 180",
    "took heart from last time", "sight line blocked", "room heavy with people",
    "BP 150/90, nil sx", "tight traps", "tight chest strap", "strap tight on chest",
    "tight on chest, loosened strap", "vision of the cone blocked", "no pain no gain",
    "painstaking setup", "hurry, not hurt", "P0", "pain 0 P/N nil", "no P/N", "pain 0 \u2192 0",
    "pain 0-0-0", "no pain only tightness", "breathing ok", "bit puffed",
    "will ask re numbness next time", "ask about dizziness next visit", "if dizzy stop",
    "no longer dizzy at end", "no history of dizziness", "hx of dizziness, none today",
    "sick, off last lap", "nil dizziness post, nil SOB", "no dizziness today.",
    "No numbness or P&N today", "no numbness / P&N / dizziness", "Numbness: nil. P&N: nil.",
    "P&N nil, numbness nil, pain 0/10", "numbness=N dizziness=N", "Dizzy? no Numb? no",
    "dizzy/light headed: no", "light headed/dizzy - nil", "felt off, stopped", "wobbly legs",
    "tummy upset", "hot and sweaty", "no chest sx", "no chest symptoms", "no cardiac sx",
    "no paraesthesia", "no UL sx", "no neuro sx", "nil neuro", "slight twinge R elbow",
    "niggle in elbow", "grip burning, no pain", "forearm pump only, no pain", "no pain just pump",
    "painless", "pain-free", "no symtoms, dizziness none", "no symptons (dizziness, numbness)",
    "asymptomatic, no dizziness/numbness", "felt great, not dizzy this week",
    "not dizzy unlike last week", "dizzy last week, not today", "no further dizziness",
    "no recurrence of numbness", "no episodes of dizziness", "free of numbness",
    "hasn't felt numb at all", "not feeling dizzy or sick", "said he felt fine, not dizzy",
    "claims not dizzy", "doesn't report numbness", "isn't numb", "ain't dizzy",
    "no dizzines or numbnes", "denied numbness & dizziness", "pt stated no numbness",
    "no numbness in either hand", "no numbness in hands or fingers",
    "no numbness, tingling or weakness", "no numbness tingling or dizziness",
    "no headache nausea or dizziness", "no headache, nausea, dizziness",
    "no pain numbness dizziness", "no dizziness whatsoever", "no dizziness with 24kg",
    "no dizziness this bout", "dizziness none this time", "didn't get dizzy", "did not feel faint",
    "felt neither faint nor sick", "numbness gone now", "R arm felt heavy", "shoulder felt loose",
    "clicky shoulder no pain", "back pain 0", "back pain: nil", "wrist sore", "no back pain today",
    "pain gone", "faint voice on recording", "faint bleep", "battery nearly dead",
    "sick note seen", "whole class sick this week", "collapsed shoulders cue",
    "heart of the session", "felt strong, breath steady", "pop of colour on cone",
    "deadweight feel", "double vision? no", "BP OK 140/85, dizziness nil",
)  # fmt: skip


@pytest.mark.parametrize("note", ALARMS)
def test_an_alarm_typed_in_a_hurry_keeps_a_load_from_counting(note: str) -> None:
    assert alarms_noted(replace(ROW, note=note))


@pytest.mark.parametrize("note", BREATH)
def test_short_breath_typed_in_a_hurry_is_told_and_the_load_counts(note: str) -> None:
    row = replace(ROW, note=note)
    assert noted_words(row)[0]
    assert alarms_noted(row) == ()


@pytest.mark.parametrize("note", PAIN)
def test_pain_typed_in_a_hurry_is_told(note: str) -> None:
    alarms, pain = noted_words(replace(ROW, note=note))
    assert alarms == []
    assert pain


@pytest.mark.parametrize("note", HARMLESS)
def test_a_harmless_note_typed_in_a_hurry_raises_nothing(note: str) -> None:
    assert noted_words(replace(ROW, note=note)) == ([], [])


@pytest.mark.parametrize(
    ("reason", "alarm", "pain", "early"),
    [
        ("SOB", True, False, True),
        ("completed, no SOB", False, False, False),
        ("completed - no sx", False, False, False),
        ("completed, dizziness N / numbness N", False, False, False),
        ("done. numb R hand", True, False, True),
        ("pain 0 -> 5", False, True, True),
        ("dizzyness", True, False, True),
        ("P&N R hand", True, False, True),
        ("grip, no dizziness", False, False, True),
        ("lightheadedness", True, False, True),
        ("felt giddy", True, False, True),
        ("syncope", True, False, True),
        ("chest", True, False, True),
        ("chest strap came off", False, False, True),
        ("chest sensor fell", False, False, True),
        ("blackout curtains fell", False, False, True),
        ("power blackout", False, False, True),
        ("pt dizy", True, False, True),
        ("out of puff", False, False, True),
        ("sh pain 6/10", False, True, True),
        ("faint smell of smoke", False, False, True),
        ("no symptoms", False, False, False),
        ("nil", False, False, False),
        ("no dizziness/numbness/pain", False, False, False),
        ("symptoms: none (dizziness, numbness)", False, False, False),
        ("completed; sx: none (dizziness, numbness)", False, False, False),
        ("not dizzy, just tired", False, False, True),
        ("sick of it", False, False, True),
        ("heart rate too high", True, False, True),
    ],
)
def test_a_stop_typed_in_a_hurry(reason: str, alarm: bool, pain: bool, early: bool) -> None:
    found = names_alarm(reason), names_pain(reason), bool(unplanned(reason))
    assert found == (alarm, pain, early)


@pytest.mark.parametrize(
    ("column", "cell"),
    [("sob", "yes"), ("p&n", "L hand"), ("lightheadedness", "y"), ("dizzyness", "2"),
     ("paraesthesia", "yes"), ("numbness", "no change"), ("numbness", "+")],
)  # fmt: skip
def test_a_column_named_by_an_abbreviation_or_a_typo_is_told(column: str, cell: str) -> None:
    assert alarm_of_column(column, cell) == cell


def test_a_misspelled_alarm_column_keeps_a_load_from_counting() -> None:
    assert alarms_noted(replace(ROW, extra={"dizzyness_0_10": "2"}))


@pytest.mark.parametrize("cell", ["nope", "-ve", "none reported", "N/A", "nil"])
def test_a_no_in_a_column_of_an_alarm_is_no_alarm(cell: str) -> None:
    assert alarm_of_column("numbness", cell) == ""


def test_a_misspelled_alarm_is_told_in_its_right_spelling() -> None:
    row = replace(ROW, note="slight numness R thumb")
    (notice,) = bout_checks(row, Comparison((), (), "rotates"), CarrySettings())
    assert notice.message == 'the note says "numbness"'


@pytest.mark.parametrize("note", ["can\u2019t breathe", "couldn\u2019t feel fingers"])
def test_a_curly_apostrophe_hides_no_alarm(note: str) -> None:
    assert alarms_noted(replace(ROW, note=note))


@pytest.mark.parametrize(
    "note", ["cable tangling", "numbers ok", "painting on the wall", "slight twinge", "red tinge"]
)
def test_a_word_like_an_alarm_is_none(note: str) -> None:
    assert noted_words(replace(ROW, note=note)) == ([], [])

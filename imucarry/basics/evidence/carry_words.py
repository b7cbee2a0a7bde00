"""Words in ``stop_reason`` and ``note``: planned ends, pain, and what alarms."""

from __future__ import annotations

from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE, Evidence

PLANNED_STOPS = Evidence(
    key="carry.planned_stops",
    value=(
        "", "none", "no", "completed", "complete", "done", "finished", "planned", "as planned",
        "distance", "distance done", "time", "time up", "end of lane", "end of walk",
        "target reached", "as prescribed", "full set", "full distance", "no stop", "not stopped",
        "did not stop", "didn't stop", "didn\u2019t stop", "nothing", "nil", "n/a", "n.a", "na",
        "n", "0", "ok", "okay", "all ok", "all good", "fine",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Words in stop_reason for a bout that ended as planned; any other word is an early stop.",
)  # fmt: skip
PLANNED_STARTS = Evidence(
    key="carry.planned_stop_starts",
    value=("complete", "completed", "done", "as planned"),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A stop_reason that begins with one of these, such as 'completed, two lanes', is no early "
    "stop, unless it goes on to name pain, an alarm word or a failure.",
)
FAILURE_WORDS = Evidence(
    key="carry.failure_words",
    value=("loss", "lost", "fail", "failed", "failure", "exhausted", "exhaustion"),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="'Complete loss of grip' begins like a planned end and is none.",
)
PAIN_WORDS = Evidence(
    key="carry.pain_words",
    value=(
        "pain", "pains", "painful", "hurt", "hurts", "hurting", "ache", "aches", "ached", "aching",
        "sore", "achy", "achey",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A stop_reason that names pain ranks with pain, and does not fit a pain of 0.",
)  # fmt: skip
_SYMPTOMS = (
    "dizzy", "dizziness", "vertigo", "faint", "fainted", "fainting", "passed out", "passing out",
    "pass out", "blacked out", "black out", "blackout", "black before", "light-headed",
    "light headed", "lightheaded", "saw stars", "seeing stars", "saw spots", "seeing spots",
    "tunnel vision", "double vision", "blurred vision", "vision blurred", "nausea", "nauseous",
    "nauseated", "felt sick", "feels sick", "feel sick", "feeling sick", "vomit", "vomited",
    "vomiting", "headache", "headaches", "migraine", "giddy", "giddiness", "woozy", "feint",
    "lightheadedness", "light-headedness", "light headedness", "syncope", "presyncope",
    "pre-syncope", "presyncopal", "seeing double", "blurry vision", "stars in eyes",
    "spots in vision", "saw black", "greyed out", "room spinning", "room was spinning", "unwell",
    "threw up", "throwing up", "went pale", "pale and clammy", "pale and sweaty", "collapsed onto",
    "queasy", "retched", "retching", "cold sweat", "head rush", "light in the head",
)  # fmt: skip
_NERVE = (
    "numb", "numbish", "numbness", "tingle", "tingles", "tingling", "tingly", "pins and needles",
    "pins & needles", "pins/needles", "pins + needles", "p&n", "p+n", "p/n", "paraesthesia",
    "electric shock", "electric shocks", "paresthesia",
)  # fmt: skip
_AIR_AND_CHEST = (
    "short of breath", "shortness of breath", "out of breath", "breathless", "breathlessness",
    "can't breathe", "cannot breathe", "can not breathe", "couldn't breathe", "could not breathe",
    "hard to breathe", "trouble breathing", "difficulty breathing", "chest pain", "chest pains",
    "chest tight", "chest tightness", "chest pressure", "chest discomfort", "tight chest",
    "tightness in chest", "pain in chest", "pain in the chest", "palpitation", "palpitations",
    "heart racing", "heart pounding", "racing heart", "chest heaviness", "angina", "sob",
    "cant breathe", "couldnt breathe", "breathing difficulty", "breathing difficulties",
    "difficulty with breathing", "wheeze", "wheezy", "wheezing", "catch breath",
    "catch his breath", "catch her breath", "irregular heartbeat", "palps",
)  # fmt: skip
_BODY = (
    "chest", "vision", "blurred", "breath", "breathe", "breathing", "sick", "heart", "collapse",
    "collapsed", "popped out",
)  # fmt: skip
_SLIPPED = ("sublux", "subluxed", "subluxation", "dislocated", "dislocation")
ALARM_WORDS = Evidence(
    key="carry.alarm_words",
    value=(*_SYMPTOMS, *_NERVE, *_AIR_AND_CHEST, *_SLIPPED, *_BODY),
    unit="1",
    source=COMMON_PRACTICE,
    why="Words in stop_reason for which a carry is stopped at once: they stand first among the "
    "checks and point to the cautions.",
)
NERVE_WORDS = Evidence(
    key="carry.nerve_words",
    value=_NERVE,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Alarm words that stand after the others: chest, faint and dizzy are told first.",
)
NOTE_WORDS = Evidence(
    key="carry.note_words",
    value=(*_SYMPTOMS, *_NERVE, *_AIR_AND_CHEST, *_SLIPPED),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Alarm words looked for in a note too; 'chest', 'breath' and 'vision' alone may there be "
    "cues, such as 'chest out'.",
)
EFFORT_WORDS = Evidence(
    key="carry.effort_words",
    value=(
        "short of breath", "shortness of breath", "out of breath", "breathless", "breathlessness",
        "sob", "catch breath", "catch his breath", "catch her breath",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Alarm words that are told but do not keep a load from counting: some of it comes with "
    "any heavy carry. 'Trouble breathing' and 'cannot breathe' do.",
)  # fmt: skip
LEAST_ALARM_RATING = Evidence(
    key="carry.least_alarm_rating",
    value=1,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The rating of 0 to 10 in a column named by an alarm word, such as 'numbness_0_10', from "
    "which a load does not count; less is told only.",
)
NOTE_PAIN_WORDS = Evidence(
    key="carry.note_pain_words",
    value=(
        "pain", "pains", "painful", "hurt", "hurts", "hurting", "ache", "aches", "ached", "aching",
        "achy", "achey", "lbp", "vas", "nrs",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Pain looked for in a note too, where the sheet has none; 'sore' there is often the "
    "training of another day.",
)  # fmt: skip
_PRESSURE = (
    "Integr Blood Press Control 2024;17:21-37, Table 1, after Williams et al. 2007, "
    "Circulation 116:572-584"
)
SYSTOLIC_ALARM_MMHG = Evidence(
    key="carry.systolic_alarm_mmhg",
    value=180,
    unit="mm[Hg]",
    source=_PRESSURE,
    why="The systolic blood pressure above which resistance exercise needs medical clearance; one "
    "of this or more in a stop_reason or a note alarms.",
)
DIASTOLIC_ALARM_MMHG = Evidence(
    key="carry.diastolic_alarm_mmhg",
    value=110,
    unit="mm[Hg]",
    source=_PRESSURE,
    why="The diastolic blood pressure above which resistance exercise needs medical clearance.",
)
LIMB_WORDS = Evidence(
    key="carry.limb_words",
    value=("arm", "arms", "hand", "hands", "finger", "fingers", "thumb", "forearm"),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="'Arm went dead', 'couldn't feel fingers' and 'lost feeling in hand' are alarms of a "
    "nerve; 'dead' or 'feel' alone is none.",
)
JOINT_WORDS = Evidence(
    key="carry.joint_words",
    value=(
        "shoulder", "shoulders", "elbow", "knee", "hip", "ankle", "joint", "sh", "shldr", "ghj",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="'Shoulder felt unstable' is an alarm; an unstable weight is what some carries are for.",
)  # fmt: skip
BODY_PARTS = Evidence(
    key="carry.body_parts",
    value=("chest", "heart", "vision", "sight"),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="'Chest felt tight' and 'vision went blurry' are alarms.",
)
BODY_SIGNS = Evidence(
    key="carry.body_signs",
    value=(
        "tight", "tightened", "heavy", "hurt", "hurts", "hurting", "painful", "racing", "raced",
        "pounding", "fluttering", "thumping", "skipping", "skipped", "blurry", "blurred", "fuzzy",
        "dimmed", "spinning",
    ),
    unit="1",
    source=COMMON_PRACTICE,
    why="What is said of chest, heart and sight that ends a carry; 'chest high' is a cue.",
)  # fmt: skip
JOINT_SIGNS = Evidence(
    key="carry.joint_signs",
    value=(
        "unstable",
        "popped",
        "popped out",
        "slipped out",
        "came out",
        "gave way",
        "gave out",
        "giving way",
        "slip out",
        "dislocated",
        "subluxed",
    ),
    unit="1",
    source=COMMON_PRACTICE,
    why="What is said of a joint that slips or gives way; a click without pain is common.",
)

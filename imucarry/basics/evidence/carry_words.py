"""Words in ``stop_reason`` and ``note``: planned ends, pain, and what alarms."""

from __future__ import annotations

from imucarry.basics.evidence.row import COMMON_PRACTICE, ENGINEERING_CHOICE, Evidence

PLANNED_STOPS = Evidence(
    key="carry.planned_stops",
    value=(
        "",
        "none",
        "no",
        "completed",
        "complete",
        "done",
        "finished",
        "planned",
        "as planned",
        "distance",
        "distance done",
        "time",
        "time up",
        "end of lane",
        "end of walk",
        "target reached",
        "as prescribed",
        "full set",
        "full distance",
        "no stop",
        "not stopped",
        "did not stop",
        "didn't stop",
        "didn\u2019t stop",
        "nothing",
        "nil",
        "n/a",
        "n.a",
        "na",
        "n",
        "0",
        "ok",
        "okay",
        "all ok",
        "all good",
        "fine",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Words in stop_reason for a bout that ended as planned; any other word is an early stop.",
)
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
        "pain",
        "pains",
        "painful",
        "hurt",
        "hurts",
        "hurting",
        "ache",
        "aches",
        "ached",
        "aching",
        "sore",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A stop_reason that names pain ranks with pain, and does not fit a pain of 0.",
)
_SYMPTOMS = (
    "dizzy",
    "dizziness",
    "vertigo",
    "faint",
    "fainted",
    "fainting",
    "passed out",
    "passing out",
    "pass out",
    "blacked out",
    "black out",
    "blackout",
    "black before",
    "light-headed",
    "light headed",
    "lightheaded",
    "saw stars",
    "seeing stars",
    "saw spots",
    "seeing spots",
    "tunnel vision",
    "double vision",
    "blurred vision",
    "vision blurred",
    "nausea",
    "nauseous",
    "nauseated",
    "felt sick",
    "feels sick",
    "feel sick",
    "feeling sick",
    "vomit",
    "vomited",
    "vomiting",
    "headache",
    "headaches",
    "migraine",
)
_NERVE = (
    "numb",
    "numbness",
    "tingle",
    "tingles",
    "tingling",
    "tingly",
    "pins and needles",
    "pins & needles",
)
_AIR_AND_CHEST = (
    "short of breath",
    "shortness of breath",
    "out of breath",
    "breathless",
    "breathlessness",
    "can't breathe",
    "cannot breathe",
    "can not breathe",
    "couldn't breathe",
    "could not breathe",
    "hard to breathe",
    "trouble breathing",
    "difficulty breathing",
    "chest pain",
    "chest pains",
    "chest tight",
    "chest tightness",
    "chest pressure",
    "chest discomfort",
    "tight chest",
    "tightness in chest",
    "pain in chest",
    "pain in the chest",
    "palpitation",
    "palpitations",
    "heart racing",
    "heart pounding",
    "racing heart",
)
_BODY = (
    "chest",
    "vision",
    "blurred",
    "breath",
    "breathe",
    "breathing",
    "sick",
    "heart",
    "collapse",
    "collapsed",
    "popped out",
    "dislocated",
    "dislocation",
    "subluxed",
    "subluxation",
)
ALARM_WORDS = Evidence(
    key="carry.alarm_words",
    value=(*_SYMPTOMS, *_NERVE, *_AIR_AND_CHEST, *_BODY),
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
    value=(*_SYMPTOMS, *_NERVE, *_AIR_AND_CHEST),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Alarm words looked for in a note too; 'chest', 'breath' and 'vision' alone may there be "
    "cues, such as 'chest out'.",
)
EFFORT_WORDS = Evidence(
    key="carry.effort_words",
    value=(
        "short of breath",
        "shortness of breath",
        "out of breath",
        "breathless",
        "breathlessness",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Alarm words that are told but do not keep a load from counting: some of it comes with "
    "any heavy carry. 'Trouble breathing' and 'cannot breathe' do.",
)
LEAST_ALARM_RATING = Evidence(
    key="carry.least_alarm_rating",
    value=1,
    unit="1",
    source=ENGINEERING_CHOICE,
    why="The rating of 0 to 10 in a column named by an alarm word, such as 'numbness_0_10', from "
    "which a load does not count; less is told only.",
)
FAINT_THINGS = Evidence(
    key="carry.faint_things",
    value=("signal", "connection", "bluetooth", "beep"),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="What is faint and no person: 'faint signal'.",
)
NOTE_PAIN_WORDS = Evidence(
    key="carry.note_pain_words",
    value=(
        "pain",
        "pains",
        "painful",
        "hurt",
        "hurts",
        "hurting",
        "ache",
        "aches",
        "ached",
        "aching",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Pain looked for in a note too, where the sheet has none; 'sore' there is often the "
    "training of another day.",
)
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
    value=("shoulder", "shoulders", "elbow", "knee", "hip", "ankle", "joint"),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="'Shoulder felt unstable' is an alarm; an unstable weight is what some carries are for.",
)
JOINT_SIGNS = Evidence(
    key="carry.joint_signs",
    value=(
        "unstable",
        "popped",
        "popped out",
        "slipped out",
        "came out",
        "gave way",
        "giving way",
        "dislocated",
        "subluxed",
    ),
    unit="1",
    source=COMMON_PRACTICE,
    why="What is said of a joint that slips or gives way; a click without pain is common.",
)
UNITS_AFTER_NUMBERS = Evidence(
    key="carry.units_after_numbers",
    value=(
        "kg", "kgs", "kilos?", "lbs?", "pounds?", "m", "met(?:re|er)s?", "cm", "mm", "km", "s",
        "secs?", "seconds?", "mins?", "minutes?", "h", "hours?", "days?", "weeks?", "months?",
        "years?", "laps?", "lanes?", "lengths?", "steps?", "strides?", "turns?", "sets?", "reps?",
        "rounds?", "times", "bouts?", "trials?", "walks?", "carry", "carries", "tests?", "visits?",
        "bells?", "kettlebells?", "dumbbells?", "bpm", "hz", "deg", "degrees?", "x", "stops?",
        "breaks?", "rests?", "sensors?", "straps?", "hands?", "arms?", "cones?",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A number before one of these is no score of pain: 'pain 0, 2 lanes'.",
)  # fmt: skip
OTHER_SCORES = Evidence(
    key="carry.other_scores",
    value=(
        "rpe", "borg", "effort", "exertion", "fatigue", "tired", "tiredness", "grip", "hr",
        "heart rate", "breathlessness", "lane", "lap", "set", "bout", "trial", "round", "visit",
        "rep", "bell", "week", "day", "number", "no", "walk", "carry", "test", "stage", "speed",
        "pace", "load", "weight",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A number after one of these is no score of pain: 'pain 0, RPE 6'.",
)  # fmt: skip
DENIAL_WORDS = Evidence(
    key="carry.denial_words",
    value=(
        "no",
        "not",
        "without",
        "never",
        "nil",
        "zero",
        "denies",
        "denied",
        "ruled out",
        "neither",
        "at no point",
        "at no point was",
        "at no time",
        "at no time was",
        "free of",
        "free from",
        "history of",
        "previous",
        "if",
        "watch for",
        "watch out for",
        "look out for",
        "check for",
        "ask about",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A symptom straight after one of these is denied, of another day or an instruction.",
)
NO_ANSWERS = Evidence(
    key="carry.no_answers",
    value=(
        "", "no", "n", "0", "0.0", "0/10", "none", "nil", "nothing", "never", "not", "not asked",
        "not today", "absent", "negative", "neg", "denied", "false", "f", "ok", "okay", "fine",
        "normal", "n/a", "n.a", "na", "nan", "null", "?", "unknown",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Cells that say no in a column named by an alarm word, such as 'numbness'; any other says "
    "yes or where.",
)  # fmt: skip
BESIDE_ALARM_NAMES = Evidence(
    key="carry.beside_alarm_names",
    value=(
        "any", "or", "and", "in", "of", "the", "left", "right", "l", "r", "y", "n", "yes", "no",
        "0", "1", "10", "during", "after", "carry", "bout", "walk", "score", "symptom", "symptoms",
        *LIMB_WORDS.value,
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Words that may stand beside an alarm word in the name of such a column: 'numbness left "
    "hand', 'dizzy (y/n)'; 'headache tablets' is another thing.",
)  # fmt: skip

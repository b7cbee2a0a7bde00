"""Words around those of symptoms in notes: denials, answers, units, and other meanings."""

from __future__ import annotations

from imucarry.basics.evidence.carry_words import LIMB_WORDS
from imucarry.basics.evidence.row import ENGINEERING_CHOICE, Evidence

UNITS_AFTER_NUMBERS = Evidence(
    key="carry.units_after_numbers",
    value=(
        "kg", "kilo", "lb", "pound", "m", "metre", "meter", "cm", "mm", "km", "s", "sec", "second",
        "min", "minute", "h", "hour", "day", "week", "month", "year", "lap", "lane", "length",
        "step", "stride", "turn", "set", "rep", "round", "times", "bout", "trial", "walk", "carry",
        "carries", "test", "visit", "bell", "kettlebell", "dumbbell", "bpm", "hz", "deg", "degree",
        "x", "stop", "break", "rest", "sensor", "strap", "hand", "arm", "cone", "%", "\u00b0",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A number before one of these is no score of pain: 'pain 0, 2 lanes'. Plurals too.",
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
        "no", "not", "without", "never", "nil", "zero", "denies", "denied", "ruled out", "neither",
        "at no point", "at no point was", "at no time", "at no time was", "free of", "free from",
        "absence of", "negative for", "clear of",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A symptom straight after one of these is denied.",
)  # fmt: skip
NOT_OF_THE_BOUT = Evidence(
    key="carry.not_of_the_bout",
    value=(
        "history of", "hx", "hx of", "pmh", "pmh:", "previous", "prev", "if", "told to stop if",
        "stop if", "watch for", "watch out for", "look out for", "check for", "ask about",
        "ask re", "reminded to report", "asked to report", "stop criteria", "stop criteria:",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="A symptom straight after one of these is of another day or an instruction.",
)  # fmt: skip
NOT_SLIPS = Evidence(
    key="carry.not_slips",
    value=("tangle", "tangles", "tangling", "tinkling", "tinge", "fainter", "feinted", "feinting"),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="Words one slip of the keys from an alarm word, and no misspelling of it.",
)
OTHER_MEANINGS = Evidence(
    key="carry.other_meanings",
    value=(
        "blackout curtain", "blackout curtains", "blackout blind", "blackout blinds",
        "black out blind", "black out blinds", "black out curtains", "blacked out window",
        "blacked out windows", "power blackout", "pop song", "pop songs", "pop music",
        "comfortably numb", "numb to the", "sick beat", "sick beats", "sick of", "off sick",
        "pains taken", "took pains", "hurt pride", "headache tablet", "headache tablets",
        "dead stop", "dead hang",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="What holds a word of alarm or of pain and names no symptom.",
)  # fmt: skip
NO_ANSWERS = Evidence(
    key="carry.no_answers",
    value=(
        "", "no", "n", "0", "0.0", "0/10", "none", "nil", "nothing", "never", "nope", "not",
        "not asked", "not today", "absent", "negative", "neg", "denied", "false", "f", "ok",
        "okay", "fine", "normal", "-ve", "none reported", "none noted", "n/a", "n.a", "na", "nan",
        "null", "?", "unknown",
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
FAINT_THINGS = Evidence(
    key="carry.faint_things",
    value=(
        "signal", "connection", "bluetooth", "beep", "bleep", "voice", "smell", "odour", "noise",
        "sound", "rattle", "squeak", "click", "light", "line", "mark", "trace", "tan",
    ),
    unit="1",
    source=ENGINEERING_CHOICE,
    why="What is faint and no person: 'faint signal'.",
)  # fmt: skip

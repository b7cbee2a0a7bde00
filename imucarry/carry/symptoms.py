"""What a reason for stopping or a note names: a planned end, pain, or an alarm; never a denial."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache
from typing import Final

from imucarry.basics.evidence import carry as evidence
from imucarry.carry.blood_pressure import names_pressure_alone, pressure_alarms

AROUND: Final = " .-\u2013\u2014"
"""What may stand around a reason, or instead of one."""

OF_THE_SENSOR: Final = r"(?!\s+(?:sensor|strap|belt|band))"
FOLLOWS: Final = r"tightness|tight|discomfort|symptoms?"
PLACES: Final = (
    r"any|more|signs? of|feel|feels|felt|feeling|a|left|right|the|shoulder|neck|back|arm|elbow|"
    r"wrist|hand|he|she|gets?|getting|had"
)
SIGNS_DENIED: Final = (
    "pop", "dead", "unstable", "sick", "sore", "soreness", "loss of feeling", "lost feeling",
    "losing feeling", "loss of sensation", "lost sensation", "losing sensation",
)  # fmt: skip
AIR_AND_SIGHT: Final = ("breath", "breathe", "breathing", "vision")
"""Alarm words of which it is the want that alarms: "no breath left"."""

FELT: Final = (
    r"is|was|has|had|felt|feels|feeling|went|goes|going|gone|a|bit|little|very|quite|slightly|"
    r"nearly|almost|just|became|fell|seemed|seems"
)
WHOSE: Final = r"in|of|his|her|their|my|the|left|right"
NOT_FELT: Final = (
    r"(?:can['\u2019]?t|can ?not|couldn['\u2019]?t|could not|unable to) feel|"
    r"(?:lost|losing|loss of|no) (?:feeling|sensation)"
)
AMOUNT_DONE: Final = re.compile(
    r"[0-9]+(?:\.[0-9]+)?\s*(?:m|metres?|meters?|s|sec|seconds?|min|minutes?|laps?|lanes?|"
    r"lengths?|steps?)\s+(?:done|completed?)(?=\s*(?:$|[,.;:(\u2013-]))"
)
"""A planned end that begins with what was walked: "20 m done"."""

NOT_WITHOUT: Final = re.compile(r"(\b(?:not|cannot|unable)\b|n['\u2019]t\b)([^.,;]*?)\bwithout\b")
"""What is not done without pain hurts."""

LIMITED: Final = (
    r"(?!\s*,?\s*(?:(?:other\s+|worse\s+)?than|until|till|except|besides|apart from|beyond)\b|"
    r"\s+(?:above|over)\s+[0-9])"
)
"""What makes a denial none: "no more pain than usual", "no pain until 30 m"."""

GETS_WORSE: Final = re.compile(
    r"(?:[,;.]|\b(?:then|later|but|now|to))\s*(?:mild|moderate|severe|sharp|bad|strong|worse|some|"
    r"slight|rose|rising|came on)(?=\s*(?:$|[,;.)]|(?:at|when|under|with|on|loaded|after|later|by|"
    r"during|afterwards|towards|near|in|once|from)\b))"
)
NOT_OF_THIS_END: Final = re.compile(
    r"\b(?:gone|resolved|longer|more|history|previous|if|for|about)\b"
)
"""What is denied with one of these was there before, and may be why a bout ended."""

SCORED: Final = r"\s*(?:[0-9]+(?:[.,][0-9]+)?\s*(?:/|of|out of)\s*10)?"


def unplanned(stop_reason: str) -> str:
    """Return a reason for stopping without what stands around it; "" for a planned end."""
    reason = stop_reason.strip(AROUND)
    return "" if _is_planned(reason.lower()) else reason


def _is_planned(reason: str) -> bool:
    """Whether a reason, in lower case, says that a bout ended as planned."""
    if reason in evidence.PLANNED_STOPS.value or _is_denial(reason):
        return True
    if not (re.match(rf"(?:{_any(evidence.PLANNED_STARTS.value)})\b", reason)
            or AMOUNT_DONE.match(reason)):  # fmt: skip
        return False
    failed = _held(reason, evidence.FAILURE_WORDS.value)
    return not (failed or names_pain(reason) or names_alarm(reason))


def _is_denial(reason: str) -> bool:
    """Whether a reason says what was not felt, and no more: "no pain"."""
    is_past = NOT_OF_THIS_END.search(reason) or names_alarm(reason)
    return not is_past and not without_denied(reason).strip(AROUND + ",;?")


def stop_rank(reason: str) -> int:
    """Return what sorts reasons of early stops worst first, 0 for the worst."""
    text = without_denied(reason)
    worst = _held(text, _worst_words(), OF_THE_SENSOR) or _joint().search(text)
    if worst or _pressure_stop(reason):
        return 0
    if names_alarm(reason):
        return 1
    return 2 if names_pain(reason) else 3


def _worst_words() -> list[str]:
    nerve = evidence.NERVE_WORDS.value
    return [word for word in evidence.ALARM_WORDS.value if word not in nerve]


def names_alarm(reason: str) -> bool:
    """Whether a reason names something for which a carry is stopped at once, but pain."""
    text = without_denied(reason)
    words = _held(text, evidence.ALARM_WORDS.value, OF_THE_SENSOR)
    return bool(words or _signs(text)) or _pressure_stop(reason)


def _pressure_stop(reason: str) -> bool:
    """Whether a reason names a blood pressure that alarms."""
    text = _one_line(reason)
    return bool(pressure_alarms(text)) or names_pressure_alone(text)


def names_pain(reason: str) -> bool:
    """Whether a reason names pain, and not its absence."""
    return bool(_held(without_denied(reason), evidence.PAIN_WORDS.value))


def alarms_in_note(note: str) -> list[str]:
    """Return the alarms that a note names, as it writes them in lower case, each once."""
    text = without_denied(note)
    found = [*_held(text, evidence.NOTE_WORDS.value, OF_THE_SENSOR), *_signs(text)]
    found += pressure_alarms(_one_line(note))
    return list(dict.fromkeys(found))


def alarm_of_column(name: str, cell: str) -> str:
    """Return what a column says that an alarm word names: "left hand" of "numbness"; else ""."""
    if not _is_alarm_name(name) or cell.lower().strip(AROUND) in evidence.NO_ANSWERS.value:
        return ""
    return " ".join(cell.split()) if without_denied(cell).strip(AROUND + ",;?") else ""


@cache
def _is_alarm_name(name: str) -> bool:
    """Whether a name is an alarm word, but for a place and such: "numbness_left_hand"."""
    text = " ".join(re.split(r"[\W_]+", name.lower()))
    rest = _whole(evidence.NOTE_WORDS.value, "").sub(" ", without_denied(text)).split()
    is_named = bool(_held(without_denied(text), evidence.NOTE_WORDS.value))
    return is_named and set(rest) <= set(evidence.BESIDE_ALARM_NAMES.value)


def pain_in_note(note: str) -> list[str]:
    """Return the words of pain of a note, "pain 5/10" with its number, each once."""
    words = _any(evidence.NOTE_PAIN_WORDS.value)
    found = re.findall(rf"\b(?:{words})\b(?:{SCORED})?", without_denied(note))
    return list(dict.fromkeys(word.strip() for word in found))


# --- what is denied --------------------------------------------------------------


def without_denied(text: str) -> str:
    """Return a text in lower case without what it denies: "no dizziness", "numbness gone"."""
    text = NOT_WITHOUT.sub(r"\1\2with", _one_line(text))
    for pattern in _denied():
        text = pattern.sub(_left, text)
    return text


def _one_line(text: str) -> str:
    return " ".join(text.lower().split())


def _left(denial: re.Match[str]) -> str:
    """Return what is left of a denial: nothing, but of what came later its name."""
    if not _came_later(denial.string[denial.end() :]):
        return " "
    pain = re.search(rf"\b(?:{_pain()})\b", denial[0])
    named = pain
    if not named and "answer" in denial.re.groupindex:
        named = re.search(rf"\b(?:{_named()})\b", denial[0])
    return f" {named[0]} " if named else " "


def _came_later(rest: str) -> bool:
    """Whether what follows a denial goes on to a score of 1 to 10, or to "mild loaded"."""
    return bool(GETS_WORSE.search(rest)) or any(
        not _other_score().search(rest[: found.start()]) for found in _score().finditer(rest)
    )


@cache
def _score() -> re.Pattern[str]:
    """What finds a number of 1 to 10 that no unit follows."""
    units = "|".join(evidence.UNITS_AFTER_NUMBERS.value)
    return re.compile(
        r"(?<![\w.,/:])(?:10|[1-9](?:[.,][0-9]+)?)(?:\s*(?:/|out of|of)\s*10)?"
        r"(?![\w/:%\u00b0]|[.,][0-9]|\s*[/%]|\s*(?:out\s+)?of\s+[0-9]|"
        rf"\s*(?:(?:more|extra|full|short|long)\s+)?(?:{units})\b)"
    )


@cache
def _other_score() -> re.Pattern[str]:
    """What ends before a number that is none of pain: "RPE was"."""
    others = _any(evidence.OTHER_SCORES.value)
    return re.compile(rf"\b(?:{others})(?:\s+(?:was|is|of|about|score|at|end))*[\s:=]*$")


@cache
def _pain() -> str:
    return _any({*evidence.PAIN_WORDS.value, *evidence.NOTE_PAIN_WORDS.value})


@cache
def _named() -> str:
    """What may be denied."""
    listed = {*evidence.ALARM_WORDS.value, *evidence.PAIN_WORDS.value, *SIGNS_DENIED}
    return _any((listed | set(evidence.NOTE_PAIN_WORDS.value)) - set(AIR_AND_SIGHT))


@cache
def _denied() -> tuple[re.Pattern[str], ...]:
    """What finds "no chest pain", "not dizzy or numb", "pain-free", "pain 0/10", "numbness: no"."""
    named, pain = _named(), _pain()
    one = rf"(?:in\s+)?(?:(?:{PLACES})\s+)*(?:{named})\b(?:\s+(?:{pain}|{FOLLOWS}|arm|hand)\b)*"
    several = rf"{one}(?:(?:\s*,\s*{one})*,?\s+(?:or|nor)\s+{one})*"
    denials = _any(evidence.DENIAL_WORDS.value)
    zero = r"(?<![\d.,/])\b0(?:\s*/\s*10)?"
    before = rf"(?:(?<!as )\b(?:{denials}|no longer)|n['\u2019]t|{zero})"
    is_gone = r"(?:has|have|had|is|was|are|were|now|all|completely|fully)"
    happened = r"(?!\s+(?:after|once|when|by|in|within|on)\b)"
    limbs = _any({*evidence.LIMB_WORDS.value, *evidence.JOINT_WORDS.value})
    where = rf"(?:score|level|now|is|was|of|at|in|{limbs}|{PLACES})"
    return (
        re.compile(rf"{before}\s+{several}{LIMITED}(?!\s*[:=])"),
        re.compile(rf"\b(?:{named})(?:\s+{is_gone})*\s+(?:gone|resolved|absent)\b{happened}"),
        re.compile(rf"\b(?:{pain}|headache)[- ]?free\b"),
        re.compile(
            rf"\b(?:any\s+)?(?:{named})(?:\s+{where})*(?P<answer>\s*[:=?\u2013\u2014-]?\s*"
            r"(?:(?:0|zero)(?:\s*(?:/|of|out of)\s*10)?|none|nil)\b"
            r"(?!\s*(?:[.,][0-9]|[-\u2013]\s*[0-9]|to\s+[0-9]|of\b))|"
            r"\s*[:=?\u2013\u2014-]\s*no(?=\s*(?:$|[.,;)])))"
        ),
        re.compile(
            r"\bpain\s+(?:(?:scale|score|rating)\b(?!\s*[:=]?\s*(?:of\s+|was\s+)?[0-9])|"
            r"(?:was\s+)?not\s+(?:asked|noted|scored|taken|recorded))"
        ),
    )


# --- words in a text --------------------------------------------------------------


def _signs(text: str) -> list[str]:
    """Return what is said of a limb that went dead or of a joint that slipped."""
    return [*(m[0] for m in _nerve().finditer(text)), *(m[0] for m in _joint().finditer(text))]


@cache
def _nerve() -> re.Pattern[str]:
    limbs = _any(evidence.LIMB_WORDS.value)
    return re.compile(
        rf"\b(?:{limbs})(?:\s+(?:{FELT}))*\s+dead\b|\bdead\s+(?:{limbs})\b|"
        rf"\b(?:{NOT_FELT})(?:\s+(?:{WHOSE}))*\s+(?:{limbs})\b"
    )


@cache
def _joint() -> re.Pattern[str]:
    joints, signs = _any(evidence.JOINT_WORDS.value), _any(evidence.JOINT_SIGNS.value)
    return re.compile(
        rf"\b(?:{joints})(?:\s+(?:{FELT}))*\s+(?:{signs})\b|\bunstable\s+(?:{joints})\b|"
        rf"\bpop(?:ped)?\s+(?:{WHOSE}|\s)*\b(?:{joints})\b|\b(?:heard|felt)\s+(?:a\s+)?pop\b"
    )


def _any(words: Iterable[str]) -> str:
    """Return a pattern of any of some words, longer ones first."""
    return "|".join(re.escape(word) for word in sorted(words, key=lambda w: (-len(w), w)))


def _held(text: str, words: Sequence[str], not_before: str = "") -> list[str]:
    """Return those of some words that a text in lower case holds whole."""
    return list(_whole(tuple(words), not_before).findall(text))


@cache
def _whole(words: tuple[str, ...], not_before: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{_any(words)})\b{not_before}")

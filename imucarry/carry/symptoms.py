"""What a reason for stopping or a note names: a planned end, pain, or an alarm; never a denial."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from functools import cache
from typing import Final

from imucarry.basics.evidence import carry as evidence
from imucarry.carry.blood_pressure import names_pressure_alone, pressure_alarms
from imucarry.carry.denials import any_of, one_line, without_denied

AROUND: Final = " .-\u2013\u2014"
"""What may stand around a reason, or instead of one."""

OF_THE_SENSOR: Final = r"(?!\s+(?:sensor|strap|belt|band))"
FELT: Final = (
    r"is|was|has|had|felt|feels|feeling|went|goes|going|gone|a|bit|little|very|quite|slightly|"
    r"nearly|almost|just|became|fell|seemed|seems|really|so|got|getting"
)
WHOSE: Final = r"in|of|his|her|their|my|the|left|right|l|r"
NOT_FELT: Final = (
    r"(?:can['\u2019]?t|can ?not|couldn['\u2019]?t|could not|unable to) feel|"
    r"(?:lost|losing|loss of|no|reduced|less|dec|decreased|altered) (?:feeling|sensation)"
)
AMOUNT_DONE: Final = re.compile(
    r"[0-9]+(?:\.[0-9]+)?\s*(?:m|metres?|meters?|s|sec|seconds?|min|minutes?|laps?|lanes?|"
    r"lengths?|steps?)\s+(?:done|completed?)(?=\s*(?:$|[,.;:(\u2013-]))"
)
"""A planned end that begins with what was walked: "20 m done"."""

NOT_OF_THIS_END: Final = re.compile(
    r"\b(?:gone|resolved|settled|yesterday|last|hx|pmh|prev|longer|more|history|previous|if|for|about)\b"
)
"""What is denied with one of these was there before, and may be why a bout ended."""

SCORED: Final = r"\s*(?:[0-9]+(?:[.,][0-9]+)?\s*(?:/|of|out of)\s*10)?"


RATING: Final = re.compile(r"([0-9]+(?:[.,][0-9]+)?)(?:\s*(?:/|of|out of)\s*10)?")


def unplanned(stop_reason: str) -> str:
    """Return a reason for stopping without what stands around it; "" for a planned end."""
    reason = stop_reason.strip(AROUND)
    return "" if _is_planned(reason.lower()) else reason


def _is_planned(reason: str) -> bool:
    """Whether a reason, in lower case, says that a bout ended as planned."""
    if reason in evidence.PLANNED_STOPS.value or _is_denial(reason):
        return True
    if not (re.match(rf"(?:{any_of(evidence.PLANNED_STARTS.value)})\b", reason)
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
    text = _of_person(reason)
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
    text = _of_person(reason)
    words = _held(text, evidence.ALARM_WORDS.value, OF_THE_SENSOR)
    return bool(words or _signs(text)) or _pressure_stop(reason)


def _pressure_stop(reason: str) -> bool:
    """Whether a reason names a blood pressure that alarms."""
    text = one_line(reason)
    return bool(pressure_alarms(text)) or names_pressure_alone(text)


def names_pain(reason: str) -> bool:
    """Whether a reason names pain, and not its absence."""
    return bool(_held(without_denied(reason), evidence.PAIN_WORDS.value))


def alarms_in_note(note: str) -> list[str]:
    """Return the alarms that a note names, as it writes them in lower case, each once."""
    text = _of_person(note)
    found = [*_held(text, evidence.NOTE_WORDS.value, OF_THE_SENSOR), *_signs(text)]
    found += pressure_alarms(one_line(note))
    whole = [word for word in found if not any(word != more and word in more for more in found)]
    return list(dict.fromkeys(whole))


def alarm_of_column(name: str, cell: str) -> str:
    """Return what a column says that an alarm word names: "left hand" of "numbness"; else ""."""
    said = {cell.lower().strip(), cell.lower().strip(AROUND)}
    says_no = bool(said & set(evidence.NO_ANSWERS.value)) or _rating(cell) == 0.0
    if says_no or not _is_alarm_name(name):
        return ""
    return " ".join(cell.split()) if without_denied(cell).strip(AROUND + ",;?") else ""


def _spaced(name: str) -> str:
    """Return the name of a column in words: "numbness left hand" of "Numbness_left-hand"."""
    return one_line(" ".join(re.split(r"[^\w&+]+|_", name)))


def _rating(cell: str) -> float:
    """Return the number of a cell that is a rating alone, "3" or "3/10", else NaN."""
    rating = RATING.fullmatch(cell.strip())
    return float(rating[1].replace(",", ".")) if rating else math.nan


def is_effort(word: str) -> bool:
    """Whether an alarm word is one of those that come with effort: "out of breath"."""
    return word in evidence.EFFORT_WORDS.value


def uncounts(name: str, cell: str) -> bool:
    """Whether what a column says that an alarm word names keeps a load from counting.

    Parameters
    ----------
    name, cell : str
        Name and cell of a column of which `alarm_of_column` returns something.

    Returns
    -------
    bool
        False where the name is of breath alone, or of ratings and the cell below 1.
    """
    text = _spaced(name)
    if all(map(is_effort, _held(text, evidence.NOTE_WORDS.value))):
        return False
    return not _rating(cell) < evidence.LEAST_ALARM_RATING.value


@cache
def _is_alarm_name(name: str) -> bool:
    """Whether a name is an alarm word, but for a place and such: "numbness_left_hand"."""
    text = _spaced(name)
    rest = _whole(evidence.NOTE_WORDS.value, "").sub(" ", without_denied(text)).split()
    is_named = bool(_held(without_denied(text), evidence.NOTE_WORDS.value))
    return is_named and set(rest) <= set(evidence.BESIDE_ALARM_NAMES.value)


def pain_in_note(note: str) -> list[str]:
    """Return the words of pain of a note, "pain 5/10" with its number, each once."""
    words = any_of(evidence.NOTE_PAIN_WORDS.value)
    found = re.findall(rf"\b(?:{words})\b(?:{SCORED})?", without_denied(note))
    return list(dict.fromkeys(word.strip() for word in found))


def _of_person(text: str) -> str:
    """Return a text without what it denies and without faint signals and such."""
    return _faint_things().sub(" ", without_denied(text))


@cache
def _faint_things() -> re.Pattern[str]:
    things = any_of(evidence.FAINT_THINGS.value)
    felt = r"(?<!felt )(?<!feels )(?<!feel )(?<!feeling )(?<!was )"
    return re.compile(
        rf"{felt}\bfaint\s+(?:(?:{things})s?\b\s*)+|"
        rf"\b(?:{things})s?(?:\s+(?:is|was|are|were|too|very))*\s+faint\b"
    )


# --- words in a text --------------------------------------------------------------


def _signs(text: str) -> list[str]:
    """Return what is said of a limb that went dead or of a joint that slipped."""
    return [m[0] for signs in (_nerve(), _joint(), _body()) for m in signs.finditer(text)]


@cache
def _nerve() -> re.Pattern[str]:
    limbs = any_of(evidence.LIMB_WORDS.value)
    return re.compile(
        rf"\b(?:{limbs})(?:\s+(?:{FELT}))*\s+(?:dead|asleep|to\s+sleep)\b|\bdead\s+(?:{limbs})\b|"
        rf"\b(?:{NOT_FELT})(?:\s+(?:{WHOSE}))*\s+(?:{limbs})\b"
    )


@cache
def _joint() -> re.Pattern[str]:
    joints, signs = any_of(evidence.JOINT_WORDS.value), any_of(evidence.JOINT_SIGNS.value)
    return re.compile(
        rf"\b(?:{joints})(?:\s+(?:{FELT}))*\s+(?:{signs})\b|\bunstable\s+(?:{joints})\b|"
        rf"\bpop(?:ped)?\s+(?:{WHOSE}|\s)*\b(?:{joints})\b|\b(?:heard|felt)\s+(?:a\s+)?pop\b"
    )


@cache
def _body() -> re.Pattern[str]:
    parts, signs = any_of(evidence.BODY_PARTS.value), any_of(evidence.BODY_SIGNS.value)
    return re.compile(
        rf"\b(?:{parts})(?:\s+(?:{FELT}))*\s+(?:{signs})\b{OF_THE_SENSOR}|"
        rf"(?<!strap )(?<!too )\b(?:tight|tightness|tightening|heaviness|pressure|pain)"
        rf"\s+(?:(?:across|{WHOSE})\s+)+chest\b{OF_THE_SENSOR}|"
        rf"\b(?:feel|feeling|felt|was|been)(?:\s+(?:{FELT}))+\s+sick\b|\bwas\s+sick\b"
    )


def _held(text: str, words: Sequence[str], not_before: str = "") -> list[str]:
    """Return those of some words that a text in lower case holds whole."""
    return list(_whole(tuple(words), not_before).findall(text))


@cache
def _whole(words: tuple[str, ...], not_before: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{any_of(words)})\b{not_before}")

"""What a note or a reason for stopping denies: "no dizziness", "numbness: none", "pain-free"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from typing import Final

from imucarry.basics.evidence import carry as evidence

FOLLOWS: Final = r"tightness|tight|discomfort|symptoms?"
PLACES: Final = (
    r"any|more|at all|at any (?:point|time)|(?:signs?|symptoms?|complaints?|reports?) of|"
    r"report|complain of|feel|"
    r"feels|felt|feeling|a|left|right|the|shoulder|neck|back|arm|elbow|wrist|hand|he|she|gets?|"
    r"getting|had"
)
NOUNS: Final = (
    "dizziness", "vertigo", "fainting", "blackout", "nausea", "vomiting", "headache", "headaches",
    "migraine", "numbness", "tingling", "pins and needles", "pins & needles", "loss of feeling",
    "loss of sensation", "shortness of breath", "breathlessness", "chest pain", "chest pains",
    "chest tightness", "chest pressure", "chest discomfort", "tightness in chest", "palpitations",
    "blurred vision", "double vision", "tunnel vision",
)  # fmt: skip
FEELINGS: Final = (
    "dizzy", "faint", "light-headed", "light headed", "lightheaded", "nauseous", "nauseated",
    "sick", "numb", "tingly", "breathless", "painful", "sore",
)  # fmt: skip
"""What is denied together only with its like: of "no numbness/dizzy" dizzy is left."""

SIGNS_DENIED: Final = (
    "pop", "dead", "unstable", "sick", "sore", "soreness", "loss of feeling", "lost feeling",
    "losing feeling", "loss of sensation", "lost sensation", "losing sensation",
)  # fmt: skip
AIR_AND_SIGHT: Final = ("breath", "breathe", "breathing", "vision")
"""Alarm words of which it is the want that alarms: "no breath left"."""

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


def without_denied(text: str) -> str:
    """Return a text in lower case without what it denies: "no dizziness", "numbness gone"."""
    text = NOT_WITHOUT.sub(r"\1\2with", one_line(text))
    if not any(word in text for word in _deniable()):  # most notes: the patterns are slow to make
        return text
    for pattern in _denied():
        text = pattern.sub(_left, text)
    return text


def one_line(text: str) -> str:
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
    others = any_of(evidence.OTHER_SCORES.value)
    return re.compile(rf"\b(?:{others})(?:\s+(?:was|is|of|about|score|at|end))*[\s:=]*$")


@cache
def _pain() -> str:
    return any_of({*evidence.PAIN_WORDS.value, *evidence.NOTE_PAIN_WORDS.value})


@cache
def _deniable() -> frozenset[str]:
    """Every word of which one stands in whatever is denied."""
    pain = {*evidence.PAIN_WORDS.value, *evidence.NOTE_PAIN_WORDS.value}
    return frozenset({*evidence.ALARM_WORDS.value, *pain, *SIGNS_DENIED, *NOUNS, *FEELINGS})


@cache
def _named() -> str:
    """What may be denied."""
    listed = {*evidence.ALARM_WORDS.value, *evidence.PAIN_WORDS.value, *SIGNS_DENIED}
    return any_of((listed | set(evidence.NOTE_PAIN_WORDS.value)) - set(AIR_AND_SIGHT))


@cache
def _denied() -> tuple[re.Pattern[str], ...]:
    """What finds "no chest pain", "not dizzy or numb", "pain-free", "pain 0/10", "numbness: no"."""
    pain = _pain()
    return (
        *_denied_before(),
        re.compile(rf"\b(?:(?:{pain}|headache) ?|(?:{_named()})-)free\b"),
        *_answered(),
        re.compile(
            r"\bpain\s+(?:(?:scale|score|rating)\b(?!\s*[:=]?\s*(?:of\s+|was\s+)?[0-9])|"
            r"(?:was\s+)?not\s+(?:asked|noted|scored|taken|recorded))"
        ),
    )


def _one(named: str, follows: str = FOLLOWS) -> str:
    """One thing that may be denied, with what stands around it: "in the shoulder"."""
    return rf"(?:in\s+)?(?:(?:{PLACES})\s+)*(?:{named})\b(?:\s+(?:{follows})\b)*"


def _together(named: str, follows: str = FOLLOWS) -> str:
    """Things of one kind that are denied at once: "numbness/tingling", "numbness & tingling"."""
    limbs = any_of(evidence.LIMB_WORDS.value)
    one, and_ = _one(named, follows), r"(?<!pain)(?:\s*&\s*|\s+and\s+)"
    elsewhere = rf"(?!\s+(?:in|at|after|later|down|from|on|when|{limbs}|left|right|over|all)\b)"
    return rf"{one}(?:\s*[/+]\s*{one}|{and_}(?:{named})\b{elsewhere})*"


def _denied_before() -> tuple[re.Pattern[str], ...]:
    """What finds a denial that stands before what it denies, and "numbness gone" and its like."""
    named = _named()
    nouns = any_of({*NOUNS, *evidence.NOTE_PAIN_WORDS.value})
    after = rf"{_pain()}|{FOLLOWS}|arm|hand"
    kinds = (_together(nouns, after), _together(any_of(FEELINGS), after), _one(named, after))
    item = f"(?:{'|'.join(kinds)})"
    several = rf"{item}(?:(?:\s*,\s*{item})*,?\s+(?:or|nor)\s+{item})*"
    denials = any_of(evidence.DENIAL_WORDS.value)
    zero = r"(?<![\d.,/])(?<!pain )(?<!pain: )\b0(?:\s*/\s*10)?"
    before = rf"(?:(?<!as )(?<!not )\b(?:{denials}|no longer)|n['\u2019]t|{zero})"
    is_gone = r"(?:has|have|had|is|was|are|were|now|all|completely|fully|been)"
    happened = r"(?!\s+(?:after|once|when|by|in|within|on)\b)"
    was_not = r"(?:denied|ruled out|not (?:reported|present|noted))\b"
    gone = rf"(?:gone|resolved|absent)\b{happened}|{was_not}(?!\s+(?:at|until|before|initially)\b)"
    more = rf"(?:\s*[,/&]\s*(?:{named})|\s+(?:and|or)\s+(?:{named}))"
    listed = rf"(?:(?:{any_of(NOUNS)}){more}*|(?:{named}){more}+)"
    noun = _one(nouns)
    return (
        re.compile(
            rf"\bno\s+(?:complaints?|symptoms?|problems?|issues?)\s*"
            rf"\(\s*{listed}(?:,?\s*etc\.?)?\s*\)"
        ),
        re.compile(rf"\bden(?:ies|ied)\s+{noun}(?:\s*,\s*{noun})+(?=\s*(?:$|[.;)]))"),
        re.compile(rf"{before}\s+{several}{LIMITED}(?!\s*[:=])"),
        re.compile(
            rf"\b(?:{_together(any_of(NOUNS))}|{_together(any_of(FEELINGS))}|(?:{named}))"
            rf"(?:\s+{is_gone})*\s+(?:{gone})"
        ),
    )


def _answered() -> tuple[re.Pattern[str], ...]:
    """What finds a question and its no: "numbness: none", "any dizziness or pain? no"."""
    limbs = any_of({*evidence.LIMB_WORDS.value, *evidence.JOINT_WORDS.value})
    where = rf"(?:\s+(?:score|level|now|is|was|of|at|in|{limbs}|{PLACES}))*"
    also = r"(?:\s*[,/&+]\s*|,?\s+(?:and|or)\s+)"
    every, nouns = _one(_named()), _one(any_of(NOUNS))
    like = rf"{_together(any_of(NOUNS))}|{_together(any_of(FEELINGS))}"
    asked = r"(?:any|asked (?:about|for|after))"
    return (
        re.compile(
            rf"\b(?:{asked}\s+{every}(?:{also}{every})*{where}\s*,?|"
            rf"{nouns}(?:{also}{nouns})+{where}(?=\s*[:=?])){_no()}"
        ),
        re.compile(rf"\b(?:any\s+)?(?:{like}|(?:{_named()})){where}{_no()}"),
    )


def _no() -> str:
    """An answer that is no: "none", "0/10", ": no", "y/n: n", "(-)"."""
    mark = r"[:=?\u2013\u2014-]"
    said = r"(?:no|n|negative|neg|denied)"
    end = r"(?=\s*(?:$|[.,;)]))"
    return (
        r"(?:\s*[\[(]?(?:y/n|yes/no)\b[\])]?)?"
        rf"(?P<answer>\s*{mark}?\s*"
        r"(?:(?:0|zero)(?:\s*(?:/|of|out of)\s*10)?|none|nil)\b"
        r"(?!\s*(?:[.,][0-9]|[-\u2013]\s*[0-9]|to\s+[0-9]|of\b))|"
        rf"\s*{mark}\s*{said}{end}|\s+{said}{end}|\s*[-\u2013\u2212]\s?ve\b|"
        rf"\s*\(\s*(?:[-\u2013\u2212](?:\s?ve)?|0|none|nil|{said})\s*\))"
    )


def any_of(words: Iterable[str]) -> str:
    """Return a pattern of any of some words, longer ones first."""
    return "|".join(re.escape(word) for word in sorted(words, key=lambda w: (-len(w), w)))

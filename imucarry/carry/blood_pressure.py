"""Blood pressure in a reason for stopping or a note: values and words that alarm."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Final

from imucarry.basics.evidence import carry as evidence

NAME: Final = r"\b(?:blood[- ]?pressure|bp)\b"
HIGHEST: Final = 300
LOWEST: Final = (60, 30)
"""Numbers that no cuff shows, systolic and diastolic, are no blood pressure."""

PAIR: Final = re.compile(r"(?<![\d/.,])([0-9]{2,3})\s*(?:/|over)\s*([0-9]{2,3})(?![\d/]|[.,]\d)")
SINGLE: Final = re.compile(
    rf"({NAME}|\bsystolic|\bdiastolic)(?:\s+(?:of|was|is|now|reached|above|over|systolic)\b|[\s:=>])*"
    r"\b([0-9]{3})(?!\d|\s*(?:/|over\b|m\b))"
)
FILL: Final = (
    r"(?:\s*:)?(?:\s+(?:was|is|went|got|goes|has|gone|too|very|really|quite|still|now|so|a|bit|"
    r"little|much|slightly|readings?))*"
)
AFTER: Final = (
    r"(?:high|higher|elevated|raised|rose|rising|spiked?|shot up|problems?|issues?|too low|"
    r"up(?!\s+to\b)|(?:dropped|crashed)(?!\s+(?:to|back)\b))"
)
IN_WORDS: Final = re.compile(
    rf"{NAME}{FILL}\s+{AFTER}\b(?![- ]?normal)|"
    rf"\b(?:very\s+|too\s+)?(?:high|elevated|raised|rising|uncontrolled)\s+{NAME}"
    r"(?!\s+(?:medication|medicine|meds|tablets?|pills?|drugs?|cuff|normal|controlled|under))"
)
ANSWERED_NO: Final = re.compile(r"\s*[:=?\u2013-]\s*(?:no|none|nil)\b")
NOT_REACHED: Final = re.compile(
    r"(?:\b(?:below|under|less than|lower than|(?:not|never) (?:above|over)|limit|limit (?:of|is)|"
    r"max|maximum|up to)|[<\u2264]=?)[\s:=]*$"
)
SUPPOSED: Final = re.compile(
    rf"\b(?:if|unless|in case)\b[^,.;]*$|\b(?:previous|history of)\s+(?:high\s+)?{NAME}[^,.;]*$"
)
ALONE: Final = re.compile(rf"(?:^|[,;.(]\s*|\bfor\s+){NAME}(?=\s*(?:$|[.,;)]))")
"""A reason that is "blood pressure" and no more; "done, checked BP" is none."""


def pressure_alarms(text: str) -> list[str]:
    """Return what a text in lower case says of a blood pressure that alarms, words first."""
    found = [*_in_words(text), *_pairs(text), *_singles(text)]
    return [re.sub(r"\bbp\b", "BP", said) for said in dict.fromkeys(found)]


def names_pressure_alone(reason: str) -> bool:
    """Whether a reason for stopping, in lower case, is "blood pressure" and no more of it."""
    return bool(ALONE.search(reason))


@cache
def _denied() -> re.Pattern[str]:
    words = (*evidence.DENIAL_WORDS.value, *evidence.NOT_OF_THE_BOUT.value)
    denials = "|".join(re.escape(word) for word in words)
    return re.compile(
        rf"\b(?:{denials}|no longer|controlled|treated)(?:\s+(?:any|more|signs? of|his|her|the|a))"
        r"*\s*$"
    )


def _in_words(text: str) -> Iterator[str]:
    for found in IN_WORDS.finditer(text):
        before = text[: found.start()]
        if _denied().search(before) or SUPPOSED.search(before):
            continue
        if not ANSWERED_NO.match(text, found.end()):
            yield found[0]


def _pairs(text: str) -> Iterator[str]:
    name = re.search(NAME, text)
    if not name and not re.search(r"mm\s?hg", text):
        return
    for found in PAIR.finditer(text):
        systolic, diastolic = int(found[1]), int(found[2])
        if not (LOWEST[0] <= systolic <= HIGHEST and LOWEST[1] <= diastolic < systolic):
            continue
        if _is_high(systolic, diastolic) and not _is_limit(text[: found.start()]):
            yield f"{name[0] if name else 'blood pressure'} {systolic}/{diastolic}"


def _singles(text: str) -> Iterator[str]:
    for found in SINGLE.finditer(text):
        value = int(found[2])
        high = _is_high(0, value) if found[1] == "diastolic" else _is_high(value, 0)
        if high and value <= HIGHEST and not _is_limit(text[: found.start(2)]):
            yield f"{found[1]} {value}"


def _is_high(systolic: int, diastolic: int) -> bool:
    return (
        systolic >= evidence.SYSTOLIC_ALARM_MMHG.value
        or diastolic >= evidence.DIASTOLIC_ALARM_MMHG.value
    )


def _is_limit(before: str) -> bool:
    """Whether what stands before a value makes it a limit, or one of another day."""
    return bool(NOT_REACHED.search(before) or SUPPOSED.search(before))

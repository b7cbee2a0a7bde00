"""What a note or a reason for stopping denies: "no dizziness", "numbness: none", "pain-free"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache, lru_cache
from typing import Final

from imucarry.carry.note_tokens import SYMPTOMS, Token, read_tokens, spelled

NOT_WITHOUT: Final = re.compile(r"(\b(?:not|cannot|unable)\b|n['\u2019]t\b)([^.,;]*?)\bwithout\b")
"""What is not done without pain hurts."""

TEN: Final = re.compile(r"(?<=[0-9])\s*(?:/|out of|of)\s*10\b")
NOT_TOLD: Final = "~"
"""What stands for words of another meaning: "pop song"."""

GETS_WORSE: Final = re.compile(
    r"(?:[,;.]|\b(?:then|later|but|now|to))\s*(?:mild|moderate|severe|sharp|bad|strong|worse|some|"
    r"slight|rose|rising|came on|was|yes)(?=\s*(?:$|[,;.)]|(?:at|when|under|with|on|loaded|after|"
    r"later|by|during|afterwards|towards|near|in|once|from)\b))"
)


@lru_cache(maxsize=1024)
def without_denied(text: str) -> str:
    """Return a text in lower case without what it denies: "no dizziness", "numbness gone".

    Words of another meaning, such as "pop song", are left as "~".
    """
    text = TEN.sub("/10", NOT_WITHOUT.sub(r"\1\2with", one_line(text)))
    tokens = read_tokens(text)
    kinds = "".join(token.kind for token in tokens)
    left = [(token.start, token.end, NOT_TOLD) for token in tokens if token.kind == "_"]
    if any(kind in kinds for kind in SYMPTOMS):
        for pattern in _denied():
            for denial in pattern.finditer(kinds):
                left.append(_left(text, tokens, denial, kinds))
            kinds = pattern.sub(lambda denial: "_" * len(denial[0]), kinds)
    for start, end, instead in sorted(left, reverse=True):
        text = f"{text[:start]} {instead} {text[end:]}"
    return one_line(text)


def one_line(text: str) -> str:
    """Return a text in lower case on one line, with alarm words spelled right."""
    return " ".join(spelled(text.lower().replace("\u2019", "'")).split())


def _left(
    text: str, tokens: list[Token], denial: re.Match[str], kinds: str
) -> tuple[int, int, str]:
    """Return where a denial stands and what is left of it: nothing, or what came later."""
    start, end = denial.span()
    rest = _up_to_a_symptom(kinds, end)
    worse = rest > end and GETS_WORSE.search(text[tokens[end].start : tokens[rest - 1].end])
    named = None
    if kinds[start] != "C" and (worse or "5" in kinds[end:rest]):
        named = re.search("p", denial[0])
        if not named and (worse or denial.re in _answered()):
            named = re.search(f"[{SYMPTOMS}]", denial[0])
    token = tokens[start + named.start()] if named else None
    left = text[token.start : token.end] if token else ""
    return tokens[start].start, tokens[end - 1].end, left


def _up_to_a_symptom(kinds: str, at: int) -> int:
    """Return where the next symptom stands, or the end: what is said there is said of it."""
    return next((n for n in range(at, len(kinds)) if kinds[n] in SYMPTOMS), len(kinds))


# --- denials, in the letters of `note_tokens.KINDS` -------------------------------------

BESIDE: Final = "i?[fkhl]*(?:v[fkl]*)?"
"""What may stand before a symptom: "in the left hand"."""

AROUND: Final = "[fkhilgbzv@]*"
"""What may stand between a symptom and its answer: "pain in shoulder now: none"."""

ONE: Final = f"{BESIDE}[npaws][ts]*"
ALSO: Final = "(?:[,/&o]|,[&o])"
END: Final = "(?=$|[.,)])"
NO: Final = (
    rf"(?:\(?q\)?)?(?:[:m]*[NE](?!b|m*5|[iT]?l|,?L)|[:m]+[Oyd]{END}|[Oyd]{END}|\(m?[NEOyd]?\))"
)
LIMITED: Final = "(?!,?L|V5|[:m,]*Y)"
"""What makes a denial none: "no more pain than usual", "no pain until 30 m"."""


def _together(kind: str, follows: str = "[ts]*") -> str:
    """Things of one kind that are denied at once: "numbness/tingling", "numbness & tingling"."""
    one = f"{BESIDE}{kind}{follows}"
    return f"{one}(?:/{one}|/t|(?<!p)&{kind}(?![iT@hlV]))*"


LIKE: Final = f"(?:{_together('n')}|{_together('a')}|[npaws][ts]*)"


@cache
def _answered() -> tuple[re.Pattern[str], ...]:
    """What finds a question and its no: "numbness: none", "any dizziness or pain? no"."""
    return tuple(map(re.compile, (
        f"[Kk]{ONE}(?:{ALSO}{ONE})*{AROUND},?{AROUND}{NO}",
        f"{BESIDE}n[ts]*(?:{ALSO}{BESIDE}[nt][ts]*)+{AROUND}(?=:){NO}",
        f"[npaw](?:/[npawt])+{AROUND}(?=:){NO}",
        f"k?{LIKE}{AROUND}{NO}",
    )))  # fmt: skip


@cache
def _denied() -> tuple[re.Pattern[str], ...]:
    """What finds each way to deny, in the order in which they are read.

    Lists in brackets, "no pain no dizziness", "dizziness N numbness N", "dizziness/pain: N/N" and
    other answers; then "denies", "no", "pain-free", "pain scale", "gone", "pain pre 0",
    "numbness -", "dizzy yesterday".
    """
    listed = f"(?:n(?:{ALSO}{ONE})*|{ONE}(?:{ALSO}{ONE})+)"
    before = "(?:(?<!D)[DONdr]|C(?=[^B.,]*(?:$|[.,])))"
    many = f"{ONE}(?:/{ONE}){{2,}}"
    item = f"(?:{many}|{_together('[np]', '[tshp]*')}|{_together('a', '[tshp]*')}|{ONE})"
    pair = f"[npaws]{AROUND}[:m]*[OyNEdY5]"
    bracketed = f"(?:{before}{BESIDE}s|s{AROUND}{NO})"
    return (
        re.compile(rf"{bracketed}(?:\({listed},?X?\.?\)|,?I{listed})"),
        re.compile(rf"(?<![^.,(])(?:[ON]{BESIDE}[npaw][ts]*[/,]?){{2,}}{END}"),
        re.compile(rf"[npaws]{AROUND}[:m]*[OyNEd](?=(?:[/,]?{pair})+{END})"),
        re.compile(rf"[npaw](?:/[npawt])+{AROUND}:?[OyNE](?:/[OyNE])+{END}"),
        *_answered(),
        *map(re.compile, (
            f"d{BESIDE}n(?:,{BESIDE}n)+(?=$|[.)])",
            f"{before}{BESIDE}[np](?:,?n){{2,}}(?=$|[.)])",
            f"{before}{BESIDE}[np](?:,?n)+(?:,?on|(?=,?oX)){LIMITED}(?!:)",
            f"{before}{item}(?:(?:,{item})*,?o{item})?{LIMITED}(?!:)",
            "(?:pm?F|[npaw]mF)(?!,?L)",
            "pz(?!:?[gb]*[N5])",
            f"{LIKE}[fg]*[Gdr](?![T@Li])",
            "p[@e]+:*N",
            "[ns]m(?=$|[.,])",
            "[npaw]t*H(?=$|[.]|,[EN])",
        )),
    )  # fmt: skip


def any_of(words: Iterable[str]) -> str:
    """Return a pattern of any of some words, longer ones first."""
    return "|".join(re.escape(word) for word in sorted(words, key=lambda w: (-len(w), w)))

"""A note as tokens: each word, or phrase that is known, with the kind of thing it is."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Final, NamedTuple

from imucarry.basics.evidence import carry as evidence

NOUNS: Final = (
    "dizziness", "vertigo", "giddiness", "fainting", "syncope", "blackout", "nausea", "vomiting",
    "headache", "headaches", "migraine", "lightheadedness", "light-headedness",
    "light headedness", "numbness", "tingling", "paraesthesia", "paresthesia",
    "pins and needles", "pins & needles", "pins/needles", "pins + needles", "p&n", "p+n", "p/n",
    "loss of feeling", "loss of sensation", "shortness of breath", "sob", "breathlessness", "cp",
    "chest pain", "chest pains", "chest tightness", "chest pressure", "chest discomfort", "angina",
    "tightness in chest", "palpitations", "blurred vision", "double vision", "tunnel vision",
)  # fmt: skip
FEELINGS: Final = (
    "dizzy", "giddy", "woozy", "faint", "light-headed", "light headed", "lightheaded", "nauseous",
    "nauseated", "sick", "numb", "tingly", "breathless", "painful", "sore",
)  # fmt: skip
"""What is denied together only with its like: of "no numbness/dizzy" dizzy is left."""

SIGNS_DENIED: Final = (
    "pop", "dead", "unstable", "sick", "sore", "soreness", "loss of feeling", "lost feeling",
    "losing feeling", "loss of sensation", "lost sensation", "losing sensation", "painful arc",
)  # fmt: skip
AIR_AND_SIGHT: Final = ("breath", "breathe", "breathing", "vision")
"""Alarm words of which it is the want that alarms: "no breath left"."""

SYMPTOMS: Final = "npaws"
"""The kinds of what may be denied: nouns, pain, feelings, other signs, "symptoms" and its like."""

KINDS: Final[Mapping[str, tuple[str, ...]]] = {
    # symptoms that are not named
    "s": (
        "symptom", "symptoms", "adverse symptoms", "sx", "complaint", "complaints", "problem",
        "problems", "issue", "issues", "red flag", "red flags",
    ),
    # what may follow a symptom
    "t": ("tightness", "tight", "discomfort", "heaviness", "spell", "spells"),
    # may stand before a symptom
    "f": (
        "more", "any more", "further", "new", "real", "obvious", "reported", "been", "at all",
        "at any point", "at any time", "sign of", "signs of", "evidence of", "recurrence of",
        "episode of", "episodes of", "symptoms of",
        "complaint of", "complaints of", "reports of", "report", "complain of", "c/o", "a", "the",
        "he", "she", "get", "gets", "getting", "had",
        *(f"{felt} {where}" for felt in ("tightness", "heaviness", "pressure")
          for where in ("in", "across", "in the", "across the")),
    ),
    # to feel
    "v": ("feel", "feels", "felt", "feeling"),
    "k": ("any",),
    # places
    "h": ("neck", "back", "wrist", *evidence.LIMB_WORDS.value, *evidence.JOINT_WORDS.value),
    # sides
    "l": ("left", "right", "l", "r"),
    "i": ("in",),
    # may stand before an answer
    "g": (
        "is", "has", "have", "was", "are", "were", "now", "all", "completely", "fully", "/10",
        "(0-10)", "0-10", "said",
    ),
    # times of a bout
    "e": ("start", "end", "rest", "pre", "post"),
    "@": ("at",),
    "b": ("of",),
    "z": ("score", "level", "scale", "rating"),
    # a question
    "K": ("asked about", "asked for", "asked after", "asked re", "asked if", "asked"),
    # of another day, or an instruction
    "C": ("if", *evidence.NOT_OF_THE_BOUT.value),
    # a denial
    "D": ("no longer", *evidence.DENIAL_WORDS.value),
    # a denial, or an answer
    "d": ("denies", "denied"),
    # a denial, or an answer
    "r": ("ruled out",),
    # a denial, or an answer that ends a clause
    "O": ("no", "neg", "negative", "not at all"),
    # a denial, or an answer
    "N": ("nil", "zero", "-ve", "- ve", "\u2013ve", "\u2212ve", "\u2013 ve", "\u2212 ve"),
    # an answer
    "E": ("none", "n/a", "nope", "fine today", "ok today", "not today"),
    # an answer that ends a clause
    "y": ("n",),
    # an answer that is yes
    "Y": ("y", "yes", "+ve", "++", "(+)", "x"),
    "q": ("y/n", "yes/no"),
    # a denial that follows
    "G": (
        "gone", "resolved", "absent", "settled", "not reported", "not present", "not noted",
        "not asked", "not scored", "not taken", "not recorded",
    ),
    "F": ("free",),
    # another day
    "H": ("yesterday", *(f"last {when}" for when in ("week", "month", "visit", "time", "session"))),
    # begins a list
    "I": ("such as", "e.g", "e.g.", "eg", "incl", "including", "like"),
    # makes a denial none
    "L": (
        "than", "other than", "worse than", "until", "till", "except", "besides", "apart from",
        "beyond", "bar the", "bar a",
    ),
    # when
    "T": (
        "after", "once", "when", "by", "within", "on", "before", "initially", "later", "down",
        "from",
    ),
    # makes an earlier symptom one of today
    "B": ("again", "still", "same", "unchanged", "worse", "returned", "recurred"),
    "V": ("above", "over"),
    "o": ("or", "nor"),
    "&": ("&", "and"),
    "/": ("/", "+"),
    ",": (",",),
    ".": (".", ";"),
    "(": ("(", "["),
    ")": (")", "]"),
    ":": (":", "=", "?", "a:"),
    "m": ("-", "\u2013", "\u2014", "\u2212"),
    # no denial
    "X": ("as if", "not sure if", "unsure if", "not only"),
}  # fmt: skip
"""Each kind, a letter, with its words; "X" is any other word, "5" a score, "_" no symptom."""

WORD: Final = re.compile(r"\d+(?:[.,:/]\d+)*(?![\w.,:/]*\w)|[\w'\u2019]+|[^\w\s]")
NUMBER: Final = re.compile(r"([0-9]+(?:[.,][0-9]+)?)(?:/10)?")
NOT: Final = re.compile(r"(?:was|were|ai|did|does|do|is|are|has|had|have|wo)n['\u2019]?t")
NUMBER_WORDS: Final = ("two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
LEADS_TO: Final = (",", ";", ".", ">", "\u2192", "then", "later", "but", "now", "to", "was")
"""What stands before a score in words: "pain 0, six at end"."""

AMOUNTS: Final = ("more", "extra", "full", "short", "long")
OF_A_SCORE: Final = ("was", "is", "of", "about", "score", "at", "end", ":", "=")


class Token(NamedTuple):
    """A word, a phrase that is known, or a mark, with where it stands and its kind."""

    start: int
    end: int
    kind: str


def spelled(text: str) -> str:
    """Return a text in lower case with alarm words that are one slip of the keys off mended."""
    return re.sub(r"[a-z]{4,}", lambda word: _mended(word[0]), text)


def _mended(word: str) -> str:
    known, long = _known()
    if word in known:
        return word
    return next((meant for meant in long if _is_one_slip(word, meant)), word)


def _is_one_slip(word: str, meant: str) -> bool:
    """Whether a word has one letter more, less or other than meant, or two changed over."""
    if word[0] != meant[0] or abs(len(word) - len(meant)) > 1:
        return False
    alike = next((n for n, letter in enumerate(meant) if word[n : n + 1] != letter), len(meant))
    is_, should = word[alike:], meant[alike:]
    swapped = is_[2:] == should[2:] and is_[:2] == should[1::-1]
    return swapped or is_[1:] in (should, should[1:]) or is_ == should[1:]


@cache
def _known() -> tuple[frozenset[str], tuple[str, ...]]:
    """Words that are as they should be, and those of them that are long enough to be misspelled."""
    words = {word for word in evidence.NOTE_WORDS.value if word.isalpha()}
    long = {"dizzy", "symptom", "symptoms", *(word for word in words if len(word) > 5)}
    return frozenset(words | long | {*evidence.NOT_SLIPS.value}), tuple(sorted(long))


def read_tokens(text: str) -> list[Token]:
    """Return the tokens of a text in lower case."""
    found = list(WORD.finditer(text))
    words = [match[0] for match in found]
    known, longest = _kinds()
    tokens, at = [], 0
    while at < len(words):
        most = min(longest.get(words[at], 1), len(words) - at)
        phrases = ((n, known.get(tuple(words[at : at + n]))) for n in range(most, 0, -1))
        length, kind = next(((n, kind) for n, kind in phrases if kind), (1, ""))
        end = at + length
        tokens.append(Token(found[at].start(), found[end - 1].end(), kind or _kind(words, at)))
        at = end
    return tokens


def _kind(words: list[str], at: int) -> str:
    """Return the kind of a word that no list holds: a denial "n't", a score, 0, or another."""
    word = words[at]
    if NOT.fullmatch(word):
        return "D"
    number = NUMBER.fullmatch(word)
    if number and float(number[1].replace(",", ".")) == 0.0:
        return "N"
    if word in NUMBER_WORDS:
        led = at > 0 and words[at - 1] in LEADS_TO
        return "5" if led and not _is_amount(words, at) else "X"
    if not number or float(number[1].replace(",", ".")) > 10.0:
        return "X"
    return "X" if _is_amount(words, at) or _is_other_score(words, at) else "5"


def _is_amount(words: list[str], at: int) -> bool:
    """Whether a number counts something: "2 more lanes", "1 of 3", "6 %"."""
    after = [word for word in words[at + 1 : at + 4] if word not in AMOUNTS]
    if after[:1] == ["out"]:
        del after[0]
    if after[:1] == ["of"] and after[1:2] and after[1][0].isdigit():
        return after[1] != "10"
    units = evidence.UNITS_AFTER_NUMBERS.value
    return bool(after) and (after[0] in units or after[0].removesuffix("s") in units)


def _is_other_score(words: list[str], at: int) -> bool:
    """Whether a number is one of effort, of a lane and such: "RPE was 6"."""
    while at > 0 and words[at - 1] in OF_A_SCORE:
        at -= 1
    others = evidence.OTHER_SCORES.value
    return at > 0 and (words[at - 1] in others or " ".join(words[max(at - 2, 0) : at]) in others)


@cache
def _kinds() -> tuple[dict[tuple[str, ...], str], dict[str, int]]:
    """The kind of each known word or phrase, by its words; the longest phrase by its first."""
    pain = {*evidence.PAIN_WORDS.value, *evidence.NOTE_PAIN_WORDS.value}
    listed = (
        *KINDS.items(),
        ("w", ({*evidence.ALARM_WORDS.value, *SIGNS_DENIED} - set(AIR_AND_SIGHT))),
        ("a", FEELINGS), ("n", NOUNS), ("p", pain - {"painful", "sore"}),
        ("p", [f"pain {scale}" for scale in ("nrs", "nprs", "vas")]),
        ("_", evidence.OTHER_MEANINGS.value),
    )  # fmt: skip
    found = {tuple(WORD.findall(word)): kind for kind, words in listed for word in words}
    for kind in "dsrO":  # listed among the denials and elsewhere too
        found |= {tuple(WORD.findall(word)): kind for word in KINDS[kind]}
    found |= {("nil",): "N", ("zero",): "N", ("never",): "D"}
    longest: dict[str, int] = {}
    for words in found:
        longest[words[0]] = max(len(words), longest.get(words[0], 1))
    return found, longest

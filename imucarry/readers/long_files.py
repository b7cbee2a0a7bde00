"""Long files: columns whose words tell several sensors or quantities apart."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from imucarry.basics.errors import ColumnError
from imucarry.basics.evidence import readers as evidence
from imucarry.readers.lexicon import ASIDE_WORDS, FREE_OF_GRAVITY, OTHER_WORDS, TOTAL_WORDS
from imucarry.readers.names import NameParts, kind_of_word, placement_of, plain_words
from imucarry.readers.roles import STREAM_NAMES
from imucarry.readers.table import Table, TextColumn


def find_type_column(table: Table) -> int | None:
    """Return the text column whose words name both quantities."""
    for column, text in table.text.items():
        if {"acc", "gyr"} <= set(kinds_of_words(text).values()):
            return column
    return None


def kinds_of_words(text: TextColumn) -> dict[int, str]:
    """Return the quantity that each word of a column names, by the word's code.

    Where several name one quantity, those that are nearest to the samples themselves: the whole
    acceleration and not that without gravity, what was calibrated and not what was not.
    """
    if len(text.words) > evidence.MOST_WORDS.value:
        return {}
    found = [
        (kind, rank, code)
        for code, word in enumerate(text.words)
        if (kind := kind_of_word(word)) and (rank := _rank(word)) >= 0
    ]
    best = {kind: min(rank for other, rank, _ in found if other == kind) for kind, _, _ in found}
    return {code: kind for kind, rank, code in found if rank == best[kind]}


def _rank(word: str) -> int:
    """Return how far a word is from the samples themselves, from 0 on; -1 of an angle or such."""
    said = plain_words(word)
    words = {*said, *("".join(pair) for pair in pairwise(said))}
    if words & OTHER_WORDS:
        return -1
    if words & ASIDE_WORDS:
        return 3
    if words & FREE_OF_GRAVITY:
        return 2
    return 0 if words & TOTAL_WORDS else 1


def require_one_word_each(table: Table, type_column: int, sensor_column: int | None) -> None:
    """Refuse a long file in which two words name one quantity of one sensor.

    Raises
    ------
    ColumnError
        If their rows would be mixed.
    """
    text = table.text[type_column]
    kinds = kinds_of_words(text)
    no_sensors = np.zeros(text.codes.size, dtype=np.int64)
    sensors = no_sensors if sensor_column is None else words_of(table, sensor_column).codes
    known = np.isin(text.codes, list(kinds))
    first: dict[tuple[int, str], str] = {}
    for sensor, code in np.unique(np.column_stack([sensors, text.codes])[known], axis=0):
        word = text.words[code]
        other = first.setdefault((int(sensor), kinds[int(code)]), word)
        if other.lower() != word.lower():
            raise ColumnError(
                f"rows of {other!r} and of {word!r} could both be the {STREAM_NAMES[kinds[code]]};"
                " keep those of one",
                file=table.file,
                where=f"column {table.names[type_column]}",
            )


def find_sensor_column(
    table: Table, parts: Sequence[NameParts], type_column: int | None
) -> int | None:
    """Return the column that tells several sensors of one long file apart."""
    for column, text in table.text.items():
        few = len(text.words) <= evidence.MOST_WORDS.value
        if column != type_column and few and any(placement_of(word) for word in text.words):
            return column
    for column, part in enumerate(parts):
        if part.kind == "sensor" and column != type_column:
            words = words_of(table, column).words
            if 0 < len(words) <= evidence.MOST_WORDS.value:
                return column
    return None


def words_of(table: Table, column: int) -> TextColumn:
    """Return a column's words; few numbers are words too, many are none."""
    if column in table.text:
        return table.text[column]
    values = table.numbers[:, column]
    found = np.unique(values[~np.isnan(values)])
    if found.size > evidence.MOST_WORDS.value:
        return TextColumn((), np.zeros(0, dtype=np.int64))
    codes = np.where(np.isnan(values), -1, np.searchsorted(found, values))
    return TextColumn(tuple(f"{value:g}" for value in found), codes)

"""Long files: columns whose words tell several sensors or quantities apart."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import readers as evidence
from imucarry.readers.names import NameParts, kind_of_word, placement_of
from imucarry.readers.table import Table, TextColumn


def find_type_column(table: Table) -> int | None:
    """Return the text column whose words name both quantities."""
    for column, text in table.text.items():
        if {"acc", "gyr"} <= set(kinds_of_words(text).values()):
            return column
    return None


def kinds_of_words(text: TextColumn) -> dict[int, str]:
    """Return the quantity that each word of a column names, by the word's code."""
    if len(text.words) > evidence.MOST_WORDS.value:
        return {}
    return {code: kind for code, word in enumerate(text.words) if (kind := kind_of_word(word))}


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

"""The values of a session file, each checked for type and range."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from imucarry.basics.errors import SessionError
from imucarry.basics.evidence import readers as evidence
from imucarry.readers.names import unit_of
from imucarry.readers.words import require_word

COLUMN_ROLES = ("time", "counter", "acc", "gyr", "gravity")
AXIS_WORDS = ("+x", "-x", "+y", "-y", "+z", "-z")
LARGEST = {"body_mass_kg": 500.0, "height_m": 3.0, "lane_m": 1000.0}


def label_of(tree: Mapping[str, Any], key: str, file: str) -> str:
    """Return a name that may become part of a file's name.

    Raises
    ------
    SessionError
        If the value is of another kind or out of range.
    """
    value = tree.get(key)
    text = str(value).strip() if isinstance(value, str | int) and value is not True else ""
    if not text:
        raise SessionError(f'must hold {key} = "..."', file=file, where=key)
    if any(mark in text for mark in "/\\") or not text.isprintable() or set(text) == {"."}:
        raise SessionError(
            f"{key} {text[:40]!r} holds marks that a file name cannot; use letters and digits",
            file=file,
            where=key,
        )
    return text


def text_of(table: Mapping[str, Any], key: str, file: str, where: str = "") -> str:
    """Return a text, "" where the key is absent.

    Raises
    ------
    SessionError
        If the value is of another kind or out of range.
    """
    value = table.get(key, "")
    if not isinstance(value, str) or "\0" in value:
        raise SessionError(f'{key} must be text: {key} = "..."', file=file, where=where or key)
    return value.strip()


def number_of(table: Mapping[str, Any], key: str, file: str, where: str) -> float:
    """Return a number, NaN where the key is absent.

    Raises
    ------
    SessionError
        If the value is of another kind or out of range.
    """
    value = table.get(key, float("nan"))
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if not is_number or (key in table and not abs(value) < 1e12):
        raise SessionError(f"{key} must be a number, not {value!r}", file=file, where=where)
    return float(value)


def positive_of(table: Mapping[str, Any], key: str, file: str, where: str) -> float:
    """Return a number above 0, NaN where the key is absent.

    Raises
    ------
    SessionError
        If the value is of another kind or out of range.
    """
    value = number_of(table, key, file, where)
    if value <= 0:
        raise SessionError(f"{key} must be above 0, not {value:g}", file=file, where=where)
    return value


def size_of(tree: Mapping[str, Any], key: str, file: str) -> float:
    """Return a size of a person or a lane, NaN where the key is absent.

    Raises
    ------
    SessionError
        If the value is of another kind or out of range.
    """
    value = positive_of(tree, key, file, key)
    if value > LARGEST[key]:
        unit = key.rpartition("_")[2]
        raise SessionError(f"{key} of {value:g} {unit} is too large", file=file, where=key)
    if key == "body_mass_kg" and value < evidence.BODY_MASS_LEAST_KG.value:
        raise SessionError(
            f"{value:g} kg is too little for a body mass: is it {_with_more_digits(value)} kg?",
            file=file,
            where=key,
        )
    return value


def _with_more_digits(value: float) -> str:
    """Return a body mass whose decimal point stood too far left, with the point moved."""
    while value < evidence.BODY_MASS_LEAST_KG.value:
        value *= 10.0
    return f"{value:g}"


def date_of(tree: Mapping[str, Any], file: str) -> date | None:
    """Return the date, None where it is absent.

    Raises
    ------
    SessionError
        If the value is of another kind or out of range.
    """
    value = tree.get("date")
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, str):
        try:
            return date.fromisoformat(value)
        except ValueError:
            value = 0
    if value is None or isinstance(value, date):
        return value
    raise SessionError("write date = 2026-03-14", file=file, where="date")


def axis_of(table: Mapping[str, Any], key: str, file: str, where: str) -> str:
    """Return a signed axis, "" where the key is absent.

    Raises
    ------
    SessionError
        If the value is of another kind or out of range.
    """
    text = text_of(table, key, file, where).lower()
    if not text:
        return ""
    signed = text if text[0] in "+-" else f"+{text}"
    return require_word(signed, AXIS_WORDS, f"axis for {key}", file, where)


def unit_text_of(
    table: Mapping[str, Any], key: str, quantity: str, known: tuple[str, ...], file: str, where: str
) -> str:
    """Return a unit in our spelling, "" where the key is absent.

    Raises
    ------
    SessionError
        If the value is of another kind or out of range.
    """
    text = text_of(table, key, file, where)
    if not text:
        return ""
    return require_word(unit_of(text, quantity) or text, known, key, file, where)


def files_of(table: Mapping[str, Any], file: str, where: str) -> tuple[str, ...]:
    """Return the names of a sensor's files.

    Raises
    ------
    SessionError
        If the value is of another kind or out of range.
    """
    value = table.get("file")
    names = [value] if isinstance(value, str) else value
    good = isinstance(names, list) and names and all(isinstance(n, str) and n for n in names)
    if not isinstance(names, list) or not good or any("\0" in name for name in names):
        raise SessionError('write file = "chest.csv", or a list', file=file, where=f"{where}, file")
    if len(set(names)) < len(names):
        raise SessionError("lists one file twice", file=file, where=f"{where}, file")
    return tuple(names)


def columns_of(table: Mapping[str, Any], file: str, where: str) -> Mapping[str, tuple[str, ...]]:
    """Return the column names by role.

    Raises
    ------
    SessionError
        If the value is of another kind or out of range.
    """
    value = table.get("columns", {})
    if not isinstance(value, dict):
        raise SessionError(
            'write columns = {time = "t", acc = ["ax", "ay", "az"]}', file=file, where=where
        )
    return {role: _column_names(role, names, file, where) for role, names in value.items()}


def _column_names(role: str, names: object, file: str, where: str) -> tuple[str, ...]:
    require_word(role, COLUMN_ROLES, "column role", file, f"{where}, columns")
    listed = names if isinstance(names, list) else [names]
    texts = [str(name) for name in listed if isinstance(name, str | int)]
    wanted = 3 if role in ("acc", "gyr", "gravity") else 1
    if len(texts) != wanted or len(listed) != wanted or len(set(texts)) < wanted:
        raise SessionError(
            f"columns.{role} needs {wanted} different column name{'s' if wanted > 1 else ''}",
            file=file,
            where=where,
        )
    return tuple(texts)

"""What a column and a table of the output are, and short ways to write them down."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Kind = Literal["string", "number", "integer", "boolean"]
DTYPES: dict[Kind, str] = {
    "string": "str",
    "number": "float64",
    "integer": "Int64",
    "boolean": "bool",
}


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table.

    Attributes
    ----------
    name : str
    kind : str
        Type in the Table Schema standard.
    unit : str
        UCUM code, "" where there is none.
    meaning : str
        One sentence for people.
    digits : int
        Decimals written (numbers only).
    as_given : bool
        A number of the sheet: more decimals are written where it has more.
    codes : mapping of str to str
        What each of its codes means; empty where it has none.
    choices : tuple of str
        The allowed words, empty when any text is allowed.
    required : bool
        Never empty.
    """

    name: str
    kind: Kind
    unit: str
    meaning: str
    digits: int = 4
    choices: tuple[str, ...] = ()
    required: bool = False
    as_given: bool = False
    codes: Mapping[str, str] = field(default_factory=dict)

    @property
    def dtype(self) -> str:
        """Type of the column in a DataFrame, whatever the rows."""
        return DTYPES[self.kind]


@dataclass(frozen=True, slots=True)
class Table:
    """One output table: its file, columns, primary key and purpose."""

    name: str
    title: str
    columns: tuple[Column, ...]
    key: tuple[str, ...]

    @property
    def file(self) -> str:
        """File name of the table."""
        return f"{self.name}.csv"


def text(
    name: str, meaning: str, choices: tuple[str, ...] = (), *, required: bool = False
) -> Column:
    """Return a text column."""
    return Column(name, "string", "", meaning, choices=choices, required=required)


def coded(name: str, meaning: str, codes: Mapping[str, str], *, required: bool = False) -> Column:
    """Return a text column that holds one code."""
    return Column(name, "string", "", meaning, choices=tuple(codes), required=required, codes=codes)


def codes_joined(name: str, meaning: str, codes: Mapping[str, str]) -> Column:
    """Return a text column that holds codes joined by ';'."""
    said = "; ".join(f"{code}: {what.rstrip('.')}" for code, what in codes.items())
    return text(name, f"{meaning}, joined by ';' ({said}).")


def number(name: str, unit: str, meaning: str, digits: int = 4) -> Column:
    """Return a number column."""
    return Column(name, "number", unit, meaning, digits)


def given(name: str, unit: str, meaning: str, digits: int) -> Column:
    """Return a number column that holds what the sheet gave, with at least `digits` decimals."""
    return Column(name, "number", unit, meaning, digits, as_given=True)


def count(name: str, meaning: str, unit: str = "1") -> Column:
    """Return an integer column."""
    return Column(name, "integer", unit, meaning, 0)


def flag(name: str, meaning: str) -> Column:
    """Return a true/false column."""
    return Column(name, "boolean", "", meaning)

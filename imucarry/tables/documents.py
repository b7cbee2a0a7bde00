"""What commands print with ``--json``, and the JSON Schema of each document.

The rows are those of the CSV tables, so both say the same.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from imucarry.basics.evidence import Evidence
from imucarry.basics.records import Notice, RetestFinding, SessionScores
from imucarry.readers.preview import FilePreview
from imucarry.tables.build import BUILDERS, is_empty, visits
from imucarry.tables.columns import Column, Table
from imucarry.tables.schema import BOUT_SUMMARY, LADDER, RETEST, VISITS

if TYPE_CHECKING:
    from imucarry.carry.agreement import Agreement
    from imucarry.carry.earlier import History

Document = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def score_document(
    result: SessionScores, files: Sequence[str], history: History | None = None
) -> Document:
    """Return the document of ``score --json``; its ``visits`` are empty without a history."""
    return {
        "participant": result.session.participant,
        "session": result.session.session,
        "bouts": _rows(BUILDERS["bout_summary"](result)),
        "ladder": _rows(BUILDERS["ladder"](result)),
        "retest": _rows(BUILDERS["retest"](result)),
        "visits": _rows(visits(result, history)),
        "notices": [asdict(notice) for notice in result.notices],
        "files": list(files),
    }


def retest_document(findings: Sequence[RetestFinding], notices: Sequence[Notice]) -> Document:
    """Return the document of ``retest --json``."""
    return {
        "retest": [asdict(finding) for finding in findings],
        "notices": [asdict(notice) for notice in notices],
    }


def preview_document(previews: Sequence[FilePreview]) -> Document:
    """Return the document of ``preview --json``."""
    return {"files": [asdict(preview) for preview in previews]}


def agree_document(found: Agreement) -> Document:
    """Return the document of ``agree --json``; the pairs themselves are left out."""
    plain = asdict(found)
    del plain["a"], plain["b"]
    return {"n_pairs": int(found.a.size), **plain}


def sources_document(rows: Sequence[Evidence[Any]], settable: Mapping[str, str]) -> Document:
    """Return the document of ``sources --json``; `settable` says how a default is set, by key."""
    return {"sources": [{**asdict(row), "set_as": settable.get(row.key, "")} for row in rows]}


def _rows(columns: Mapping[str, Sequence[Any]]) -> list[Document]:
    names = list(columns)
    return [
        {name: None if is_empty(cell) else cell for name, cell in zip(names, row, strict=True)}
        for row in zip(*columns.values(), strict=True)
    ]


# --- schemas -----------------------------------------------------------------


def _column_schema(column: Column) -> Document:
    kinds: list[str] = [column.kind] if column.required else [column.kind, "null"]
    described: Document = {"type": kinds, "description": column.meaning}
    if column.choices:
        described["enum"] = [*column.choices, *([] if column.required else [None])]
    return described


def _rows_schema(table: Table) -> Document:
    return {
        "type": "array",
        "description": table.title,
        "items": {
            "type": "object",
            "properties": {column.name: _column_schema(column) for column in table.columns},
            "required": [column.name for column in table.columns],
        },
    }


def _object_schema(title: str, properties: Mapping[str, Document]) -> Document:
    return {
        "$schema": DIALECT,
        "title": title,
        "type": "object",
        "properties": dict(properties),
        "required": list(properties),
    }


_TEXT: Document = {"type": "string"}
_NUMBER: Document = {"type": ["number", "null"]}
_COUNT: Document = {"type": "integer", "minimum": 0}


def _notices_schema() -> Document:
    names = ("code", "message", "file", "where", "severity")
    return {
        "type": "array",
        "items": {
            "type": "object",
            "properties": dict.fromkeys(names, _TEXT),
            "required": list(names),
        },
    }


def score_schema() -> Document:
    """Return the JSON Schema of `score_document`."""
    return _object_schema(
        "imucarry score --json",
        {
            "participant": _TEXT,
            "session": _TEXT,
            "bouts": _rows_schema(BOUT_SUMMARY),
            "ladder": _rows_schema(LADDER),
            "retest": _rows_schema(RETEST),
            "visits": _rows_schema(VISITS),
            "notices": _notices_schema(),
            "files": {"type": "array", "items": _TEXT},
        },
    )


def retest_schema() -> Document:
    """Return the JSON Schema of `retest_document`."""
    texts = ("test", "side", "error_source", "finding", "explanation")
    numbers = ("before_deg", "after_deg", "change_deg", "error_deg", "positioning_deg")
    properties = {**dict.fromkeys(texts, _TEXT), **dict.fromkeys(numbers, _NUMBER)}
    row = {"type": "object", "properties": properties, "required": list(properties)}
    return _object_schema(
        "imucarry retest --json",
        {"retest": {"type": "array", "items": row}, "notices": _notices_schema()},
    )


def preview_schema() -> Document:
    """Return the JSON Schema of `preview_document`."""
    file = {"type": "object", "required": ["reading"]}
    return _object_schema("imucarry preview --json", {"files": {"type": "array", "items": file}})


def _record_schema(properties: Mapping[str, Document], *, or_null: bool = False) -> Document:
    """Return the schema of an object that has all of its properties."""
    kind = ["object", "null"] if or_null else "object"
    return {"type": kind, "properties": dict(properties), "required": list(properties)}


def agree_schema() -> Document:
    """Return the JSON Schema of `agree_document`."""
    interval = dict.fromkeys(("value", "low", "high"), _NUMBER)
    limit, icc = _record_schema(interval), _record_schema({"form": _TEXT, **interval})
    limits = {
        "n_pairs": _COUNT,
        "n_persons": _COUNT,
        "sd": _NUMBER,
        **dict.fromkeys(("bias", "lower", "upper"), limit),
    }
    return _object_schema(
        "imucarry agree --json",
        {
            "measure": _TEXT,
            "level": {"type": "string", "enum": ["stride", "bout"]},
            "circular": {"type": "boolean", "description": "angles around the stride"},
            **dict.fromkeys(("n_pairs", "n_only_a", "n_only_b"), _COUNT),
            **dict.fromkeys(("later_s", "later_sd_s"), _NUMBER),
            "shift_s": {
                "description": "by how much B is later if strides are paired with neighbours; "
                "null where nothing says so",
                **_NUMBER,
            },
            "limits": {
                "description": "of A minus B; null with fewer than 3 pairs, or where angles "
                "differ all around the circle",
                **_record_schema(limits, or_null=True),
            },
            "limits_for": {
                "type": "string",
                "enum": [
                    "",
                    "one_person",
                    "one_person_in_order",
                    "persons",
                    "first_pairs",
                    "repeats_within_persons",
                ],
            },
            "proportional": limit,
            "icc_agreement": icc,
            "icc_consistency": icc,
            "icc_because": _TEXT,
            "rmse": _NUMBER,
        },
    )


def sources_schema() -> Document:
    """Return the JSON Schema of `sources_document`."""
    texts = dict.fromkeys(("key", "unit", "source", "why", "set_as"), _TEXT)
    value: Document = {"description": "a number, a word, true or false, or a list or table of such"}
    row = _record_schema({**texts, "value": value})
    return _object_schema("imucarry sources --json", {"sources": {"type": "array", "items": row}})


SCHEMAS: dict[str, Callable[[], Document]] = {
    "score": score_schema,
    "retest": retest_schema,
    "preview": preview_schema,
    "agree": agree_schema,
    "sources": sources_schema,
}
"""One schema a document, by the command's name."""

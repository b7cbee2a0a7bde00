"""``datapackage.json``: every column's name, type, unit and meaning, in an open standard.

Follows the Data Package standard, version 2 (Table Schema).
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from typing import Any

from imucarry.tables.schema import Column, Table

PROFILE = "https://datapackage.org/profiles/2.0/datapackage.json"


def field(column: Column) -> dict[str, Any]:
    """Return one column as a field of the Table Schema standard."""
    described: dict[str, Any] = {
        "name": column.name,
        "type": column.kind,
        "description": column.meaning,
    }
    if column.unit:
        described["unit"] = column.unit
    constraints: dict[str, Any] = {}
    if column.required:
        constraints["required"] = True
    if column.choices:
        constraints["enum"] = list(column.choices)
    if constraints:
        described["constraints"] = constraints
    return described


def resource(table: Table, content: bytes, extra: Sequence[str] = ()) -> dict[str, Any]:
    """Return one CSV file as a resource.

    Parameters
    ----------
    table : Table
    content : bytes
        The file as written.
    extra : sequence of str
        Names of the sheet's own text columns, carried through.
    """
    carried = [
        Column(name, "string", "", "Carried through from the session's own sheet.")
        for name in extra
    ]
    return {
        "name": table.name.replace("_", "-"),
        "path": table.file,
        "title": table.title,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": len(content),
        "hash": f"sha256:{hashlib.sha256(content).hexdigest()}",
        "schema": {
            "fields": [field(column) for column in (*table.columns, *carried)],
            "missingValues": [""],
            "primaryKey": list(table.key),
        },
    }


def package(
    name: str, title: str, resources: Sequence[Mapping[str, Any]], version: str
) -> dict[str, Any]:
    """Return the descriptor of one output folder."""
    return {
        "$schema": PROFILE,
        "name": name,
        "title": title,
        "version": version,
        "resources": list(resources),
    }

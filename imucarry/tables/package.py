"""``datapackage.json``: every column's name, type, unit and meaning, in an open standard.

Follows the Data Package standard, version 2 (Table Schema).
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from typing import Any

from imucarry.tables.columns import Column, Table

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
    if column.codes:
        described["categories"] = [
            {"value": code, "label": meaning} for code, meaning in column.codes.items()
        ]
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
    sha256 = hashlib.sha256(content).hexdigest()
    return file_resource(table, table.file, len(content), sha256, extra)


def file_resource(
    table: Table, path: str, n_bytes: int, sha256: str, extra: Sequence[str] = ()
) -> dict[str, Any]:
    """Return one CSV file, of which size and hash are known, as a resource.

    Parameters
    ----------
    table : Table
    path : str
        The file, relative to the descriptor.
    n_bytes : int
    sha256 : str
    extra : sequence of str
        Names of further text columns, carried through.
    """
    carried = [
        Column(name, "string", "", "Carried through from the session's own sheet.")
        for name in extra
    ]
    optional = {
        column.name for column in table.columns if column.kind == "string" and not column.required
    }
    # The standard allows no empty cell in a primary key; unique keys may have them.
    key: dict[str, Any] = {"primaryKey": list(table.key)}
    if optional & set(table.key):
        key = {"uniqueKeys": [list(table.key)]}
    return {
        "name": path.removesuffix(".csv").replace("_", "-"),
        "path": path,
        "title": table.title,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": n_bytes,
        "hash": f"sha256:{sha256}",
        "schema": {
            "fields": [field(column) for column in (*table.columns, *carried)],
            "missingValues": [""],
            **key,
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

"""A room imports only from rooms that stand before it; nothing imports in a circle."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "imucarry"

ROWS: list[set[str]] = [
    {"basics"},
    {"readers"},
    {"motion"},
    {"walk"},
    {"measures"},
    {"carry"},
    {"pipeline", "simulate"},
    {"tables", "provenance", "outputs"},
    {"report", "export"},
    {"api"},
    {"cohort"},
    {"cli"},
]
ROW_OF = {room: row for row, rooms in enumerate(ROWS) for room in rooms}
# The package root holds the version; it names the public face lazily.
ROOTLESS = {"imucarry", "imucarry.__main__"}


def module_name(path: Path) -> str:
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports_of(path: Path) -> set[str]:
    """Every imucarry module that a file imports, anywhere in it."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("imucarry"):
            found |= {resolve(node.module or "", alias.name) for alias in node.names}
        elif isinstance(node, ast.Import):
            found |= {a.name for a in node.names if a.name.split(".")[0] == "imucarry"}
    return found


def resolve(module: str, name: str) -> str:
    """The submodule that ``from module import name`` names, else the module."""
    stem = PACKAGE.parent / Path(*module.split("."), name)
    return f"{module}.{name}" if stem.with_suffix(".py").exists() or stem.is_dir() else module


MODULES = {module_name(path): path for path in sorted(PACKAGE.rglob("*.py"))}


def room(module: str) -> str:
    return module.split(".")[1] if "." in module else ""


@pytest.mark.parametrize("module", sorted(set(MODULES) - ROOTLESS))
def test_imports_only_from_earlier_rooms(module: str) -> None:
    assert room(module) in ROW_OF, f"{module} lies in no room of the table"
    for imported in imports_of(MODULES[module]) - ROOTLESS:
        if room(imported) != room(module):
            assert ROW_OF[room(imported)] < ROW_OF[room(module)], f"{module} imports {imported}"


def test_no_circular_imports() -> None:
    graph = {module: imports_of(path) & set(MODULES) - {module} for module, path in MODULES.items()}
    graph["imucarry"] = set()
    done: set[str] = set()

    def visit(module: str, trail: tuple[str, ...]) -> None:
        assert module not in trail, " -> ".join((*trail, module))
        if module not in done:
            for imported in graph.get(module, set()):
                visit(imported, (*trail, module))
            done.add(module)

    for module in graph:
        visit(module, ())


def test_only_orientation_imports_ahrs() -> None:
    users = {
        module
        for module, path in MODULES.items()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if (isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "ahrs")
        or (
            isinstance(node, ast.Import) and any(a.name.split(".")[0] == "ahrs" for a in node.names)
        )
    }
    assert all(module.startswith("imucarry.motion.orientation") for module in users)

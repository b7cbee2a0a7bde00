"""Invented samples that obey the laws the reader checks, and files of them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import FileLayout, Motion, invented_motion, written_bytes

Writer = Callable[..., Path]


@pytest.fixture(scope="session")
def motion() -> Motion:
    """Five seconds at 100 Hz."""
    return invented_motion(500)


@pytest.fixture
def write_layout(tmp_path: Path, motion: Motion) -> Writer:
    """Write the samples in a layout, and return the file."""

    def write(name: str = "chest.csv", samples: Motion = motion, **options: object) -> Path:
        path = tmp_path / name
        path.write_bytes(written_bytes(samples, FileLayout(**options)))  # type: ignore[arg-type]
        return path

    return write


@pytest.fixture
def write_columns(tmp_path: Path) -> Writer:
    """Write named columns as CSV, and return the file."""

    def write(name: str, columns: dict[str, np.ndarray]) -> Path:
        path = tmp_path / name
        rows = zip(*(list(values) for values in columns.values()), strict=True)
        lines = [",".join(columns), *(",".join(_cell(value) for value in row) for row in rows)]
        path.write_text("\n".join(lines) + "\n", encoding="utf-8")
        return path

    return write


def _cell(value: object) -> str:
    if isinstance(value, float):
        return "" if np.isnan(value) else repr(float(value))
    return str(value)

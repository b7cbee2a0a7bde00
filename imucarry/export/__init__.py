"""Exports to open standards: one module and one row of `EXPORTS` each."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from imucarry.basics.records import SessionScores
from imucarry.export import data_set, motion_bids
from imucarry.export.labels import Labels

Files = dict[str, bytes]
"""File contents by path relative to the export's folder, with ``/``."""


class Adder(Protocol):
    """Says how one visit's files are added to those that a folder holds."""

    def __call__(
        self,
        folder: Path,
        owned: Sequence[str],
        files: Mapping[str, bytes],
        labels: Labels,
        *,
        force: bool = False,
    ) -> data_set.Addition:
        """Return what is written, replaced and kept."""


@dataclass(frozen=True, slots=True)
class Export:
    """One open standard: its name on the command line, its writer, how a visit is added."""

    name: str
    title: str
    write: Callable[[SessionScores, Labels], Files]
    add: Adder


EXPORTS = (
    Export(
        "motion-bids",
        "Brain Imaging Data Structure, motion",
        motion_bids.write,
        data_set.add_visit,
    ),
)

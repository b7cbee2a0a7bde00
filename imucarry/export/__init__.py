"""Exports to open standards: one module and one row of `EXPORTS` each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from imucarry.basics.records import SessionScores
from imucarry.export import motion_bids
from imucarry.export.labels import Labels

Files = dict[str, bytes]
"""File contents by path relative to the export's folder, with ``/``."""


@dataclass(frozen=True, slots=True)
class Export:
    """One open standard: its name on the command line and its writer."""

    name: str
    title: str
    write: Callable[[SessionScores, Labels], Files]


EXPORTS = (Export("motion-bids", "Brain Imaging Data Structure, motion", motion_bids.write),)

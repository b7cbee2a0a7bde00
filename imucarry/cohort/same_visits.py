"""One recording that stands for several sessions of a study: by its files, or by its walks."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from imucarry.basics.records import Notice
from imucarry.basics.words import listed
from imucarry.carry.same_recording import (
    SAME_RECORDING,
    Files,
    recordings_of_run,
    same_notice,
    shared,
)
from imucarry.cohort.gather import Scored, as_written
from imucarry.cohort.study_checks import StudyCheck
from imucarry.tables.schema import BOUT_SUMMARY

COLUMN: Final = "column folder"
MEASURED: Final = (
    *("cadence_spm", "sternum_yaw_range_deg", "left_arm_swing_deg", "right_arm_swing_deg"),
    *("stride_time_cv_pct", "step_time_asymmetry_pct"),
)
"""Columns of ``bout_summary.csv`` of which no two walks have all digits in common."""

LEAST_MEASURED: Final = 3
MOST_NAMED: Final = 4


def same_recordings(scored: Sequence[Scored], manifest: str) -> tuple[StudyCheck, ...]:
    """Return a check for each recording that stands for several sessions of a manifest.

    A copy of a file is known by its bytes; one that was exported again by its walks, of which
    every printed digit is the same.
    """
    ordered = sorted(scored, key=as_written)
    by_files = shared([recordings_of_run(item.run) for item in ordered])
    found = [(places, same_notice(_names(ordered, places), names)) for places, names in by_files]
    told = [set(places) for places, _ in by_files]
    for places, bouts in shared([_walks_of(item) for item in ordered]):
        if not any(told_places.issuperset(places) for told_places in told):
            found.append((places, _same_walks(_names(ordered, places), bouts)))
    return tuple(
        StudyCheck(replace(notice, file=manifest, where=COLUMN), tuple(ordered[k] for k in places))
        for places, notice in found
    )


def _names(ordered: Sequence[Scored], places: Sequence[int]) -> list[str]:
    return [ordered[k].name for k in places]


def _walks_of(item: Scored) -> Files:
    """Return what was measured of each bout, as printed, with the bout's name."""
    try:
        with (item.folder / BOUT_SUMMARY.file).open(encoding="utf-8", newline="") as stream:
            rows = [(row["bout"], [row[name] for name in MEASURED])
                    for row in csv.DictReader(stream)]  # fmt: skip
    except FileNotFoundError:
        return ()
    return tuple(
        (" ".join(cells), bout)
        for bout, cells in rows
        if len(list(filter(None, cells))) >= LEAST_MEASURED
    )


def _same_walks(visits: Sequence[str], bouts: Sequence[str]) -> Notice:
    more = ["..."] if len(visits) > MOST_NAMED else []
    named = "bout" if len(bouts) == 1 else "bouts"
    message = (
        f"{listed([*visits[:MOST_NAMED], *more])} are the same walks: of {named} "
        f"{listed(bouts)} every digit is the same, so that one has the wrong files"
    )
    return Notice(SAME_RECORDING, message, severity="check")

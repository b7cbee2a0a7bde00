"""One recording that stands for several sessions of a study."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from imucarry.carry.same_recording import recordings_of_run, same_notice, shared
from imucarry.cohort.gather import Scored, as_written
from imucarry.cohort.study_checks import StudyCheck

COLUMN = "column folder"


def same_files(scored: Sequence[Scored], manifest: str) -> tuple[StudyCheck, ...]:
    """Return a check for each recording that stands for several sessions of a manifest."""
    ordered = sorted(scored, key=as_written)
    found = []
    for places, files in shared([recordings_of_run(item.run) for item in ordered]):
        visits = [ordered[k] for k in places]
        notice = same_notice([item.name for item in visits], files)
        found.append(StudyCheck(replace(notice, file=manifest, where=COLUMN), tuple(visits)))
    return tuple(found)

"""What is told of a study beyond its sessions' own notices."""

from __future__ import annotations

from dataclasses import dataclass

from imucarry.basics.records import Notice
from imucarry.cohort.gather import Scored


@dataclass(frozen=True, slots=True)
class StudyCheck:
    """One thing to check of a study, and the sessions that it is about; () for all of it."""

    notice: Notice
    sessions: tuple[Scored, ...] = ()

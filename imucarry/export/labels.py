"""Labels that stand for a person and a visit in an export; never the session's own text."""

from __future__ import annotations

import re
from dataclasses import dataclass

from imucarry.basics.errors import OutputError


@dataclass(frozen=True, slots=True)
class Labels:
    """Participant and session labels: letters and digits only.

    The defaults say nothing about the person, so that an export is de-identified
    unless somebody chooses labels.

    Attributes
    ----------
    participant, session : str
        As they stand in file names and tables of the export.
    """

    participant: str = "01"
    session: str = "01"

    def __post_init__(self) -> None:
        for name in (self.participant, self.session):
            if not re.fullmatch(r"[A-Za-z0-9]+", name):
                raise OutputError(f"label {name!r} must consist of letters and digits")

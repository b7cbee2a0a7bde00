"""What each measure means and where it stands, taken from the one table of measures."""

from __future__ import annotations

from typing import Final

from imucarry.measures.table import MEASURES

BY_ID: Final = {measure.id: measure for measure in MEASURES}
RANK: Final = {measure.id: place for place, measure in enumerate(MEASURES)}

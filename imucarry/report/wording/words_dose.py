"""Words of a bout's load and effort."""

from __future__ import annotations

from typing import Final

SHARE_OF_MASS: Final = "{share} % of body mass"
EFFORT: Final = "effort {effort} of 10"

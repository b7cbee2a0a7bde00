"""Pictures as data: scores -> `Chart` -> SVG, an interactive figure, or a figure for a paper."""

from __future__ import annotations

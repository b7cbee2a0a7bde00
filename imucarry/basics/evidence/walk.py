"""Thresholds and defaults of the room `walk`."""

from __future__ import annotations

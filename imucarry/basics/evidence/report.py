"""Thresholds and defaults of the room `report`."""

from __future__ import annotations

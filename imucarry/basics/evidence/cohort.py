"""Thresholds and defaults of the room `cohort`."""

from __future__ import annotations

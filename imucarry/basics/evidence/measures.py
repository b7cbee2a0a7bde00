"""Thresholds and defaults of the room `measures`."""

from __future__ import annotations

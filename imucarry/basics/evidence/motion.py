"""Thresholds and defaults of the room `motion`."""

from __future__ import annotations

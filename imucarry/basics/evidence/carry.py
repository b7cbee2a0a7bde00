"""Thresholds and defaults of the room `carry`."""

from __future__ import annotations

"""Thresholds and defaults of the room `readers`."""

from __future__ import annotations

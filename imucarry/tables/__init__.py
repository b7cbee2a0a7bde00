"""Tidy tables made from `SessionScores` alone, and their schema.

``schema`` (with ``schema_strides``) lists every table's columns; ``build`` fills
them; ``text`` writes them as CSV with fixed digits. Page, CSV and data package all
read these tables, so they cannot drift apart.
"""

"""The page of a study cohort: failures first, then how holds and loads differ, then doubts."""

from imucarry.report.cohort.page import CohortData, SessionLink, render, sessions_to_look_at

__all__ = ["CohortData", "SessionLink", "render", "sessions_to_look_at"]

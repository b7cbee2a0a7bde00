"""The page of a study cohort: failures first, then how holds and loads differ, then doubts."""

from imucarry.report.cohort.page import CohortData, SessionLink, render

__all__ = ["CohortData", "SessionLink", "render"]

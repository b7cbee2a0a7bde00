"""Many sessions through one executor, one at a time kept, failures beside results.

``plan`` reads the manifest and tells which sessions are finished already,
``task`` scores one session in a worker, ``engine`` drives a standard executor and
survives killed workers, ``gather`` joins the finished sessions' tables row by
row, ``study`` names these steps in order.
"""

from imucarry.cohort.study import CohortOptions, CohortSummary, score_cohort

__all__ = ["CohortOptions", "CohortSummary", "score_cohort"]

"""The names by which the numeric libraries are told how many threads to start."""

from __future__ import annotations

# They start a thread a core for every small product, which then wait for each other.
THREAD_LIMITS = (
    *("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"),
    *("VECLIB_MAXIMUM_THREADS", "NUMEXPR_NUM_THREADS"),
)

"""The public face: one function a command, each returning data and printing nothing."""

from imucarry.api.results import PageOptions, write_scores
from imucarry.api.session import ScoredSession, score_session

__all__ = ["PageOptions", "ScoredSession", "score_session", "write_scores"]

"""The public face: one function a command, each returning data and printing nothing."""

from imucarry.api.session import PageOptions, ScoredSession, score_session, write_scores

__all__ = ["PageOptions", "ScoredSession", "score_session", "write_scores"]

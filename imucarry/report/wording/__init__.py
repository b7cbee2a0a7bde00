"""The sentences of the page and of the terminal summary.

Templates stand in `texts`, filled by `say` and `terminal`. What a check or note says
stands where its `Notice` is made.
"""

from __future__ import annotations

from imucarry.report.wording.terminal import retest_lines, terminal_lines

__all__ = ["retest_lines", "terminal_lines"]

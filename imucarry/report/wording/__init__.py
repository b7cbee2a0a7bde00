"""Every sentence that a person reads: templates in `texts`, filled by `say` and `terminal`."""

from __future__ import annotations

from imucarry.report.wording.terminal import retest_lines, terminal_lines

__all__ = ["retest_lines", "terminal_lines"]

"""All words of the page and of the terminal summary but the ladder's, in English, by one name.

Templates are filled with ``str.format`` by the functions of `say`.
"""

from __future__ import annotations

# Every table of these modules is one of `texts`: a new one needs no line here.
from imucarry.report.wording.words_figures import *  # noqa: F403 - every table is meant
from imucarry.report.wording.words_findings import *  # noqa: F403 - every table is meant
from imucarry.report.wording.words_page import *  # noqa: F403 - every table is meant
from imucarry.report.wording.words_reasons import *  # noqa: F403 - every table is meant

"""A page on paper: its text page by page, and what makes a bad page of paper."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

LEAST_WORDS = 20
HEADINGS = """() => [...document.querySelectorAll("h2, h3, caption")].map(
    e => e.textContent.trim().split(/\\s+/).join(" "))"""


def assert_well_broken(tab: Any, pages: list[str]) -> None:
    """No page of hardly a word, and no heading that stands last on its page."""
    headings = set(tab.evaluate(HEADINGS))
    for number, page in enumerate(pages, 1):
        body = above_the_foot(page)
        assert len(body.split()) >= LEAST_WORDS, f"page {number} of {len(pages)}: {body.split()}"
        last = body.rstrip().splitlines()[-1]
        alone = {" ".join(part.split()) for part in re.split(r"\s{2,}", last)}
        assert not alone & headings, f"page {number} of {len(pages)} ends with {last.strip()}"


def above_the_foot(page: str) -> str:
    """A sheet without its last line, which has the number of the sheet."""
    body, _, foot = page.rstrip().rpartition("\n")
    assert re.search(r"\d+ of \d+$", foot), foot
    return body


def print_tab(tab: Any, pdf: Path, *, everything: bool = False) -> list[str]:
    """Print as the browser does, in short or as the button for all of it does; the pages' text."""
    tab.evaluate("all => document.documentElement.classList.toggle('all', all)", everything)
    tab.pdf(path=pdf, prefer_css_page_size=True)
    return pages_of(pdf)


def pages_of(pdf: Path) -> list[str]:
    program = shutil.which("pdftotext")
    if program is None:
        pytest.skip("pdftotext (poppler-utils) is not on this machine")
    done = subprocess.run(
        [program, "-layout", str(pdf), "-"], capture_output=True, check=True, text=True
    )
    return done.stdout.removesuffix("\f").split("\f")

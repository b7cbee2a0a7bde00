"""The tables of accuracy tell what was not met, and stand between the README's markers."""

from __future__ import annotations

import math

import pytest
from accuracy_row import UNMET, as_markdown, at_least, at_most, shown


def test_unmet_and_unmeasured_figures_are_marked() -> None:
    assert at_most("g", "a", 0.3, 0.2, "deg", "x").holds is False
    assert at_most("g", "a", -0.3, 0.2, "deg", "x").holds is False
    assert at_most("g", "a", 0.1, 0.2, "deg", "x").holds is True
    assert at_most("g", "a", math.nan, 0.2, "deg", "x").holds is False
    assert at_least("g", "a", 0.99, 0.995, "", "x").holds is False
    table = as_markdown([at_most("g", "a", 0.3, 0.2, "deg", "x")])
    assert UNMET in table
    assert UNMET not in as_markdown([shown("g", "a", 0.3, "deg", "x")])


def test_groups_stand_apart_in_their_first_order() -> None:
    table = as_markdown(
        [shown("one", "a", 1.0, "", "x"), shown("two", "b", 2.0, "", "x"),
         shown("one", "c", 3.0, "", "x")]
    )  # fmt: skip
    assert table.index("**one**") < table.index("| c |") < table.index("**two**")


def test_tables_replace_what_lies_between_the_markers() -> None:
    from accuracy import END, START, into_readme

    text = f"before\n{START}\nold\n{END}\nafter\n"
    assert into_readme(text, "new") == f"before\n{START}\nnew\n{END}\nafter\n"
    with pytest.raises(SystemExit, match="markers"):
        into_readme("no markers", "new")

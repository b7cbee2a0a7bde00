"""Where each bout of a study stands: its condition, participant and visit."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import tee
from typing import NamedTuple

from imucarry.basics.evidence.carry import PAIN_LIMIT
from imucarry.carry.implements import as_first_written
from imucarry.carry.symptoms import unplanned
from imucarry.carry.visit_order import Order
from imucarry.carry.visits import Row, number, word

UNKNOWN_LOAD = -1.0
Who = tuple[str, str, str]  # participant, session, bout


class Condition(NamedTuple):
    """What must be the same for two bouts to repeat each other."""

    hold: str
    loaded_side: str
    load_kg: float
    implement: str
    perturbed: str
    left_hold: str
    right_hold: str


class Place(NamedTuple):
    """Where a bout stands in its study."""

    condition: Condition
    participant: str
    visit: int  # its place among the participant's visits
    start_s: float
    cadence_spm: float
    free_walks: frozenset[str]  # that its shares are of
    is_ended: bool  # by pain above the limit, or early


def places_of(
    bouts: Iterable[Row], order: Order, pain_limit_0_10: float = PAIN_LIMIT.value
) -> dict[Who, Place]:
    """Return where each bout stands, by participant, session and bout.

    Parameters
    ----------
    bouts : iterable of rows
        Of ``cohort_bouts.csv``: participant, session, bout, hold, loaded_side, load_kg,
        start_s; optionally implement, perturbed, left_hold, right_hold, cadence_spm,
        baseline_bouts, pain_0_10, stop_reason.
    order : mapping
        Of the visits, from `imucarry.carry.visit_order.order_visits`.
    pain_limit_0_10 : float, optional
    """
    rows, again = tee(bouts)
    implements = as_first_written(word(row, "implement") for row in again)
    return {
        who_of(row): _place(row, implement, order, pain_limit_0_10)
        for row, implement in zip(rows, implements, strict=True)
    }


def ended_early_or_hurt(pain_0_10: float, stop_reason: str, pain_limit_0_10: float) -> bool:
    """Return whether a bout had pain above the limit or was stopped before its end.

    Parameters
    ----------
    pain_0_10 : float
        NaN where it was not noted.
    stop_reason : str
    pain_limit_0_10 : float
    """
    return pain_0_10 > pain_limit_0_10 or bool(unplanned(stop_reason))


def who_of(row: Row) -> Who:
    """Return participant, session and bout of a row."""
    return word(row, "participant"), word(row, "session"), word(row, "bout")


def _place(bout: Row, implement: str, order: Order, pain_limit_0_10: float) -> Place:
    load_kg, start_s = number(bout, "load_kg"), number(bout, "start_s")
    condition = Condition(
        hold=word(bout, "hold"),
        loaded_side=word(bout, "loaded_side"),
        load_kg=round(load_kg, 3) if math.isfinite(load_kg) else UNKNOWN_LOAD,
        implement=implement,
        perturbed=word(bout, "perturbed"),
        left_hold=word(bout, "left_hold"),
        right_hold=word(bout, "right_hold"),
    )
    visit = order[word(bout, "participant"), word(bout, "session")]
    start_s = start_s if math.isfinite(start_s) else math.inf
    pain_0_10, reason = number(bout, "pain_0_10"), word(bout, "stop_reason")
    return Place(
        condition, word(bout, "participant"), visit, start_s, number(bout, "cadence_spm"),
        frozenset(filter(None, word(bout, "baseline_bouts").split(";"))),
        ended_early_or_hurt(pain_0_10, reason, pain_limit_0_10),
    )  # fmt: skip

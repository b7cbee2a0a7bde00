"""Figures of foot contacts of invented walkers, a part of `accuracy_simulated`."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from accuracy_row import Figure, at_least, at_most, mean, rms, shown
from accuracy_walkers import BoutMatch, counted

from imucarry.basics.records import FloatArray

CONTACT = "Simulated walkers: foot contacts"


def contact_figures(
    usual: Sequence[BoutMatch], hard: Sequence[BoutMatch], leaning: Sequence[BoutMatch]
) -> list[Figure]:
    """Return the figures of contacts: found or not, side, time."""
    found = []
    for name, bouts in (("", usual), (", hard walks", hard)):
        n_true = counted(bouts, lambda c: c.n_true)
        weak = counted(bouts, lambda c: c.n_weak_missed)
        missed = counted(bouts, lambda c: c.n_missed) - weak
        n_found = counted(bouts, lambda c: c.n_matched + c.n_false)
        wrong = counted(bouts, lambda c: c.n_wrong_side)
        n_matched = counted(bouts, lambda c: c.n_matched)
        n_weak = counted(bouts, lambda c: c.n_weak)
        false = counted(bouts, lambda c: c.n_false)
        late = np.concatenate([_centred(bout) for bout in bouts])
        on = f"{n_true} contacts of {len(bouts)} bouts, turns and stops included"
        inner = n_true - n_weak
        found += [
            at_most(CONTACT, f"contacts missed{name}", 100.0 * missed / inner, 0.5, "%",
                    f"{inner} contacts, without first and closing steps"),
            shown(CONTACT, f"first and closing steps missed{name}", 100.0 * weak / n_weak, "%",
                  f"{n_weak} steps"),
            at_most(CONTACT, f"false contacts{name}", 100.0 * false / n_found, 0.5, "%", on),
            at_most(CONTACT, f"contacts of the wrong side{name}", 100.0 * wrong / n_matched, 0.1,
                    "%", on),
            at_most(CONTACT, f"contact time, each bout's mean removed{name}: RMSE",
                    1e3 * rms(late), 12.0, "ms", on),
        ]  # fmt: skip
    gaps = np.array([_left_minus_right(bout) for bout in leaning])
    on = f"{gaps.size} suitcase carries leaning 4 to 10 deg"
    return [
        *found,
        at_most(CONTACT, "contact time, left minus right under lean and load: mean",
                1e3 * mean(gaps), 2.0, "ms", on),
        shown(CONTACT, "the same, RMS over walkers", 1e3 * rms(gaps), "ms", on),
        at_least(CONTACT, "sensitivity over all of these", _sensitivity([*usual, *hard]), 0.98,
                 "", "every contact, first and closing steps too"),
        at_least(CONTACT, "precision over all of these", _precision([*usual, *hard]), 0.98,
                 "", "every contact found"),
    ]  # fmt: skip


def _centred(bout: BoutMatch) -> FloatArray:
    """Return contact-time errors without the offset that both feet of a bout share."""
    late = bout.contacts.late_s
    return late - late.mean() if late.size else late


def _left_minus_right(bout: BoutMatch) -> float:
    late, left = bout.contacts.late_s, bout.contacts.late_is_left
    return float(late[left].mean() - late[~left].mean())


def _sensitivity(bouts: Sequence[BoutMatch]) -> float:
    return counted(bouts, lambda c: c.n_matched) / counted(bouts, lambda c: c.n_true)


def _precision(bouts: Sequence[BoutMatch]) -> float:
    n_matched = counted(bouts, lambda c: c.n_matched)
    return n_matched / (n_matched + counted(bouts, lambda c: c.n_false))

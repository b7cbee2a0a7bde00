"""Foot contacts of one bout from the trunk's motion: when, and which foot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.evidence import forward
from imucarry.basics.records import BoolArray, Contacts, FloatArray, Notice, TrunkMotion
from imucarry.walk.candidates import contact_jerk, find_candidates, side_evidence
from imucarry.walk.chain import best_chain, step_links, with_closing_steps
from imucarry.walk.grid import grid_factors, on_grid, spectrum_of
from imucarry.walk.likeness import judged_by_likeness
from imucarry.walk.passes import runs
from imucarry.walk.refine import parabola_peak, refine_times
from imucarry.walk.rhythm import step_rhythm
from imucarry.walk.steadied import readings, steadied

GRID_CUTOFF_HZ = 20.0  # keeps all that a contact shows; below the limit of every grid


def find_contacts(trunk: TrunkMotion) -> Contacts:
    """Find the foot contacts of a bout.

    Parameters
    ----------
    trunk : TrunkMotion

    Returns
    -------
    Contacts
        With ``pass_number`` 0 throughout: passes are found from them.

    Notes
    -----
    1. Put the acceleration on a common grid; all bands of it come from one spectrum.
    2. Follow the step period (`walk.rhythm`).
    3. List candidates and what speaks for each (`walk.candidates`).
    4. Choose the best chain with alternating sides (`walk.chain`).
    5. Judge the candidates by their likeness to those chosen, and choose again
       (`walk.likeness`); add closing steps.
    6. Lay each contact on the mean shape for its exact time (`walk.refine`).
    """
    raised, thinned = grid_factors(trunk.rate_hz)
    rate_hz = trunk.rate_hz * raised / thinned
    if trunk.time_s.size < evidence.INTERVAL_MAX_S.value * trunk.rate_hz:
        return no_contacts()
    acc = on_grid(trunk.acc_mps2, trunk.rate_hz, high_hz=GRID_CUTOFF_HZ)
    nearest = np.minimum(np.arange(acc.shape[0]) * thinned // raised, trunk.usable.size - 1)
    spectrum = spectrum_of(acc.T, rate_hz)
    period_s, _ = step_rhythm(spectrum)
    seen = without_short_gaps(trunk.usable, trunk.rate_hz)
    jerk = contact_jerk(spectrum)
    candidates = find_candidates(spectrum, jerk, period_s, seen[nearest])
    links = step_links(candidates, rate_hz)
    chosen, is_left = best_chain(candidates, links)
    candidates = judged_by_likeness(candidates, spectrum, chosen, is_left)
    chosen, is_left = best_chain(candidates, links)
    for _ in range(evidence.CLOSING_STEPS.value):
        chosen, is_left = with_closing_steps(candidates, rate_hz, chosen, is_left)
    if chosen.size == 0:
        return no_contacts()
    centre = parabola_peak(jerk, candidates.index[chosen])
    centre, moment = refine_times(spectrum, centre, is_left)
    time_s = trunk.time_s[0] + centre / rate_hz
    margin = side_margin(candidates.left_evidence[chosen], is_left)
    return Contacts(
        time_s=time_s,
        is_left=is_left,
        pass_number=np.zeros(time_s.size, dtype=np.int64),
        side_margin=margin,
        moment_s=moment / rate_hz,
        notices=side_notices(margin),
    )


def find_all_contacts(trunks: Sequence[TrunkMotion | None]) -> tuple[Contacts, ...]:
    """Find the contacts of all bouts of a session, each at the same moment of the step.

    Parameters
    ----------
    trunks : sequence of TrunkMotion or None
        None where there is no chest sensor.
    """
    known = [trunk for trunk in trunks if trunk is not None]
    found = sides_doubted(known, [most_alike_steps(ways) for ways in readings(known)])
    each = iter(at_one_moment(found))
    return tuple(no_contacts() if trunk is None else next(each) for trunk in trunks)


def most_alike_steps(ways: Sequence[TrunkMotion]) -> Contacts:
    """Return the contacts of one bout, read in the way that shows its steps.

    Parameters
    ----------
    ways : sequence of TrunkMotion
        From `walk.steadied.readings`. A later one has to show clearly more alike steps.
    """
    best, *others = (find_contacts(way) for way in ways)
    for other in others:
        if n_alike_steps(other) > forward.MORE_STEPS_RATIO.value * n_alike_steps(best):
            best = other
    return best


def n_alike_steps(contacts: Contacts) -> int:
    """Return how many steps take about as long as the one before of the same foot."""
    step_s = np.diff(contacts.time_s)
    change = np.abs(np.log(step_s[2:] / step_s[:-2]))
    return int(np.sum(change < np.log(forward.ALIKE_STEPS_RATIO.value)))


def sides_doubted(trunks: Sequence[TrunkMotion], found: Sequence[Contacts]) -> list[Contacts]:
    """Return the contacts, their sides unclear where the sway changes sign without the roll.

    A trunk that rolls away from the standing leg moves a sensor above the hips against the
    hips' sway. Asked of most bouts of a session: the roll of one carry does not settle it.
    """
    margins = [
        steadied_side_margin(trunk, item)
        for trunk, item in zip(trunks, found, strict=True)
        if item.time_s.size >= evidence.SHAPE_LEAST_CONTACTS.value
    ]
    if not margins or np.median(margins) > -1.0:
        return list(found)
    return [replace(item, side_margin=0.0, notices=side_notices(0.0)) for item in found]


def steadied_side_margin(trunk: TrunkMotion, contacts: Contacts) -> float:
    """Return `side_margin` by the sway without the trunk's roll; negative for the other feet."""
    lateral = steadied(trunk.acc_mps2, trunk.gyr_radps, trunk.rate_hz)
    spectrum = spectrum_of(lateral.T, trunk.rate_hz)
    steepest_s = contacts.time_s - contacts.moment_s - trunk.time_s[0]
    index = np.clip(np.rint(steepest_s * trunk.rate_hz), 0, trunk.time_s.size - 1).astype(np.int64)
    step = max(2, round(float(np.median(np.diff(contacts.time_s))) * trunk.rate_hz))
    evidence_left = side_evidence(spectrum, index, np.full(index.size, step))
    agreement = np.where(contacts.is_left, evidence_left, -evidence_left).mean()
    return float(agreement / evidence.SIDE_CLEAR.value)


def at_one_moment(contacts: Sequence[Contacts]) -> tuple[Contacts, ...]:
    """Return the contacts of all bouts of a session, each at the same moment of the step.

    Where the trunk answers weakly, forward acceleration may have its peak near contact in
    one bout and not in the next: a bout whose moment lies far from that of most is moved
    there, for times in the stride would else differ between bouts in which none did.
    """
    found = sorted(item.moment_s for item in contacts if item.time_s.size)
    if not found:
        return tuple(contacts)
    # The median, and of two in the middle the one nearer to where contact usually is.
    middle = found[(len(found) - 1) // 2 : len(found) // 2 + 1]
    usual_s = min(middle, key=lambda moment: abs(moment + evidence.CONTACT_DELAY_S.value))
    apart_s = evidence.MOMENT_APART_S.value
    return tuple(
        replace(item, time_s=item.time_s + (usual_s - item.moment_s), moment_s=usual_s)
        if item.time_s.size and abs(item.moment_s - usual_s) > apart_s
        else item
        for item in contacts
    )


def without_short_gaps(usable: BoolArray, rate_hz: float) -> BoolArray:
    """Return `usable` with gaps filled that are too short to hide a contact.

    The signal on both sides still shows it; strides that the gap touches are
    left out all the same.
    """
    seen = usable.copy()
    for first, last in runs(~usable):
        if last - first < evidence.GAP_SEEN_THROUGH_S.value * rate_hz:
            seen[first:last] = True
    return seen


def no_contacts() -> Contacts:
    """Return the contacts of a bout in which there are none."""
    return Contacts(
        time_s=np.empty(0), is_left=np.empty(0, bool), pass_number=np.empty(0, dtype=np.int64)
    )


def side_margin(left_evidence: FloatArray, is_left: BoolArray) -> float:
    """Return how clearly the sides were told apart: 0 a toss-up, from 1 on clear."""
    agreement = np.where(is_left, left_evidence, -left_evidence).mean()
    return float(max(agreement, 0.0) / evidence.SIDE_CLEAR.value)


def side_notices(margin: float) -> tuple[Notice, ...]:
    """Return a notice where left and right may be swapped."""
    if margin >= 1.0:
        return ()
    message = (
        "The trunk's sway hardly tells the left foot from the right: "
        "the left and the right foot may be swapped in this bout."
    )
    return (Notice(code="side_unclear", message=message, severity="check"),)

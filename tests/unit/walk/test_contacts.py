"""Foot contacts of a trunk whose steps are known."""

from __future__ import annotations

import numpy as np
import pytest
from stepping_trunk import stepping, told_contacts

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.records import Contacts
from imucarry.basics.settings import WalkSettings
from imucarry.walk.candidates import peaks
from imucarry.walk.contacts import (
    at_one_moment,
    find_contacts,
    no_contacts,
    side_notices,
    without_short_gaps,
)
from imucarry.walk.grid import filtered, grid_factors, moving_mean, on_grid, spectrum_of
from imucarry.walk.refine import best_shift, braking, parabola_peak
from imucarry.walk.rhythm import step_rhythm

SETTINGS = WalkSettings()


def found_and_told(walk):
    """Return the contacts found, and for each told one the index of the nearest found."""
    found = find_contacts(walk.trunk)
    nearest = np.abs(found.time_s[:, None] - walk.contact_s).argmin(axis=0)
    return found, nearest


@pytest.mark.parametrize("rate_hz", [25.0, 52.0, 100.0, 104.3, 285.7, 400.0])
def test_every_contact_at_every_rate(rate_hz):
    walk = stepping(told_contacts(step_s=0.55, n=24), rate_hz=rate_hz)
    found, nearest = found_and_told(walk)
    assert found.time_s.size == walk.contact_s.size
    np.testing.assert_array_equal(found.is_left[nearest], walk.is_left)
    late = found.time_s[nearest] - walk.contact_s
    # One offset common to all is the answer's delay. What is left is a small part of a
    # sample, also at 25 Hz, where samples taken at an instant alias the edge at contact.
    assert np.std(late[1:-1]) < max(0.003, 0.15 / rate_hz)
    assert found.side_margin > 1.0


@pytest.mark.parametrize("step_s", [0.27, 0.35, 0.5, 0.7, 0.95])
def test_every_contact_at_every_cadence(step_s):
    walk = stepping(told_contacts(step_s=step_s, n=24))
    found, nearest = found_and_told(walk)
    assert found.time_s.size == walk.contact_s.size
    np.testing.assert_array_equal(found.is_left[nearest], walk.is_left)


def test_a_cadence_that_changes_within_the_bout():
    contact_s = 3.0 + np.cumsum(np.linspace(0.75, 0.4, 30))
    walk = stepping(contact_s)
    found, nearest = found_and_told(walk)
    assert found.time_s.size == walk.contact_s.size
    np.testing.assert_array_equal(found.is_left[nearest], walk.is_left)


def test_left_and_right_swap_with_the_sway():
    walk = stepping(told_contacts(), left_first=False)
    found, nearest = found_and_told(walk)
    np.testing.assert_array_equal(found.is_left[nearest], walk.is_left)
    assert not walk.is_left[0]


def test_unequal_steps_stay_unequal():
    # 30 ms from right to left against left to right: 5 % of a step.
    step_s = np.tile([0.535, 0.565], 14)
    walk = stepping(3.0 + np.cumsum(step_s))
    found, nearest = found_and_told(walk)
    late, is_left = (found.time_s[nearest] - walk.contact_s)[2:-2], walk.is_left[2:-2]
    # The trunk's answer stretches with the step, which hides about a tenth of the 30 ms.
    assert abs(late[is_left].mean() - late[~is_left].mean()) < 0.0045


def test_nothing_in_standing():
    rng = np.random.default_rng(4)
    walk = stepping(np.empty(0), length_s=60.0, noise=0.05 * rng.standard_normal((6000, 3)))
    assert find_contacts(walk.trunk).time_s.size == 0


def test_a_stop_has_no_contacts_and_sides_start_afresh():
    first, second = told_contacts(n=12), told_contacts(n=12, start_s=14.0)
    walk = stepping(np.concatenate([first, second]), left_again=12)
    found, nearest = found_and_told(walk)
    inside = (found.time_s > first[-1] + 0.9) & (found.time_s < second[0] - 0.3)
    assert not inside.any()
    # The two runs begin with the same foot, so that the sides do not alternate over the stop.
    assert walk.is_left[11] == walk.is_left[1]
    np.testing.assert_array_equal(found.is_left[nearest], walk.is_left)


def test_a_gap_gets_no_contacts_and_the_rest_keeps_its_sides():
    walk = stepping(told_contacts(n=30), gap_s=(9.0, 11.0))
    found, nearest = found_and_told(walk)
    assert not ((found.time_s > 9.1) & (found.time_s < 10.9)).any()
    outside = (walk.contact_s < 8.7) | (walk.contact_s > 11.3)
    np.testing.assert_array_equal(found.is_left[nearest][outside], walk.is_left[outside])
    assert np.abs(found.time_s[nearest] - walk.contact_s)[outside].max() < 0.08


def test_a_gap_is_seen_through_when_it_is_short():
    usable = np.ones(400, dtype=bool)
    usable[100:120] = False
    usable[200:260] = False
    seen = without_short_gaps(usable, 100.0)
    assert seen[100:120].all()
    assert not seen[200:260].any()


def test_sides_that_cannot_be_told_are_said():
    walk = stepping(told_contacts(), sway=0.0)
    found = find_contacts(walk.trunk)
    assert found.side_margin < 1.0
    assert [notice.code for notice in found.notices] == ["side_unclear"]
    assert "the left and the right foot may be swapped" in found.notices[0].message
    assert side_notices(1.2) == ()


def test_too_short_a_bout():
    walk = stepping(np.empty(0), length_s=0.5)
    assert find_contacts(walk.trunk).time_s.size == 0


# --- the parts -------------------------------------------------------------------


def test_the_step_period_is_followed():
    walk = stepping(told_contacts(step_s=0.6, n=30))
    period_s, strength = step_rhythm(spectrum_of(walk.trunk.acc_mps2.T, 100.0))
    middle = slice(600, 1500)
    assert np.abs(period_s[middle] / 0.6 - 1.0).max() < 0.05
    assert strength[middle].min() > 0.5
    assert strength[:50].max() < 0.2


@pytest.mark.parametrize("step_s", [0.55, 0.6])
def test_the_step_period_of_a_limp_is_not_halved(step_s):
    phase = np.pi * np.arange(2000) / 100.0 / step_s
    dips = 1.5 * np.cos(phase) + 2.0 * np.cos(4.0 * phase)  # on one leg, and within each step
    acc = np.stack([0.5 * np.sin(2.0 * phase), 0.2 * np.sin(phase), dips])
    period_s, _ = step_rhythm(spectrum_of(acc, 100.0))
    np.testing.assert_allclose(period_s, step_s, rtol=0.05)


def test_the_step_period_of_a_slow_walk_is_not_halved():
    walk = stepping(told_contacts(step_s=1.2, n=24))
    period_s, _ = step_rhythm(spectrum_of(walk.trunk.acc_mps2.T, 100.0))
    np.testing.assert_allclose(period_s[600:2400], 1.2, rtol=0.05)


@pytest.mark.parametrize(
    ("rate_hz", "factors"),
    [(25.0, (4, 1)), (52.0, (2, 1)), (99.9, (1, 1)), (100.0, (1, 1)), (104.3, (1, 1)),
     (200.0, (1, 2)), (285.7, (1, 2)), (400.0, (1, 4))],
)  # fmt: skip
def test_the_common_grid(rate_hz, factors):
    assert grid_factors(rate_hz) == factors


def test_a_tone_on_the_grid_keeps_its_size_and_place():
    time_s = np.arange(500) / 25.0
    raised = on_grid(np.sin(2 * np.pi * 2.0 * time_s), 25.0, high_hz=20.0)
    expected = np.sin(2 * np.pi * 2.0 * np.arange(raised.size) / 100.0)
    # The low-pass of 20 Hz takes 1e-4 of a tone of 2 Hz.
    assert np.abs(raised - expected)[200:-200].max() < 2e-3


def test_a_filter_has_no_lag():
    x = np.exp(-0.5 * ((np.arange(401) - 200) / 10.0) ** 2)
    smooth = filtered(x, 100.0, low_hz=0.2, high_hz=5.0)
    assert smooth.argmax() == 200
    np.testing.assert_allclose(smooth[:200], smooth[:200:-1], atol=1e-9)


def test_a_moving_mean_at_the_ends():
    np.testing.assert_allclose(moving_mean(np.array([1.0, 2.0, 6.0]), 3), [1.5, 3.0, 4.0])


def test_peaks_and_their_parabola():
    x = -((np.arange(9) - 4.3) ** 2)
    assert peaks(x).tolist() == [4]
    # A parabola's own peak is found exactly.
    assert parabola_peak(x, peaks(x))[0] == pytest.approx(4.3)


def test_the_best_shift_lies_between_the_tried_ones():
    tried = np.arange(-5, 6)
    error = (tried - 1.7) ** 2
    assert best_shift(error[None, :].astype(float), 1.0)[0] == pytest.approx(1.7)


@pytest.mark.parametrize("peak_s", [-0.05, 0.0, 0.03])
def test_contact_is_where_the_braking_begins(peak_s):
    time_s = np.arange(1000) / 100.0
    forward = np.cos(2.0 * np.pi * (time_s - peak_s) / 0.5)[None]
    moved = np.arange(100.0, 900.0, 50.0)
    shift_s = braking(forward, 100.0, moved) / 100.0
    assert shift_s == pytest.approx(peak_s + evidence.BRAKING_DELAY_S.value, abs=1e-3)


@pytest.mark.parametrize("sign", [-1.0, 1.0])
def test_a_push_that_only_rises_or_falls_gives_the_usual_delay(sign):
    # A sawtooth whose jump lies outside of the search.
    phase = (np.arange(1000) / 50.0 + 0.5) % 1.0
    shift_s = braking(sign * phase[None], 100.0, np.arange(100.0, 900.0, 50.0)) / 100.0
    assert shift_s == -evidence.CONTACT_DELAY_S.value


def contacts_at(moment_s, n=6):
    time_s = 1.0 + 0.5 * np.arange(n) + moment_s
    return Contacts(time_s, np.arange(n) % 2 == 0, np.zeros(n, np.int64), moment_s=moment_s)


def test_one_moment_of_the_step_is_taken_in_all_bouts():
    bouts = [contacts_at(m) for m in (-0.018, -0.070, -0.022, -0.014)]
    got = at_one_moment([*bouts, no_contacts()])
    np.testing.assert_allclose(got[1].time_s, bouts[1].time_s + 0.052)  # to -0.018
    assert got[1].moment_s == pytest.approx(-0.018)
    assert [a is b for a, b in zip(got[:4], bouts, strict=True)] == [True, False, True, True]
    assert got[4].time_s.size == 0


def test_of_two_bouts_the_usual_moment_is_taken():
    bouts = [contacts_at(-0.070), contacts_at(-0.018)]
    assert [item.moment_s for item in at_one_moment(bouts)] == [-0.018, -0.018]


def test_bouts_without_contacts_have_no_moment():
    assert at_one_moment([]) == ()
    assert at_one_moment([no_contacts()])[0].time_s.size == 0

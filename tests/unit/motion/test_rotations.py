"""Quaternions, checked against scipy's rotations and against closed forms."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from imucarry.motion import pairs, rotations

# Rounding of some hundred products of unit quaternions.
TINY = 1e-13


def some_quats(n: int, seed: int = 1) -> np.ndarray:
    return rotations.normalize(np.random.default_rng(seed).normal(size=(n, 4)))


def as_scipy(quat: np.ndarray) -> Rotation:
    return Rotation.from_quat(quat[..., [1, 2, 3, 0]])


def test_a_product_turns_by_the_second_and_then_by_the_first() -> None:
    first, second = some_quats(50, 1), some_quats(50, 2)
    ours = rotations.to_matrix(rotations.multiply(first, second))
    assert np.allclose(ours, (as_scipy(first) * as_scipy(second)).as_matrix(), atol=TINY)


def test_vectors_turn_as_scipy_turns_them() -> None:
    quat, vector = some_quats(40), np.random.default_rng(3).normal(size=(40, 3))
    assert np.allclose(rotations.rotate(quat, vector), as_scipy(quat).apply(vector), atol=TINY)
    one = rotations.rotate(quat, vector[0])
    assert np.allclose(one, as_scipy(quat).apply(vector[0]), atol=TINY)


def test_matrices_from_both_forms_are_scipys() -> None:
    quat = some_quats(30)
    want = as_scipy(quat).as_matrix()
    assert np.allclose(rotations.to_matrix(quat), want, atol=TINY)
    squares = pairs.pair_squares(pairs.as_pair(quat))
    assert np.allclose(pairs.matrix_from_squares(squares).transpose(2, 0, 1), want, atol=TINY)


@pytest.mark.parametrize("n", [1, 2, 3, 24, 25, 26, 47, 48, 49, 50, 97, 1000])
def test_a_running_product_is_the_product_one_by_one(n: int) -> None:
    quat = some_quats(n)
    want = [quat[0]]
    for step in quat[1:]:
        want.append(rotations.multiply(want[-1], step))
    got = pairs.from_pair(pairs.running_product(pairs.as_pair(quat)))
    assert np.allclose(got, np.array(want), atol=1e-12)


def test_a_running_product_leaves_its_input_alone() -> None:
    quat = some_quats(100)
    before = quat.copy()
    pairs.running_product(pairs.as_pair(quat))
    assert np.array_equal(quat, before)


def test_rotation_vectors_are_scipys_and_zero_is_no_turn() -> None:
    vector = np.random.default_rng(5).normal(size=(20, 3))
    got = rotations.to_matrix(rotations.from_rotation_vector(vector))
    assert np.allclose(got, Rotation.from_rotvec(vector).as_matrix(), atol=TINY)
    assert rotations.from_rotation_vector(np.zeros(3)).tolist() == [1.0, 0.0, 0.0, 0.0]


def test_the_shortest_arc_turns_one_direction_to_the_other_and_no_more() -> None:
    rng = np.random.default_rng(7)
    start = rotations.normalize(rng.normal(size=(50, 3)))
    end = rotations.normalize(rng.normal(size=(50, 3)))
    arc = rotations.shortest_arc(start, end)
    assert np.allclose(rotations.rotate(arc, start), end, atol=1e-12)
    angle = np.arccos(np.clip((start * end).sum(axis=1), -1, 1))
    assert np.allclose(2 * np.arccos(np.clip(arc[:, 0], -1, 1)), angle, atol=1e-7)


def test_the_arc_between_opposite_directions_is_a_half_turn() -> None:
    start = np.concatenate([np.eye(3), -np.eye(3)])
    arc = rotations.shortest_arc(start, -start)
    assert np.allclose(rotations.rotate(arc, start), -start, atol=1e-12)


def test_one_quaternion_may_turn_many_vectors() -> None:
    quat, vector = some_quats(1)[0], np.random.default_rng(3).normal(size=(6, 3))
    assert np.allclose(rotations.rotate(quat, vector), as_scipy(quat).apply(vector), atol=TINY)


def test_one_quaternion_may_turn_one_vector() -> None:
    quat, vector = some_quats(1)[0], np.array([1.0, -2.0, 0.5])
    assert np.allclose(rotations.rotate(quat, vector), as_scipy(quat).apply(vector), atol=TINY)
    twice = rotations.multiply(quat, quat)
    assert np.allclose(rotations.rotate(twice, vector), (as_scipy(quat) ** 2).apply(vector))

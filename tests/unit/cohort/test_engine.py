"""Tasks through real processes: nothing is lost when a worker is killed."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from cohort_work import blas_threads, die_if_told, die_once, echo

from imucarry.basics.errors import OutputError
from imucarry.basics.settings import Settings
from imucarry.cohort.cluster import run_on_dask
from imucarry.cohort.engine import KILLED
from imucarry.cohort.local import run_locally
from imucarry.cohort.task import Task


def tasks(names: list[str], folder: Path) -> list[Task]:
    return [
        Task(k, name, folder, folder / "out", folder / f"{k}.json", Settings())
        for k, name in enumerate(names)
    ]


def test_every_task_is_done_once(tmp_path: Path) -> None:
    names = [f"s{k}" for k in range(12)]
    outcomes = list(run_locally(tasks(names, tmp_path), 2, work=echo))
    assert sorted(outcome.number for outcome in outcomes) == list(range(12))
    assert {outcome.number: outcome.message for outcome in outcomes} == dict(enumerate(names))


def test_a_killed_worker_costs_only_its_own_task(tmp_path: Path) -> None:
    names = [f"s{k}" for k in range(10)]
    names[3] = names[8] = "kill"
    outcomes = list(run_locally(tasks(names, tmp_path), 2, work=die_if_told))
    assert len(outcomes) == 10
    failed = {outcome.number: outcome for outcome in outcomes if outcome.error}
    assert set(failed) == {3, 8}
    assert all(outcome.error == KILLED and not outcome.lasting for outcome in failed.values())


def test_a_task_that_was_killed_by_chance_is_done_again(tmp_path: Path) -> None:
    outcomes = list(run_locally(tasks(["a", "kill", "b"], tmp_path), 2, work=die_once))
    assert sorted(outcome.number for outcome in outcomes) == [0, 1, 2]
    assert not any(outcome.error for outcome in outcomes)


def test_workers_hold_blas_to_one_thread(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("OPENBLAS_NUM_THREADS", "7")
    (outcome,) = run_locally(tasks(["a"], tmp_path), 1, work=blas_threads)
    assert outcome.message == "1"
    assert os.environ["OPENBLAS_NUM_THREADS"] == "7"


def test_a_dask_cluster_that_does_not_answer_is_said(tmp_path: Path) -> None:
    pytest.importorskip("distributed")
    with pytest.raises(OutputError, match="no dask cluster"):
        list(run_on_dask(tasks(["a"], tmp_path), "not-an-address://x", work=echo))

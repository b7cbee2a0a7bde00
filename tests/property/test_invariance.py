"""What must not change a score: how the sensor is mounted, when the clock starts, which unit
the file is in, how long the person stands beforehand. Swapping the sides swaps the scores."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from imucarry.basics.records import Recording, Session
from imucarry.basics.settings import Settings
from imucarry.pipeline import run
from imucarry.readers.session import read_session
from imucarry.simulate.demo import demo_spec
from imucarry.simulate.session import simulate_session
from imucarry.tables.build import bout_summary, strides

SETTINGS = Settings()
QUANTITIES = ("sternum_yaw_range_deg", "left_arm_swing_deg", "right_arm_swing_deg")


@pytest.fixture(scope="module")
def session() -> Session:
    simulated = simulate_session(demo_spec(), 11)
    rows = simulated.bout_rows[:4]
    end_s = rows[-1].end_s + 5.0
    recordings = tuple(cut(recording, end_s) for recording in simulated.recordings)
    return Session("P", "1", recordings, bout_rows=rows)


def cut(recording: Recording, end_s: float) -> Recording:
    n = int(np.searchsorted(recording.time_s, end_s))
    return replace(
        recording,
        time_s=recording.time_s[:n].copy(),
        acc_mps2=recording.acc_mps2[:n].copy(),
        gyr_radps=recording.gyr_radps[:n].copy(),
        gaps=tuple(gap for gap in recording.gaps if gap[1] <= n),
        acc_clipped=tuple(part for part in recording.acc_clipped if part[1] <= n),
        gyr_clipped=tuple(part for part in recording.gyr_clipped if part[1] <= n),
    )


@pytest.fixture(scope="module")
def plain(session: Session) -> dict[str, np.ndarray]:
    return per_stride(session)


def per_stride(session: Session) -> dict[str, np.ndarray]:
    table = strides(run(session, SETTINGS))
    names = ("start_s", "kept_yaw", *QUANTITIES)
    return {name: np.array(table[name], float) for name in names}


def same(found: dict[str, np.ndarray], plain: dict[str, np.ndarray], *, deg: float) -> None:
    assert found["start_s"].size == plain["start_s"].size
    np.testing.assert_array_equal(found["kept_yaw"], plain["kept_yaw"])
    for name in QUANTITIES:
        np.testing.assert_allclose(found[name], plain[name], atol=deg)


def random_rotation(seed: int) -> np.ndarray:
    q, r = np.linalg.qr(np.random.default_rng(seed).normal(size=(3, 3)))
    q = q * np.sign(np.diag(r))
    return q if np.linalg.det(q) > 0 else -q


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_remounting_every_sensor(session: Session, plain: dict[str, np.ndarray], seed: int) -> None:
    turned = tuple(
        replace(
            recording,
            acc_mps2=recording.acc_mps2 @ random_rotation(10 * seed + k).T,
            gyr_radps=recording.gyr_radps @ random_rotation(10 * seed + k).T,
        )
        for k, recording in enumerate(session.recordings)
    )
    # Rounding decides whether a block at the very edge of rest counts as rest; one block
    # moves the estimated bias by about 1e-4 rad/s.
    same(per_stride(replace(session, recordings=turned)), plain, deg=0.05)


def test_the_unit_of_a_file(tmp_path_factory: pytest.TempPathFactory) -> None:
    """The same samples in g and deg/s give the same scores as in m/s^2 and rad/s."""
    example = Path(__file__).parents[2] / "data" / "example"
    found = []
    for acc, gyr, units in (
        (1.0, 1.0, ("mps2", "radps")),
        (1 / 9.80665, 180 / np.pi, ("g", "dps")),
    ):
        folder = tmp_path_factory.mktemp("units")
        for source in example.iterdir():
            if source.suffix == ".csv" and source.stem not in ("bouts", "rom"):
                table = pd.read_csv(source).to_numpy()
                scaled = np.column_stack([table[:, :1], acc * table[:, 1:4], gyr * table[:, 4:7]])
                names = [
                    f"{kind}_{axis}_{unit}"
                    for kind, unit in zip(("acc", "gyr"), units, strict=True)
                    for axis in "xyz"
                ]
                pd.DataFrame(scaled, columns=["time_s", *names]).to_csv(
                    folder / source.name, index=False
                )
            else:
                (folder / source.name).write_bytes(source.read_bytes())
        found.append(per_stride(read_session(folder)))
    same(found[1], found[0], deg=1e-4)


@pytest.mark.parametrize("shift_s", [-3.7, 86400.0])
def test_shifting_the_clock(session: Session, plain: dict[str, np.ndarray], shift_s: float) -> None:
    moved = replace(
        session,
        recordings=tuple(replace(r, time_s=r.time_s + shift_s) for r in session.recordings),
        bout_rows=tuple(
            replace(row, start_s=row.start_s + shift_s, end_s=row.end_s + shift_s)
            for row in session.bout_rows or ()
        ),
    )
    found = per_stride(moved)
    # A sample more or less at a bout's edge is possible when the shift rounds.
    same(found, plain, deg=0.02)
    np.testing.assert_allclose(found["start_s"] - shift_s, plain["start_s"], atol=2e-3)


def test_standing_longer_at_the_end(session: Session, plain: dict[str, np.ndarray]) -> None:
    rest_s = 10.0
    longer = []
    for recording in session.recordings:
        n_still = int(2.0 * recording.rate_hz)
        n_rest = int(rest_s * recording.rate_hz)
        rng = np.random.default_rng(5)
        pick = rng.integers(1, n_still, n_rest)
        time_s = recording.time_s[-1] + np.arange(1, n_rest + 1) / recording.rate_hz
        longer.append(
            replace(
                recording,
                time_s=np.concatenate([recording.time_s, time_s]),
                acc_mps2=np.concatenate([recording.acc_mps2, recording.acc_mps2[-pick]]),
                gyr_radps=np.concatenate([recording.gyr_radps, recording.gyr_radps[-pick]]),
            )
        )
    # More rest improves the estimated gyroscope bias a little, no more.
    same(per_stride(replace(session, recordings=tuple(longer))), plain, deg=0.1)


def test_swapping_the_sides(session: Session) -> None:
    """A mirrored person: lateral axes turned over, wrists exchanged."""
    mirror = np.array([1.0, -1.0, 1.0])
    other = {"left_wrist": "right_wrist", "right_wrist": "left_wrist", "chest": "chest"}
    swapped_side = {"left": "right", "right": "left", "none": "none", "both": "both"}
    mirrored = tuple(
        replace(
            recording,
            placement=other[recording.placement],
            acc_mps2=recording.acc_mps2 * mirror,
            # Angular rate is an axial vector: mirroring turns its other two axes over.
            gyr_radps=recording.gyr_radps * -mirror,
        )
        for recording in session.recordings
    )
    rows = tuple(
        replace(row, loaded_side=swapped_side[row.loaded_side]) for row in session.bout_rows or ()
    )
    before = bout_summary(run(session, SETTINGS))
    after = bout_summary(run(replace(session, recordings=mirrored, bout_rows=rows), SETTINGS))
    pairs = [
        ("sternum_yaw_range_deg", "sternum_yaw_range_deg", 1),
        ("left_arm_swing_deg", "right_arm_swing_deg", 1),
        ("right_arm_swing_deg", "left_arm_swing_deg", 1),
        ("cadence_spm", "cadence_spm", 1),
        ("step_time_asymmetry_pct", "step_time_asymmetry_pct", -1),
    ]
    # Strides run from left to left contact, so the mirrored ones are shifted by a step.
    for name, mirrored_name, sign in pairs:
        np.testing.assert_allclose(
            np.array(after[mirrored_name], float),
            sign * np.array(before[name], float),
            rtol=0.03,
            atol=0.5,
        )
    assert after["rotation_finding"] == before["rotation_finding"]

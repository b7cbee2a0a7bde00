"""Tilt and total error of every filter against optics, on the open board recordings.

    python scripts/accuracy_orientation.py [FOLDER]

FOLDER holds ``board_optical/`` (Laidig et al. 2021, Data 6(7):72): a board moved by
hand, six trials. Real recordings, with optical truth; a board is no person, and says
nothing about straps and skin. The filter of the library `vqf` (offline mode) is
measured the same way, as an oracle.

The optical system and the sensor run apart by a constant time. It is measured from the
angular speed alone, which no tilt or heading enters, is the same in all six trials to
0.02 ms, and both figures are given: with the clocks as published, and aligned.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import vqf
from accuracy_row import rms
from scipy.io import loadmat

from imucarry.basics.records import BoolArray, FloatArray, Recording
from imucarry.basics.settings import MotionSettings
from imucarry.basics.units import DEG_PER_RAD
from imucarry.motion import rotations
from imucarry.motion.orientation import FILTERS, estimate_orientation, integrate

OPEN_DATA = Path(__file__).resolve().parents[2] / "shared" / "data"
# Angular speed is compared over turns of this many samples (50 ms).
SPEED_SAMPLES = 14

Filter = Callable[[Recording], FloatArray]


def rows(folder: Path = OPEN_DATA) -> list[dict[str, Any]]:
    """Measure every filter offered and the oracle.

    Parameters
    ----------
    folder : Path
        Holds ``board_optical/*.mat``.

    Returns
    -------
    list of dict
        One row a filter and clock: ``filter, gyro_sample, clock`` ("as published" or
        "aligned"), ``tilt_deg, total_deg`` (root mean square in the movement phases,
        mean over trials), ``tilt_by_trial_deg, total_by_trial_deg, clock_ms``.
    """
    trials = [load(path) for path in sorted((folder / "board_optical").glob("*.mat"))]
    shifts = [clock_shift(*trial) for trial in trials]
    result = []
    for name, gyro_sample, run in _filters():
        quats = [run(recording) for recording, _, _ in trials]
        for clock, used in (("as published", [0.0] * len(trials)), ("aligned", shifts)):
            errors = [
                errors_deg(shifted(quat, shift), optical, moving)
                for quat, shift, (_, optical, moving) in zip(quats, used, trials, strict=True)
            ]
            tilt, total = np.array(errors).T
            result.append(
                {
                    "filter": name,
                    "gyro_sample": gyro_sample,
                    "clock": clock,
                    "tilt_deg": float(tilt.mean()),
                    "total_deg": float(total.mean()),
                    "tilt_by_trial_deg": tilt.tolist(),
                    "total_by_trial_deg": total.tolist(),
                    "clock_ms": [
                        1e3 * shift / recording.rate_hz
                        for shift, (recording, _, _) in zip(used, trials, strict=True)
                    ],
                }
            )
    return result


def _filters() -> list[tuple[str, str, Filter]]:
    def ours(name: str, gyro_sample: str) -> Filter:
        settings = MotionSettings(filter=name, gyro_sample=gyro_sample)
        return lambda recording: estimate_orientation(recording, settings).quat

    def oracle(recording: Recording) -> FloatArray:
        result = vqf.offlineVQF(
            recording.gyr_radps.copy(), recording.acc_mps2.copy(), None, 1 / recording.rate_hz
        )
        return np.asarray(result["quat6D"], dtype=np.float64)

    default = MotionSettings().gyro_sample
    listed = [(name, default, ours(name, default)) for name in FILTERS]
    listed.append(("levelled", "instant", ours("levelled", "instant")))
    listed.append(("vqf offline (oracle)", "mean_since_last", oracle))
    return listed


def load(path: Path) -> tuple[Recording, FloatArray, BoolArray]:
    """Return one trial: the sensor, the optical quaternions (NaN: not seen), the movement."""
    trial = loadmat(path)
    rate_hz = float(np.squeeze(trial["sampling_rate"]))
    gyr = np.array(trial["imu_gyr"], dtype=np.float64, order="C")
    recording = Recording(
        placement="chest",
        rate_hz=rate_hz,
        time_s=np.arange(gyr.shape[0]) / rate_hz,
        acc_mps2=np.array(trial["imu_acc"], dtype=np.float64, order="C"),
        gyr_radps=gyr,
    )
    optical = np.array(trial["opt_quat"], dtype=np.float64, order="C")
    return recording, optical, np.squeeze(trial["movement"]).astype(bool)


def errors_deg(quat: FloatArray, optical: FloatArray, moving: BoolArray) -> tuple[float, float]:
    """Return the root mean square of tilt and, after one heading alignment, of the whole error."""
    used = moving & np.isfinite(optical).all(axis=1)
    apart = rotations.multiply(quat[used], rotations.conjugate(optical[used]))
    tilt = 2 * np.arccos(np.minimum(1, np.hypot(apart[:, 0], apart[:, 3])))
    turn = np.angle(np.exp(2j * np.arctan2(apart[:, 3], apart[:, 0])).mean())
    rest = rotations.multiply(rotations.about_vertical(-turn), apart)
    total = 2 * np.arccos(np.minimum(1, np.abs(rest[:, 0])))
    return rms(tilt) * DEG_PER_RAD, rms(total) * DEG_PER_RAD


def clock_shift(recording: Recording, optical: FloatArray, moving: BoolArray) -> float:
    """Return by how many samples the sensor lags the optics, from the angular speed alone.

    Notes
    -----
    Gauss-Newton on the angle turned in 50 ms: no tilt, heading or bias of an axis
    enters beyond a constant. Spikes of the optics (over 1.5 deg) are left out.
    """
    quat, _ = integrate.integrate(
        recording.acc_mps2,
        recording.gyr_radps,
        rate_hz=recording.rate_hz,
        block_rate_hz=10,
        gyro_sample="mean_since_last",
    )
    ours, theirs = _turned(quat), _turned(optical)
    index = np.arange(ours.size)
    used = np.isfinite(theirs) & moving[: ours.size]
    shift = 0.0
    for _ in range(5):
        moved = np.interp(index + shift, index, ours)
        apart, slope = (theirs - moved)[used], np.gradient(moved)[used]
        kept = np.abs(apart) < np.deg2rad(1.5)
        shift += float(apart[kept] @ slope[kept] / (slope[kept] @ slope[kept]))
    return shift


def _turned(quat: FloatArray) -> FloatArray:
    step = rotations.multiply(rotations.conjugate(quat[:-SPEED_SAMPLES]), quat[SPEED_SAMPLES:])
    return np.asarray(2 * np.arcsin(np.minimum(1, np.linalg.norm(step[:, 1:], axis=1))))


def shifted(quat: FloatArray, shift: float) -> FloatArray:
    """Return orientations `shift` samples later, between samples on the chord."""
    place = np.clip(np.arange(quat.shape[0]) + shift, 0, quat.shape[0] - 1)
    first = np.minimum(place.astype(np.int64), quat.shape[0] - 2)
    share = (place - first)[:, None]
    start, end = quat[first], quat[first + 1]
    end = end * np.where((start * end).sum(axis=1, keepdims=True) < 0, -1.0, 1.0)
    return rotations.normalize(start + share * (end - start))


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", nargs="?", type=Path, default=OPEN_DATA)
    folder = parser.parse_args().folder
    if not (folder / "board_optical").is_dir():
        parser.exit(2, f"no board_optical/ in {folder}\n")
    print("filter                rate sample      clock         tilt    total   clock shift")
    for row in rows(folder):
        low, high = min(row["clock_ms"]), max(row["clock_ms"])
        print(
            f"{row['filter']:21} {row['gyro_sample']:16} {row['clock']:12} "
            f"{row['tilt_deg']:5.2f} {row['total_deg']:7.2f} deg  {low:.2f} to {high:.2f} ms"
        )


if __name__ == "__main__":
    main()

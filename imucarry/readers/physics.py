"""What the numbers themselves say: units, gravity, rest, the ends of the range."""

from __future__ import annotations

import numpy as np

from imucarry.basics.errors import InputError, UnitError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoolArray, FloatArray
from imucarry.basics.units import ACC_UNITS_MPS2, GYR_UNITS_RADPS
from imucarry.readers.levels import block_means, gravity_level, gravity_share

AXES = "xyz"


def acc_unit(values: FloatArray, stated: str, file: str) -> tuple[str, str]:
    """Return the unit of an acceleration and the rule by which it was found.

    Parameters
    ----------
    values : ndarray, shape (N, 3)
        As written in the file.
    stated : str
        Unit that the header or the session file states, or "".

    Raises
    ------
    UnitError
        If no unit makes the mean acceleration gravity, or the stated one contradicts it.
    """
    level = gravity_level(values)
    if stated:
        in_g = level * ACC_UNITS_MPS2[stated] / ACC_UNITS_MPS2["g"]
        factor = evidence.ACC_CONTRADICTION.value
        if not 1 / factor <= in_g <= factor and has_gravity(values):
            raise UnitError(
                f"acceleration stated in {stated} averages {level:.4g}, {in_g:.3g} times gravity;"
                " state the true acc_unit (m/s^2, g, mg) in session.toml",
                file=file,
                where="accelerometer columns",
            )
        return stated, ""
    low, high = evidence.ACC_LEVELS_MPS2.value
    for unit in ("m/s^2", "g", "mg"):
        if low <= level * ACC_UNITS_MPS2[unit] <= high and has_gravity(values):
            return unit, f"resting acceleration of {level:.4g} is gravity in {unit}"
    if not has_gravity(values):
        raise InputError(_no_gravity(level), file=file, where="accelerometer columns")
    raise UnitError(
        f"the unit of acceleration is not stated and its mean of {level:.4g} is gravity in none of"
        " m/s^2, g, mg; state acc_unit (and acc_scale for raw counts) in session.toml",
        file=file,
        where="accelerometer columns",
    )


def has_gravity(values: FloatArray) -> bool:
    """Whether the mean vector over a second or so is most of the acceleration."""
    return gravity_share(values) >= evidence.GRAVITY_SHARE.value


def require_gravity(acc_mps2: FloatArray, file: str) -> None:
    """Refuse acceleration from which gravity was taken out: tilt cannot be told.

    Raises
    ------
    InputError
        If the mean acceleration over a second or so is far below gravity.
    """
    level = gravity_level(acc_mps2)
    if not has_gravity(acc_mps2) or level < evidence.ACC_LEVELS_MPS2.value[0] / 2:
        raise InputError(_no_gravity(level), file=file, where="accelerometer columns")


def _no_gravity(level: float) -> str:
    return (
        f"gravity seems removed from the acceleration (its mean over a second is {level:.3g}), so"
        " tilt cannot be told; export the acceleration with gravity"
    )


def gyr_unit(
    values: FloatArray, acc_mps2: FloatArray | None, period_s: float, stated: str, file: str
) -> tuple[str, str]:
    """Return the unit of an angular rate and the rule by which it was found.

    Notes
    -----
    1. Rates of the liveliest seconds must be plausible for a walking person.
    2. Where more than one unit is, gravity must turn in the sensor as the rate says.

    Raises
    ------
    UnitError
        If no or more than one unit is left, or the stated one is impossible.
    """
    lively = _lively_rate(values)
    low, high = evidence.GYR_RADPS_RANGE.value
    if stated:
        if lively * GYR_UNITS_RADPS[stated] > 2 * high:
            raise UnitError(
                f"angular rate stated in {stated} reaches {lively:.4g}, beyond any worn sensor;"
                " state the true gyr_unit (deg/s, rad/s, mdeg/s) in session.toml",
                file=file,
                where="gyroscope columns",
            )
        return stated, ""
    units = [u for u in ("rad/s", "deg/s", "mdeg/s") if low <= lively * GYR_UNITS_RADPS[u] <= high]
    if len(units) == 1:
        return units[0], f"rates up to {lively:.4g} are plausible only in {units[0]}"
    turned = _unit_by_turning(values, acc_mps2, period_s)
    if turned:
        return turned, f"gravity turns as the rate says only in {turned}"
    raise UnitError(
        f"the unit of angular rate is not stated and rates up to {lively:.4g} do not tell it;"
        " state gyr_unit (deg/s or rad/s; gyr_scale for raw counts) in session.toml",
        file=file,
        where="gyroscope columns",
    )


def _lively_rate(values: FloatArray) -> float:
    """Return the rate that the liveliest blocks reach."""
    norms = np.sqrt(np.einsum("ij,ij->i", values, values))
    n_blocks = max(1, norms.size // 100)
    peaks = np.sort(np.maximum.reduceat(norms, np.arange(n_blocks) * (norms.size // n_blocks)))
    return float(peaks[-min(evidence.LIVELY_BLOCKS.value, 1 + peaks.size // 3)])


def _unit_by_turning(values: FloatArray, acc: FloatArray | None, period_s: float) -> str:
    """Return the unit in which the rate turns gravity by what the accelerometer sees, or ""."""
    if acc is None or len(acc) != len(values):
        return ""
    n_rows = max(1, round(0.1 / period_s))
    gravity, rate = block_means(acc, n_rows), block_means(values, n_rows)
    if len(gravity) < 20:
        return ""
    seen = (gravity[2:] - gravity[:-2]) / (2 * n_rows * period_s)
    told = -np.cross(rate[1:-1], gravity[1:-1])
    power = float(np.sum(told * told)) * float(np.sum(seen * seen))
    if power == 0 or np.sum(told * seen) / np.sqrt(power) < evidence.GYR_TURN_R.value:
        return ""
    size = float(np.sum(told * seen) / np.sum(told * told))
    low, high = evidence.GYR_TURN_RANGE.value
    fits = [u for u in ("rad/s", "deg/s", "mdeg/s") if low <= size / GYR_UNITS_RADPS[u] <= high]
    return fits[0] if fits else ""


def require_live(values: FloatArray, kind: str, file: str) -> None:
    """Refuse a sensor or axis that never changes.

    Raises
    ------
    InputError
        If an axis holds one value throughout.
    """
    name = "gyroscope" if kind == "gyr" else "accelerometer"
    stuck = [AXES[axis] for axis in range(3) if np.ptp(values[:, axis]) == 0]
    if len(stuck) == 3:
        what = "is zero throughout" if not values.any() else "holds one value throughout"
        raise InputError(
            f"the {name} {what}; switch it on and record again", file=file, where=f"{name} columns"
        )
    if stuck:
        raise InputError(
            f"the {name} axis {' and '.join(stuck)} is stuck at one value; export again or use"
            " another sensor",
            file=file,
            where=f"{name} columns",
        )


def clipped_samples(values: FloatArray, least: float) -> BoolArray:
    """Return where an axis stands at the end of its range for three samples or more.

    Parameters
    ----------
    values : ndarray, shape (N, 3)
    least : float
        Extremes below it are no end of a range.
    """
    clipped = np.zeros(len(values), dtype=np.bool_)
    run = evidence.CLIP_RUN.value
    for axis in range(3):
        column = values[:, axis]
        for extreme in (column.max(), column.min()):
            if abs(extreme) < least:
                continue
            at = column == extreme
            if np.count_nonzero(at) >= run:
                clipped |= _long_runs(at, run)
    return clipped


def held_samples(
    acc_mps2: FloatArray, gyr_radps: FloatArray, period_s: float
) -> tuple[tuple[int, int], ...]:
    """Return the ranges in which all six values are held though the sensor moves."""
    n_least = max(2, round(evidence.ASLEEP_S.value / period_s))
    stride = max(1, n_least // 2)
    # Cheap look first: values that far apart are the same only where they are held.
    coarse = np.flatnonzero((np.diff(gyr_radps[::stride], axis=0) == 0).all(axis=1))
    if coarse.size == 0:
        return ()
    same = np.concatenate(
        [
            [False],
            (np.diff(gyr_radps, axis=0) == 0).all(axis=1)
            & (np.diff(acc_mps2, axis=0) == 0).all(axis=1),
        ]
    )
    fast = np.abs(gyr_radps).max(axis=1) > evidence.ASLEEP_GYR_RADPS.value
    return tuple((first, last) for first, last in runs_of(same & fast) if last - first >= n_least)


def runs_of(mask: BoolArray) -> tuple[tuple[int, int], ...]:
    """Return the half-open ranges in which a mask is true."""
    if not mask.any():
        return ()
    edges = np.flatnonzero(np.diff(np.concatenate([[False], mask, [False]]).astype(np.int8)))
    return tuple((int(a), int(b)) for a, b in zip(edges[::2], edges[1::2], strict=True))


def _long_runs(mask: BoolArray, least: int) -> BoolArray:
    kept = np.zeros(mask.size, dtype=np.bool_)
    for first, last in runs_of(mask):
        if last - first >= least:
            kept[first:last] = True
    return kept


def rest_acceleration(
    acc_mps2: FloatArray, gyr_radps: FloatArray, period_s: float
) -> tuple[float, float, float] | None:
    """Return the mean acceleration of the quietest second, or None where none is quiet."""
    n_rows = max(1, round(1.0 / period_s))
    if len(acc_mps2) < n_rows:
        return None
    mean = block_means(acc_mps2, n_rows)
    acc_sd, gyr_sd = _block_sd(acc_mps2, n_rows), _block_sd(gyr_radps, n_rows)
    limits = evidence.REST_ACC_MPS2.value, evidence.REST_GYR_RADPS.value
    unrest = acc_sd / limits[0] + gyr_sd / limits[1]
    best = int(np.argmin(unrest))
    if acc_sd[best] > limits[0] or gyr_sd[best] > limits[1]:
        return None
    x, y, z = mean[best]
    return float(x), float(y), float(z)


def _block_sd(values: FloatArray, n_rows: int) -> FloatArray:
    mean = block_means(values, n_rows)
    square = block_means(values * values, n_rows)
    return np.sqrt(np.maximum(square - mean * mean, 0).sum(axis=1))

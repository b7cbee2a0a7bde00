"""The unit of an acceleration or of a rate: as stated, if gravity agrees, else told by gravity."""

from __future__ import annotations

import numpy as np

from imucarry.basics.errors import InputError, UnitError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import FloatArray
from imucarry.basics.units import ACC_UNITS_MPS2, GYR_UNITS_RADPS
from imucarry.readers.levels import BLOCK_ROWS, THINNING, block_means, gravity_marks, lengths

_TINY = 1e-9


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
    InputError
        If gravity was taken out of it: tilt cannot be told.
    UnitError
        If no unit makes the mean acceleration gravity, or the stated one contradicts it.

    Notes
    -----
    In a fast run the samples are more than twice as large as gravity, root mean square;
    gravity is there where their mean is gravity in the stated unit, else in m/s^2. No
    body keeps up such a mean without it; a mean of 1 or 1000 may come by chance.
    """
    level, share = gravity_marks(values)
    if share < evidence.GRAVITY_SHARE.value and unit_of_gravity(level) != (stated or "m/s^2"):
        raise InputError(_no_gravity(level), file=file, where="accelerometer columns")
    if stated:
        _require_unit_fits(level, stated, file)
        return stated, ""
    if unit := unit_of_gravity(level):
        return unit, f"resting acceleration of {level:.4g} is gravity in {unit}"
    raise UnitError(
        f"the unit of acceleration is not stated and its mean of {level:.4g} is gravity in none of"
        " m/s^2, g, mg; state acc_unit (and acc_scale for raw counts) in session.toml",
        file=file,
        where="accelerometer columns",
    )


def unit_of_gravity(level: float) -> str:
    """Return the unit in which a level is about standard gravity, or ""."""
    low, high = evidence.ACC_LEVELS_MPS2.value
    fits = [unit for unit, size in ACC_UNITS_MPS2.items() if low <= level * size <= high]
    return fits[0] if fits else ""


def _require_unit_fits(level: float, stated: str, file: str) -> None:
    in_g = level * ACC_UNITS_MPS2[stated] / ACC_UNITS_MPS2["g"]
    factor = evidence.ACC_CONTRADICTION.value
    if not 1 / factor <= in_g <= factor:
        raise UnitError(
            f"acceleration stated in {stated} averages {level:.4g}, {in_g:.3g} times gravity;"
            " state the true acc_unit (m/s^2, g, mg) in session.toml",
            file=file,
            where="accelerometer columns",
        )


def _no_gravity(level: float) -> str:
    return (
        f"gravity seems removed from the acceleration (its mean over a second is {level:.3g}), so"
        " tilt cannot be told; export the acceleration with gravity, or gravity beside it"
    )


def gyr_unit(
    values: FloatArray, acc_mps2: FloatArray | None, period_s: float, stated: str, file: str
) -> tuple[str, str]:
    """Return the unit of an angular rate and the rule by which it was found.

    Notes
    -----
    1. Rates of the liveliest seconds must be plausible for a walking person.
    2. Where more than one unit is, gravity must turn in the sensor as the rate says.
    3. Whole numbers alone are raw counts more often than any unit: their size is not known.

    Raises
    ------
    UnitError
        If no or more than one unit is left, or the stated one is impossible.
    """
    lively = _lively_rate(values)
    low, high = evidence.GYR_RADPS_RANGE.value
    if stated:
        if lively * GYR_UNITS_RADPS[stated] > 2 * high:
            raise _contradicted(stated, f"reaches {lively:.4g}, beyond any worn sensor", file)
        if lively * GYR_UNITS_RADPS[stated] < low:
            _require_turns_as_stated(values, acc_mps2, period_s, stated, file)
        if lively * GYR_UNITS_RADPS[stated] > evidence.GYR_DOUBT_RADPS.value:
            _require_gravity_follows(values, acc_mps2, period_s, stated, file)
        return stated, ""
    if _are_whole(values):
        raise UnitError(
            f"the unit of angular rate is not stated, and whole numbers up to {lively:.4g} may be"
            " raw counts; state gyr_unit (deg/s, rad/s, mdeg/s), and gyr_scale for counts, in"
            " session.toml",
            file=file,
            where="gyroscope columns",
        )
    units = [u for u in ("rad/s", "deg/s", "mdeg/s") if low <= lively * GYR_UNITS_RADPS[u] <= high]
    if len(units) == 1:
        if lively * GYR_UNITS_RADPS[units[0]] > evidence.GYR_DOUBT_RADPS.value:
            _require_gravity_follows(values, acc_mps2, period_s, units[0], file, is_stated=False)
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


def _require_turns_as_stated(
    values: FloatArray, acc_mps2: FloatArray | None, period_s: float, stated: str, file: str
) -> None:
    """Refuse a stated unit in which the sensor hardly turns where gravity turns as in another."""
    turned = _unit_by_turning(values, acc_mps2, period_s)
    if turned and GYR_UNITS_RADPS[turned] > GYR_UNITS_RADPS[stated]:
        raise _contradicted(stated, f"turns gravity as if it were in {turned}", file)


def _require_gravity_follows(
    values: FloatArray,
    acc_mps2: FloatArray | None,
    period_s: float,
    unit: str,
    file: str,
    *,
    is_stated: bool = True,
) -> None:
    """Refuse a unit in which a sensor turns far more than its accelerometer sees.

    What the wearer's own acceleration adds makes the accelerometer turn more, never less.
    """
    turning = _turning(values, acc_mps2, period_s)
    if turning is None:
        return
    told, seen, rate = turning
    lively = rate > evidence.GYR_LIVELY_FRAC.value * np.quantile(rate, 0.99)
    told, seen = lengths(told[lively]), lengths(seen[lively])
    times = float(np.median(told) * GYR_UNITS_RADPS[unit] / max(np.median(seen), _TINY))
    if times > evidence.GYR_TURN_MOST.value:
        how = f"turns the sensor {times:.0f} times as much as its acceleration does"
        if is_stated:
            raise _contradicted(unit, how, file)
        raise UnitError(
            f"the unit of angular rate is not stated, and {unit}, which alone is plausible, {how};"
            " state gyr_unit (deg/s or rad/s; gyr_scale for raw counts) in session.toml",
            file=file,
            where="gyroscope columns",
        )


def _are_whole(values: FloatArray) -> bool:
    return bool(values.any() and (values[:THINNING] % 1 == 0).all() and (values % 1 == 0).all())


def _contradicted(stated: str, how: str, file: str) -> UnitError:
    return UnitError(
        f"angular rate stated in {stated} {how}; state the true gyr_unit (deg/s, rad/s, mdeg/s) in"
        " session.toml",
        file=file,
        where="gyroscope columns",
    )


def _lively_rate(values: FloatArray) -> float:
    """Return the rate that the liveliest blocks reach."""
    step = THINNING if len(values) > 10 * BLOCK_ROWS else 1
    norms = lengths(values[::step])
    n_blocks = max(1, norms.size * step // BLOCK_ROWS)
    peaks = np.sort(np.maximum.reduceat(norms, np.arange(n_blocks) * (norms.size // n_blocks)))
    return float(peaks[-min(evidence.LIVELY_BLOCKS.value, 1 + peaks.size // 3)])


def _unit_by_turning(values: FloatArray, acc: FloatArray | None, period_s: float) -> str:
    """Return the unit in which the rate turns gravity by what the accelerometer sees, or ""."""
    turning = _turning(values, acc, period_s)
    if turning is None:
        return ""
    told, seen, _ = turning
    power = float(np.sum(told * told)) * float(np.sum(seen * seen))
    if power == 0 or np.sum(told * seen) / np.sqrt(power) < evidence.GYR_TURN_R.value:
        return ""
    size = float(np.sum(told * seen) / np.sum(told * told))
    low, high = evidence.GYR_TURN_RANGE.value
    fits = [u for u in ("rad/s", "deg/s", "mdeg/s") if low <= size / GYR_UNITS_RADPS[u] <= high]
    return fits[0] if fits else ""


def _turning(
    values: FloatArray, acc: FloatArray | None, period_s: float
) -> tuple[FloatArray, FloatArray, FloatArray] | None:
    """Return how the rate turns gravity in the sensor, how the acceleration turns, and the rate.

    Shapes (K, 3), (K, 3), (K,), of means over 0.1 s; None where there is too little to compare.
    """
    if acc is None or len(acc) != len(values):
        return None
    n_rows = max(1, round(0.1 / period_s))
    gravity, rate = block_means(acc, n_rows), block_means(values, n_rows)
    if len(gravity) < 20:
        return None
    seen = (gravity[2:] - gravity[:-2]) / (2 * n_rows * period_s)
    return -np.cross(rate[1:-1], gravity[1:-1]), seen, lengths(rate[1:-1])

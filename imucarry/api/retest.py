"""Shoulder tests alone: before and after."""

from __future__ import annotations

import math
from pathlib import Path

from imucarry.basics.errors import SessionError, SettingsError
from imucarry.basics.records import Notice, RetestFinding, RomReading
from imucarry.basics.settings import Settings, settings_from


def retest_file(
    path: str | Path,
    settings: Settings | str | Path | None = None,
    *,
    mdc_deg: float | None = None,
) -> tuple[RetestFinding, ...]:
    """Compare the shoulder tests of one ``rom.csv``, before and after.

    Parameters
    ----------
    path : str or Path
        A ``rom.csv``.
    settings : Settings or path of a TOML file, optional
        Settings, or the file that holds them; the defaults without.
    mdc_deg : float, optional
        The smallest detectable change (95 %) to use [deg]; above 0.

    Returns
    -------
    tuple of RetestFinding

    Raises
    ------
    ImucarryError
        If the sheet, the settings file or `mdc_deg` cannot be used, or the sheet holds
        no reading.
    """
    from imucarry.carry.retest import compare_tests

    # Written so that NaN is refused too.
    if mdc_deg is not None and not 0.0 < mdc_deg < math.inf:
        raise SettingsError(f"mdc_deg must be a number of degrees above 0, got {mdc_deg}")
    return compare_tests(_readings(path), settings_from(settings).carry, mdc_deg=mdc_deg)


def retest_notices(path: str | Path) -> tuple[Notice, ...]:
    """Tell of shoulder tests around several bouts, and of readings of one sitting far apart.

    Parameters
    ----------
    path : str or Path
        A ``rom.csv``.

    Returns
    -------
    tuple of Notice
        Checks, each of one test and side.

    Raises
    ------
    SessionError
        If the sheet cannot be used, or holds no reading.
    """
    from imucarry.carry.rom_sittings import sitting_notices
    from imucarry.carry.rom_spread import scatter_notices

    readings = _readings(path)
    return (*sitting_notices(readings), *scatter_notices(readings))


def _readings(path: str | Path) -> tuple[RomReading, ...]:
    from imucarry.readers.rom_sheet import read_rom

    readings = read_rom(Path(path))
    if not readings:
        raise SessionError(
            "holds no reading; write one row a reading: test,side,when,value_deg",
            file=Path(path).name,
        )
    return readings

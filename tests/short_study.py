"""A study of many short sessions for the cohort's tests, made from the example session."""

from __future__ import annotations

import csv
import hashlib
import shutil
from collections.abc import Sequence
from pathlib import Path

import pandas as pd

EXAMPLE = Path(__file__).parents[1] / "data" / "example"
N_BOUTS = 2  # a free walk and a carry
BROKEN = ("no_chest", "garbage", "unknown_hold", "no_gyroscope", "bout_outside", "no_folder")
"""Ways in which `spoil` breaks a session."""
SAID = {
    "no_chest": ("InputError", "chest.csv"),
    "garbage": ("UnknownFormatError", "chest.csv"),
    "unknown_hold": ("SessionError", "'fre'"),
    "no_gyroscope": ("ColumnError", "gyr"),
    "bout_outside": ("SessionError", "bouts.csv"),
    "no_folder": ("SessionError", "not there"),
}
"""The kind of error of each and a word of its message."""
TOML = """participant = "{participant}"
session = "{session}"
bouts = "bouts.csv"

[[sensor]]
placement = "chest"
file = "chest.csv"
"""


class ShortSessions:
    """Writes sessions of one chest sensor and two bouts, a little different for each person."""

    def __init__(self) -> None:
        self.bouts = pd.read_csv(EXAMPLE / "bouts.csv", dtype=str).iloc[:N_BOUTS]
        chest = pd.read_csv(EXAMPLE / "chest.csv")
        self.chest = chest[chest["time_s"] < self.bouts["end_s"].astype(float).max() + 1.0]

    def write(self, folder: Path, participant: str, session: str, gain: float = 1.0) -> None:
        """Write one session; `gain` scales the rates, and so the rotation."""
        folder.mkdir(parents=True)
        chest = self.chest.copy()
        rates = [name for name in chest if name.startswith("gyr")]
        chest[rates] = (gain * chest[rates]).round(5)
        chest.to_csv(folder / "chest.csv", index=False)
        self.bouts.to_csv(folder / "bouts.csv", index=False)
        toml = TOML.format(participant=participant, session=session)
        (folder / "session.toml").write_text(toml, encoding="utf-8")


def spoil(folder: Path, how: str) -> None:
    """Break one session in one of the ways of `BROKEN`."""
    chest, bouts = folder / "chest.csv", folder / "bouts.csv"
    if how == "no_chest":
        chest.unlink()
    elif how == "garbage":
        chest.write_text("nothing\nto see\n")
    elif how == "unknown_hold":
        bouts.write_text(bouts.read_text().replace(",free,", ",fre,", 1))
    elif how == "no_gyroscope":
        pd.read_csv(chest).iloc[:, :4].to_csv(chest, index=False)
    elif how == "bout_outside":
        sheet = pd.read_csv(bouts, dtype=str)
        sheet.loc[1, ["start_s", "end_s"]] = ["90000", "90060"]
        sheet.to_csv(bouts, index=False)
    elif how == "no_folder":
        shutil.rmtree(folder)
    else:
        raise ValueError(how)


def write_study(
    home: Path, n_people: int, n_visits: int = 1, broken: Sequence[str] = (), name: str = "study"
) -> Path:
    """Write sessions and a manifest of them; return the manifest.

    The last sessions are broken, one in each of the ways named. The manifest has the
    columns ``group`` and ``hold``; the latter is taken in most outputs.
    """
    sessions = ShortSessions()
    rows = []
    for person in range(n_people):
        for visit in range(n_visits):
            folder = home / f"P{person:02d}" / f"visit_{visit + 1}"
            gain = 1.0 + 0.01 * ((7 * person) % 11 - 5) + 0.004 * visit
            sessions.write(folder, f"P{person:02d}", str(visit + 1), gain)
            group = "=control" if person % 2 else "training"
            rows.append([folder.relative_to(home).as_posix(), group, "as it came"])
    for (folder_name, *_), how in zip(rows[len(rows) - len(broken) :], broken, strict=True):
        spoil(home / folder_name, how)
    manifest = home / f"{name}.csv"
    with manifest.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream, lineterminator="\n").writerows([["folder", "group", "hold"], *rows])
    return manifest


def every_file(folder: Path) -> dict[str, str]:
    """Return the sha256 of every file of a folder by its name in it, hidden ones too."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }

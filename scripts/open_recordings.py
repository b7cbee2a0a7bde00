"""Session folders made from the open recordings, as a user would lay them out.

    python scripts/open_recordings.py trunk_steps FOLDER [NAME ...]
    python scripts/open_recordings.py watch_walks FOLDER [NAME ...]

The recordings are those of ../shared/data: `trunk_steps` (Voisard et al. 2023, Image
Processing On Line, doi 10.5201/ipol.2023.497; one sensor at the lower back, here as the
chest sensor) and `watch_walks` (Matey-Sanz et al. 2023, Data in Brief, doi
10.1016/j.dib.2023.109809; one watch, here as the left wrist). They are no part of the
project: what is made from them is written to the folder that is named, nowhere else.
"""

from __future__ import annotations

import argparse
import shutil
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np

DATA = Path(__file__).resolve().parents[2] / "shared" / "data"
TRUNK_RATE_HZ = 100.0
COUNTER_WRAP = 65536
TRUNK_COLUMNS = (
    "time_s",
    *(f"acc_{axis}_mps2" for axis in "xyz"),
    *(f"gyr_{axis}_radps" for axis in "xyz"),
)


def make_sessions(
    kind: str, out_dir: Path, names: Sequence[str] | None = None, *, data_dir: Path = DATA
) -> list[Path]:
    """Make a session folder of each open recording of one kind.

    Parameters
    ----------
    kind : str
        A key of `MAKERS`.
    out_dir : Path
        Gets one folder a recording, made where it is absent.
    names : sequence of str, optional
        Which recordings; all of them without it.
    data_dir : Path
        Where the open recordings lie.

    Returns
    -------
    list of Path
        The session folders, in order of their names.

    Raises
    ------
    FileNotFoundError
        If a recording that is named, or the folder of all, is not there.
    """
    pattern, make = MAKERS[kind]
    source = data_dir / kind
    found = {path.name.removesuffix(pattern): path for path in sorted(source.glob(f"*{pattern}"))}
    missing = sorted(set(names or ()) - set(found))
    if missing or not found:
        raise FileNotFoundError(f"{source}: no recording {', '.join(missing)}".rstrip())
    folders = []
    for name in found if names is None else sorted(names):
        folder = out_dir / name
        folder.mkdir(parents=True, exist_ok=True)
        make(found[name], folder, name)
        folders.append(folder)
    return folders


def make_trunk_session(path: Path, folder: Path, name: str) -> None:
    """Write one trial as a chest recording; rows of lost packets are missing."""
    table = np.loadtxt(path, skiprows=2, usecols=range(7))
    count = np.unwrap(table[:, 0], period=COUNTER_WRAP)
    rows = np.column_stack([count / TRUNK_RATE_HZ, table[:, 1:]])
    np.savetxt(
        folder / "chest.csv",
        rows,
        fmt=["%.2f", *["%.6f"] * 6],
        delimiter=",",
        header=",".join(TRUNK_COLUMNS),
        comments="",
    )
    participant, trial = name.split("-")
    write_session(folder, participant, trial, "chest", "chest.csv")


def make_watch_session(path: Path, folder: Path, name: str) -> None:
    """Copy one watch file as it is: its columns, and its times that repeat and step back."""
    shutil.copyfile(path, folder / "left_wrist.csv")
    participant, run = name.split("_")
    write_session(folder, participant, run, "left_wrist", "left_wrist.csv")


def write_session(folder: Path, participant: str, session: str, placement: str, file: str) -> None:
    """Write the ``session.toml`` of one sensor."""
    text = (
        f'participant = "{participant}"\nsession = "{session}"\n\n'
        f'[[sensor]]\nplacement = "{placement}"\nfile = "{file}"\n'
    )
    (folder / "session.toml").write_text(text, encoding="utf-8", newline="\n")


MAKERS: dict[str, tuple[str, Callable[[Path, Path, str], None]]] = {
    "trunk_steps": ("_lb.txt", make_trunk_session),
    "watch_walks": ("_sw.csv", make_watch_session),
}


def main() -> int:
    """Make the session folders that the command line names."""
    parser = argparse.ArgumentParser(description="Make session folders from open recordings.")
    parser.add_argument("kind", choices=sorted(MAKERS))
    parser.add_argument("folder", type=Path)
    parser.add_argument("names", nargs="*")
    given = parser.parse_args()
    folders = make_sessions(given.kind, given.folder, given.names or None)
    print(f"{len(folders)} session folders in {given.folder}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())

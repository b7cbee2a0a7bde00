"""Small walked sessions in random layouts, damaged and taken through all of scoring."""

from __future__ import annotations

import gzip
import random
import traceback
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

from fuzz_injuries import mutated
from fuzz_layouts import FileLayout, Motion, random_layout, sensible, written_bytes
from invented_clients import random_client

from imucarry.api import PageOptions, score_session
from imucarry.api.results import session_files
from imucarry.basics.errors import InputError
from imucarry.simulate.path import straight
from imucarry.simulate.session import SessionSpec, simulate_session
from imucarry.tables.build import BUILDERS

N_WALKERS = 4
CASES_A_LAYOUT = 8
"""Cases that damage the same written session, each in its own way: writing costs as scoring."""
PAGE_EVERY = 25
RATE_HZ = 50.0
BUG = "BUG"
FIRST_S = 9.0
"""Where the sensors are switched on in the invented visit, in its first quiet standing."""

ROM = """test,side,when,value_deg
internal_rotation,left,before,61
internal_rotation,left,after,66
"""


@dataclass(frozen=True, slots=True)
class Walk:
    """Samples of one invented visit by placement, and when its two bouts last."""

    motions: Mapping[str, Motion]
    bouts_s: tuple[tuple[float, float], ...]


@lru_cache(maxsize=N_WALKERS)
def invented_walk(number: int) -> Walk:
    """Return a free walk and a carry of fifteen strides each, worn at chest and left wrist."""
    simulated = simulate_session(_short_visit(number), number)
    motions = {}
    for recording in simulated.recordings:
        kept = recording.time_s >= FIRST_S
        time_s = recording.time_s[kept] - FIRST_S
        samples = recording.acc_mps2[kept], recording.gyr_radps[kept]
        motions[recording.placement] = Motion(RATE_HZ, time_s, *samples)
    bouts = tuple((row.start_s - FIRST_S, row.end_s - FIRST_S) for row in simulated.bout_rows)
    return Walk(motions, bouts)


def _short_visit(number: int) -> SessionSpec:
    spec = random_client(number, rate_hz=RATE_HZ)
    bouts = tuple(replace(bout, legs=(straight(15),)) for bout in spec.bouts[:2])
    return replace(spec, bouts=bouts, sensors=spec.sensors[:2], quiet_s=3.0)


@lru_cache(maxsize=2)
def whole_session(name: str) -> Mapping[str, bytes]:
    """Return the files of an undamaged session: walker, sensors, layouts, sheets from a name."""
    rng = random.Random(name)
    walk = invented_walk(rng.randrange(N_WALKERS))
    worn = rng.choice((("chest",), ("chest", "left_wrist"), ("left_wrist",)))
    layout = random_layout(rng)
    files = {f"{place}.csv": _samples(walk.motions[place], layout, rng) for place in worn}
    # The walks are too short to be found at a wrist, as a sheet without times asks.
    sheet = rng.choice(("times", "times", "no times" if "chest" in worn else "times", "none"))
    if sheet != "none":
        files["bouts.csv"] = bouts_sheet(walk, timed=sheet == "times").encode()
    if rng.random() < 0.5:
        files["rom.csv"] = ROM.encode()
    files["session.toml"] = session_toml(worn, files).encode()
    return files


def _samples(motion: Motion, layout: FileLayout, rng: random.Random) -> bytes:
    """Return a sensor's file; its clock is the session's, all else may differ by sensor."""
    if rng.random() < 0.5:
        layout = sensible(replace(random_layout(rng), time=layout.time))
    return written_bytes(motion, replace(layout, packed=False))


def bouts_sheet(walk: Walk, *, timed: bool) -> str:
    """Return ``bouts.csv`` of a walk, with times or without."""
    rows = ["bout,start_s,end_s,hold,loaded_side,load_kg,aim,note"]
    facts = ("walk 1", "free,none,0,,"), ("carry 1", 'suitcase,right,16,mobility,"steady, calm"')
    for (name, fact), (start_s, end_s) in zip(facts, walk.bouts_s, strict=True):
        window = f"{start_s:.2f},{end_s:.2f}" if timed else ","
        rows.append(f"{name},{window},{fact}")
    return "\n".join(rows) + "\n"


def session_toml(worn: tuple[str, ...], files: Mapping[str, bytes]) -> str:
    """Return ``session.toml`` of sensors, and of the sheets among the files."""
    lines = ['participant = "P07"', 'session = "2"', "date = 2026-03-14", "body_mass_kg = 72.0"]
    lines += [f'{name} = "{name}.csv"' for name in ("bouts", "rom") if f"{name}.csv" in files]
    for place in worn:
        lines += ["", "[[sensor]]", f'placement = "{place}"', f'file = "{place}.csv"']
    return "\n".join(lines) + "\n"


def damaged_session(case: str) -> dict[str, bytes]:
    """Return the files of a case, ``SEED/NUMBER``: a session of which one file is damaged."""
    seed, _, number = case.rpartition("/")
    files = dict(whole_session(f"{seed}/{int(number) // CASES_A_LAYOUT}"))
    rng = random.Random(case)
    sensors = [name for name in files if name.removesuffix(".csv") in ("chest", "left_wrist")]
    sheets = [name for name in files if name not in sensors]
    victim = rng.choice(sensors if rng.random() < 0.7 else sheets)
    files[victim] = mutated(files[victim], rng)
    if rng.random() < 0.1:
        files[sensors[0]] = gzip.compress(files[sensors[0]], mtime=0)
    return files


def write_files(files: Mapping[str, bytes], folder: Path) -> None:
    """Write the files of a session into a folder that holds nothing else."""
    folder.mkdir(parents=True, exist_ok=True)
    for old in folder.iterdir():
        old.unlink()
    for name, data in files.items():
        (folder / name).write_bytes(data)


def outcome(folder: Path, *, page: bool = False) -> str:
    """Score a session: "scored", or the name of the error that refused it with a place.

    Parameters
    ----------
    folder : Path
        Of the session.
    page : bool
        Make the page and the data package too, not the tables alone.

    Raises
    ------
    Exception
        Whatever else came up: a bug.
    """
    try:
        scored = score_session(folder)
    except InputError as error:
        # Of a file that is not there its name is the place.
        place = error.where or error.file not in {path.name for path in folder.iterdir()}
        if not error.file or not place or "\n" in str(error):
            raise AssertionError(f"a refusal without a place or on two lines: {error!r}") from error
        return f"refused, {type(error).__name__}"
    for build in BUILDERS.values():
        build(scored.result)
    if page:
        session_files(scored, PageOptions())
    return "scored"


def ends_of(
    seed: str, numbers: range, folder: Path, tell: Callable[[str], None] = print
) -> Counter[str]:
    """Return how the cases of a seed end, each written to `folder` in its turn.

    `tell` gets the traceback of each bug with how to see it again.
    """
    ends: Counter[str] = Counter()
    for number in numbers:
        case = f"{seed}/{number}"
        write_files(damaged_session(case), folder)
        try:
            ends[outcome(folder, page=number % PAGE_EVERY == 0)] += 1
        except Exception:  # whatever is no refusal is what is looked for
            ends[BUG] += 1
            how = f"python scripts/fuzz.py --case {case} --keep FOLDER"
            tell(f"{traceback.format_exc()}case {case}; see it again with: {how}")
    return ends

"""Write walked sessions in random layouts, damage a file of each, and score them.

    python scripts/fuzz.py --count 20000 --seed 1 --processes 2
    python scripts/fuzz.py --case 1/17 --keep FOLDER      one case, its files kept

Each damaged session is scored to its tables (every 25th to its page) or refused
by an error that names a place; anything else, a warning too, is a bug: it is
printed, and the exit code is 1.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import warnings
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

from fuzz_session import BUG, CASES_A_LAYOUT, damaged_session, ends_of, outcome, write_files

BLOCK = 5 * CASES_A_LAYOUT


def block_ends(seed: str, count: int, first: int) -> tuple[Counter[str], list[str]]:
    """Return how a block of cases ends, and what is to be said of its bugs."""
    warnings.simplefilter("error")
    bugs: list[str] = []
    with tempfile.TemporaryDirectory() as name:
        numbers = range(first, min(first + BLOCK, count))
        return ends_of(seed, numbers, Path(name), bugs.append), bugs


def all_ends(seed: str, count: int, n_processes: int) -> Counter[str]:
    """Return how all cases of a seed end; print each bug as it is found."""
    ends: Counter[str] = Counter()
    with ProcessPoolExecutor(n_processes) as pool:
        for found, bugs in pool.map(partial(block_ends, seed, count), range(0, count, BLOCK)):
            ends += found
            for bug in bugs:
                print(bug, file=sys.stderr, flush=True)
    return ends


def main() -> int:
    """Run the damaged sessions, or one of them, and print how they ended."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=20000, help="of sessions to damage")
    parser.add_argument("--seed", default="1")
    parser.add_argument("--processes", type=int, default=1)
    parser.add_argument("--case", help="the one case to run, SEED/NUMBER")
    parser.add_argument("--keep", type=Path, help="folder for the files of that case")
    options = parser.parse_args()
    if options.case:
        with tempfile.TemporaryDirectory() as name:
            folder = options.keep or Path(name)
            write_files(damaged_session(options.case), folder)
            warnings.simplefilter("error")
            print(outcome(folder, page=True))
        return 0
    ends = all_ends(options.seed, options.count, options.processes)
    for end, n_cases in ends.most_common():
        print(f"{n_cases:6}  {end}")
    n_scored, n_bugs = ends["scored"], ends[BUG]
    n_refused = ends.total() - n_scored - n_bugs
    print(f"{ends.total()} cases: {n_scored} scored, {n_refused} refused, {n_bugs} bugs")
    return 1 if n_bugs else 0


if __name__ == "__main__":
    sys.exit(main())

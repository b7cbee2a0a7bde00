"""Long trials of a cohort: killed at random moments, workers killed, both engines.

    python scripts/soak.py                   20 kills of the run, 20 of workers, dask
    python scripts/soak.py --kills 100       more of both

Every trial ends with files that are byte-equal to an undisturbed run's. Prints one
line a trial and exits with 1 at the first difference. Not for Windows.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from environment import ROOT

sys.path.insert(0, str(ROOT / "tests"))

from short_study import BROKEN, every_file, write_study

N_PEOPLE = 30
N_VISITS = 2
SEED = 8


def command(manifest: Path, out: Path, *options: str) -> list[str]:
    """Return the command line of one run."""
    cohort = [sys.executable, "-m", "imucarry", "cohort", str(manifest), "--out", str(out)]
    return [*cohort, "--quiet", *options]


def run(manifest: Path, out: Path, *options: str) -> float:
    """Run a cohort to its end; return its seconds."""
    started = time.monotonic()
    done = subprocess.run(
        command(manifest, out, *options), check=False, capture_output=True, text=True
    )
    if done.returncode != 1:  # the broken sessions fail, nothing else
        raise SystemExit(f"a run ended with {done.returncode}: {done.stderr}")
    return time.monotonic() - started


def start(manifest: Path, out: Path, *options: str) -> subprocess.Popen[bytes]:
    """Start a cohort and let it go on by itself."""
    return subprocess.Popen(
        command(manifest, out, *options), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )


def same(out: Path, wanted: dict[str, str], trial: str) -> None:
    """Print how a trial ended; leave when any file differs."""
    found = every_file(out)
    apart = sorted(
        name for name in found.keys() | wanted.keys() if found.get(name) != wanted.get(name)
    )
    print(f"{trial}: {'same bytes' if not apart else 'DIFFERS: ' + ', '.join(apart)}", flush=True)
    if apart:
        raise SystemExit(1)


def kill_run(manifest: Path, out: Path, after_s: float) -> str:
    """Kill the run itself after some seconds; say how far it was."""
    process = start(manifest, out)
    time.sleep(after_s)
    ended = process.poll() is not None
    process.kill()
    process.wait()
    done = len(list((out / ".finished").glob("*.json")))
    return "after its end" if ended else f"with {done} finished"


def kill_workers(manifest: Path, out: Path, chance: random.Random, seconds: float) -> int:
    """Kill one worker after another during a whole run; return how many were killed."""
    import psutil

    process, n_killed = start(manifest, out), 0
    while process.poll() is None:
        time.sleep(chance.uniform(0.1, 0.3) * seconds)
        try:
            children = psutil.Process(process.pid).children()
            workers = [child for child in children if "spawn_main" in " ".join(child.cmdline())]
        except psutil.Error:
            continue
        if workers:
            os.kill(chance.choice(workers).pid, signal.SIGKILL)
            n_killed += 1
    return n_killed


def soak(home: Path, n_kills: int) -> None:
    """Run all trials in a folder."""
    chance = random.Random(SEED)
    manifest = write_study(home / "study", N_PEOPLE, N_VISITS, BROKEN)
    seconds = run(manifest, home / "undisturbed")
    wanted = every_file(home / "undisturbed")
    print(f"undisturbed: {seconds:.1f} s, {len(wanted)} files", flush=True)
    for k in range(n_kills):
        out = home / f"killed_{k}"
        after_s = chance.uniform(0.0, 1.1 * seconds)
        how_far = kill_run(manifest, out, after_s)
        run(manifest, out)
        same(out, wanted, f"killed {k + 1} of {n_kills}, after {after_s:.2f} s, {how_far}")
        shutil.rmtree(out)
    n_killed, k = 0, 0
    while n_killed < n_kills:
        out, k = home / f"workers_{k}", k + 1
        n_killed += kill_workers(manifest, out, chance, seconds)
        # A worker may die twice on one session by chance; the next run scores that one.
        run(manifest, out)
        same(out, wanted, f"workers killed, {n_killed} of {n_kills}")
    soak_dask(manifest, home / "dask", wanted)


def soak_dask(manifest: Path, out: Path, wanted: dict[str, str]) -> None:
    """Run on a cluster of two processes and kill one of them."""
    from distributed import Client, LocalCluster

    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:
        address = cluster.scheduler_address
        process = start(manifest, out, "--dask", address)
        while len(list((out / ".finished").glob("*.json"))) < 5 and process.poll() is None:
            time.sleep(0.01)
        with Client(address, set_as_default=False) as client:
            os.kill(next(iter(client.run(os.getpid).values())), signal.SIGKILL)
        process.wait()
        same(out, wanted, "dask, one worker killed")


def main() -> int:
    """Run the trials; return the exit code."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kills", type=int, default=20)
    with tempfile.TemporaryDirectory() as home:
        soak(Path(home), parser.parse_args().kills)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())

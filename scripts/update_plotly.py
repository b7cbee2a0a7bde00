"""Bring the page's drawing library up to the version that the Python package expects.

    python scripts/update_plotly.py

Fetches the cartesian bundle of plotly.js with npm from the registry that npm is set
up with, packs it (gzip, no time stamp: same input, same bytes) and writes it with
its licence and its hashes into imucarry/report/vendor.
"""

from __future__ import annotations

import gzip
import hashlib
import json
import shutil
import subprocess
import sys
import tarfile
import tempfile
from pathlib import Path

PACKAGE = "plotly.js-cartesian-dist-min"
SCRIPT = "plotly-cartesian.min.js"
VENDOR = Path(__file__).parents[1] / "imucarry" / "report" / "vendor"


def main() -> int:
    """Fetch, pack, write; return the exit code."""
    from plotly.offline import get_plotlyjs_version

    npm = shutil.which("npm")
    if npm is None:
        print("npm is needed to fetch the bundle; install Node.js", file=sys.stderr)
        return 1
    version = get_plotlyjs_version()
    with tempfile.TemporaryDirectory() as folder:
        script, licence = fetch(npm, version, Path(folder))
    write(version, script, licence)
    print(f"{PACKAGE} {version} is in {VENDOR}")
    return 0


def fetch(npm: str, version: str, folder: Path) -> tuple[bytes, bytes]:
    """Download one version and return its script and its licence."""
    subprocess.run(
        [npm, "pack", f"{PACKAGE}@{version}", "--silent", "--pack-destination", str(folder)],
        check=True,
        stdout=subprocess.DEVNULL,
    )
    (archive,) = folder.glob("*.tgz")
    with tarfile.open(archive) as packed:
        return read(packed, f"package/{SCRIPT}"), read(packed, "package/LICENSE")


def read(packed: tarfile.TarFile, name: str) -> bytes:
    """One file of an archive."""
    member = packed.extractfile(name)
    if member is None:
        raise SystemExit(f"{name} is not in the package")
    return member.read()


def write(version: str, script: bytes, licence: bytes) -> None:
    """Write the packed script, its licence and what is needed to check them."""
    VENDOR.mkdir(exist_ok=True)
    packed = gzip.compress(script, compresslevel=9, mtime=0)
    about = {
        "package": PACKAGE,
        "version": version,
        "licence": "MIT",
        "file": f"{SCRIPT}.gz",
        "sha256_packed": hashlib.sha256(packed).hexdigest(),
        "sha256_script": hashlib.sha256(script).hexdigest(),
    }
    (VENDOR / f"{SCRIPT}.gz").write_bytes(packed)
    (VENDOR / "LICENSE-plotly.txt").write_bytes(licence)
    (VENDOR / "plotly.json").write_text(
        json.dumps(about, indent=2) + "\n", encoding="utf-8", newline="\n"
    )


if __name__ == "__main__":
    raise SystemExit(main())

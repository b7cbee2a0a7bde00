"""Set everything up, write an invented session, score it and print the page's path.

python scripts/demo.py [FOLDER]
"""

from __future__ import annotations

import argparse
import subprocess
from pathlib import Path

from environment import ROOT, ready


def main() -> int:
    """Run ``imucarry demo`` and ``imucarry score`` in the project's environment."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", nargs="?", type=Path, default=ROOT / "demo")
    folder = parser.parse_args().folder.resolve()
    interpreter = str(ready())
    session, results = folder / "session", folder / "results"
    steps = (
        ["demo", str(session)],
        ["score", str(session), "--out", str(results)],
    )
    for step in steps:
        code = subprocess.run([interpreter, "-m", "imucarry", *step], check=False).returncode
        if code:
            return code
    print(f"\nOpen this page in a browser: {results / 'report.html'}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())

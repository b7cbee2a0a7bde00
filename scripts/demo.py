"""Set everything up, write an invented session, score it and print the page's path.

python scripts/demo.py [FOLDER]     FOLDER: where to write, by default ./demo
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from environment import ROOT, ready


def main(arguments: list[str]) -> int:
    """Run ``imucarry demo`` and ``imucarry score`` in the project's environment."""
    interpreter = str(ready())
    folder = Path(arguments[0] if arguments else ROOT / "demo").resolve()
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
    raise SystemExit(main(sys.argv[1:]))

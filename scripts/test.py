"""Set up and pass the tests: style, types, then pytest. Extra arguments go to pytest.

python scripts/test.py              everything
python scripts/test.py tests/unit   pytest on a part
"""

from __future__ import annotations

import subprocess
import sys

from environment import ROOT, ready


def main(arguments: list[str]) -> int:
    """Run the three checks in turn; return the first exit code that is not zero."""
    interpreter = str(ready("test"))
    checks = (
        ("style", [interpreter, "-m", "ruff", "check", "."]),
        ("format", [interpreter, "-m", "ruff", "format", "--check", "."]),
        ("types", [interpreter, "-m", "mypy"]),
        ("tests", [interpreter, "-m", "pytest", "-n", "auto", "--dist", "worksteal", *arguments]),
    )
    for name, command in checks:
        print(f"== {name}", flush=True)
        code = subprocess.run(command, cwd=ROOT, check=False).returncode
        if code:
            return code
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))

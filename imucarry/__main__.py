"""Run the command line with ``python -m imucarry``."""

from imucarry.cli import run

if __name__ == "__main__":
    run()

"""Output folders: whose they are, written aside and moved into place at the end.

A run writes all its files into a hidden folder beside the target and moves them
in when every one of them is complete, ``run.json`` last. On any error the hidden
folder is removed and an earlier result stays whole.
"""

from imucarry.outputs.folders import RUN_FILE, OutputFolder, claim, remove_owned
from imucarry.outputs.locks import UNCHANGED, only_run, plain_errors, resolved
from imucarry.outputs.staging import staged, sweep, sweep_inside, write_bytes

__all__ = [
    "RUN_FILE",
    "UNCHANGED",
    "OutputFolder",
    "claim",
    "only_run",
    "plain_errors",
    "remove_owned",
    "resolved",
    "staged",
    "sweep",
    "sweep_inside",
    "write_bytes",
]

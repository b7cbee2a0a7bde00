"""The invented session, written to a folder."""

from __future__ import annotations

from pathlib import Path


def write_demo_session(folder: str | Path) -> None:
    """Write the invented session to a folder that is absent, empty or an earlier demo.

    Parameters
    ----------
    folder : str or Path
        Made if absent.

    Raises
    ------
    OutputError
        If anything else lies there, or it cannot be written; then nothing is left behind.
    """
    from imucarry.outputs import OutputFolder, plain_errors, staged
    from imucarry.simulate import demo

    place = Path(folder)
    with plain_errors(place):
        demo.require_place(place)
        with staged(OutputFolder(place, ())) as aside:
            demo.write_demo(aside)

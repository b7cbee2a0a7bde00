"""The example session in ``data/`` is the one that the simulator writes."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np

from imucarry.basics.settings import Settings
from imucarry.readers.session import read_session
from imucarry.simulate.demo import SEED, demo_spec
from imucarry.simulate.session import SessionSpec, simulate_session

EXAMPLE = Path(__file__).resolve().parents[3] / "data" / "example"


def example_spec() -> SessionSpec:
    """Return a short visit of the demo's client, small enough to lie in ``data/example``."""
    whole = demo_spec(rate_hz=50.0)
    chosen = (whole.bouts[0], whole.bouts[2], whole.bouts[4], whole.bouts[9])
    return replace(whole, bouts=chosen, session="example", quiet_s=10.0)


def test_example_is_what_the_simulator_makes() -> None:
    simulated = simulate_session(example_spec(), SEED)
    session = read_session(EXAMPLE, Settings().readers)
    assert session.session == "example"
    assert session.bout_rows is not None
    assert [row.bout for row in session.bout_rows] == [row.bout for row in simulated.bout_rows]
    for read, made in zip(session.recordings, simulated.recordings, strict=True):
        n_samples = min(read.time_s.size, made.time_s.size)
        assert abs(read.time_s.size - made.time_s.size) <= 1
        # Rounded in the file to 0.001 m/s^2 and 1e-5 rad/s, one step more for other machines.
        np.testing.assert_allclose(read.acc_mps2[:n_samples], made.acc_mps2[:n_samples], atol=2e-3)
        np.testing.assert_allclose(
            read.gyr_radps[:n_samples], made.gyr_radps[:n_samples], atol=2e-3
        )

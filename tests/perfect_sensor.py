"""A simulated sensor that measures without error."""

from __future__ import annotations

from dataclasses import replace

from imucarry.simulate.sensors import Sensor


def perfect(sensor: Sensor) -> Sensor:
    """Return the sensor without any error, noise or ringing; its mounting stays."""
    return replace(
        sensor,
        acc_noise_mps2_rthz=0.0,
        gyr_noise_degps_rthz=0.0,
        acc_bias_mps2=(0.0, 0.0, 0.0),
        gyr_bias_degps=(0.0, 0.0, 0.0),
        gyr_drift_degps=0.0,
        scale_error=(0.0,) * 6,
        misalignment_deg=0.0,
        bits=32,
        ringing_frac=0.0,
    )

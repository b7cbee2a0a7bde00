"""The grammar of column names."""

from __future__ import annotations

import pytest

from imucarry.readers.names import (
    kind_of_word,
    parse_name,
    placement_of,
    unit_anywhere,
    unit_of,
)


@pytest.mark.parametrize(
    ("name", "kind", "axis", "unit"),
    [
        ("acc_x", "acc", "x", ""),
        ("Acc_Y", "acc", "y", ""),
        ("ACCz", "acc", "z", ""),
        ("x_acc", "acc", "x", ""),
        ("ax", "acc", "x", ""),
        ("a_x", "acc", "x", ""),
        ("accelX", "acc", "x", ""),
        ("accelerationx", "acc", "x", ""),
        ("AccX (m/s²)", "acc", "x", "m/s^2"),
        ("Acceleration Z [m/s^2]", "acc", "z", "m/s^2"),
        ("acc_x [m s-2]", "acc", "x", "m/s^2"),
        ("acc_x_m_s2", "acc", "x", "m/s^2"),
        ("acc_x_g", "acc", "x", "g"),
        ("accel y (mg)", "acc", "y", "mg"),
        ("X (m/s^2)", "acc", "x", "m/s^2"),
        ("gyr_z", "gyr", "z", ""),
        ("z_gyro", "gyr", "z", ""),
        ("wx", "gyr", "x", ""),
        ("gy", "gyr", "y", ""),
        ("GyroX", "gyr", "x", ""),
        ("AngularVelocityX", "gyr", "x", ""),
        ("angular velocity x (rad/s)", "gyr", "x", "rad/s"),
        ("rotation_rate_z", "gyr", "z", ""),
        ("Gyroscope Z [°/s]", "gyr", "z", "deg/s"),
        ("Gyroscope Z [\ufffd/s]", "gyr", "z", "deg/s"),
        ("gyr_y_dps", "gyr", "y", "deg/s"),
        ("gyro_z_rad_s", "gyr", "z", "rad/s"),
        ("gyro x (mdps)", "gyr", "x", "mdeg/s"),
        ("x [deg/s]", "gyr", "x", "deg/s"),
        ("Mag_X", "other", "x", ""),
        ("gravity_x", "gravity", "x", ""),
        ("angular acceleration x", "other", "x", ""),
        ("x", "", "x", ""),
        ("time", "time", "", ""),
        ("Timestamp (ms)", "time", "", "ms"),
        ("t_s", "time", "", "s"),
        ("time [µs]", "time", "", "us"),
        ("seconds_elapsed", "time", "", "s"),
        ("PacketCounter", "counter", "", ""),
        ("sensor", "sensor", "", ""),
        ("type", "type", "", ""),
        ("label", "", "", ""),
        ("temperature", "other", "", ""),
    ],
)
def test_quantity_axis_and_unit(name: str, kind: str, axis: str, unit: str) -> None:
    parts = parse_name(name)
    if kind == "other" and not axis:
        assert not parts.axis
        return
    assert (parts.kind, parts.axis, parts.unit) == (kind, axis, unit)


@pytest.mark.parametrize(
    ("name", "kind"),
    [("ax2", "acc"), ("AX2", "acc"), ("accx2", "acc"), ("acc_x2", "acc"), ("acc2_x", "acc"),
     ("gx2", "gyr"), ("wx2", "gyr"), ("GyrX2 [deg/s]", "gyr")],
)  # fmt: skip
def test_a_number_behind_the_axis_is_the_sensors(name: str, kind: str) -> None:
    parts = parse_name(name)
    assert (parts.kind, parts.axis, parts.group) == (kind, "x", "2")


def test_units_row_fills_a_silent_name() -> None:
    assert parse_name("acc_x", "(g)").unit == "g"
    assert parse_name("gyr_x", "deg/s").unit == "deg/s"
    assert parse_name("time", "ms").unit == "ms"


def test_acceleration_without_gravity_is_marked() -> None:
    assert parse_name("linear acceleration x").free_of_gravity
    assert parse_name("LinearAccelerationX").free_of_gravity
    assert not parse_name("acceleration x").free_of_gravity


@pytest.mark.parametrize(
    ("label", "placement"),
    [
        ("chest", "chest"),
        ("sternum", "chest"),
        ("P07 chest visit2", "chest"),
        ("left_wrist", "left_wrist"),
        ("wrist_L", "left_wrist"),
        ("LW", "left_wrist"),
        ("leftForeArm", "left_wrist"),
        ("RightWrist", "right_wrist"),
        ("wrist", ""),
        ("imu1", ""),
        ("ankle", ""),
    ],
)
def test_placement_words(label: str, placement: str) -> None:
    assert placement_of(label) == placement


def test_sensor_prefix_is_the_group() -> None:
    assert parse_name("left_wrist_acc_x_g").group == "left_wrist"
    assert parse_name("imu1_gyr_y").group == "imu1"
    assert parse_name("imu_acc_x").group == ""


def test_words_and_units() -> None:
    assert [kind_of_word(word) for word in ("Accelerometer", "gyro", "mag")] == ["acc", "gyr", ""]
    assert unit_of("m·s⁻²", "acc") == "m/s^2"
    assert unit_of("deg/sec", "gyr") == "deg/s"
    assert unit_of("furlong", "acc") == ""
    assert unit_anywhere("[uT]") == "ut"


@pytest.mark.parametrize(
    ("name", "kind", "axis", "unit"),
    [
        ("Beschl. X [m/s²]", "acc", "x", "m/s^2"),
        ("BeschleunigungY", "acc", "y", ""),
        ("Accélération Z (g)", "acc", "z", "g"),
        ("Aceleración X", "acc", "x", ""),
        ("Acelerômetro Y", "acc", "y", ""),
        ("Accelerazione X", "acc", "x", ""),
        ("Versnelling Z", "acc", "z", ""),
        ("Przyspieszenie X", "acc", "x", ""),
        ("Drehrate X (°/s)", "gyr", "x", "deg/s"),
        ("Winkelgeschwindigkeit Y", "gyr", "y", ""),
        ("Vitesse angulaire Z", "gyr", "z", ""),
        ("Velocidad angular X (rad/s)", "gyr", "x", "rad/s"),
        ("Giroscopio Y", "gyr", "y", ""),
        ("Velocità angolare Z", "gyr", "z", ""),
        ("Hoeksnelheid X", "gyr", "x", ""),
        ("Prędkość kątowa Y", "gyr", "y", ""),
        ("ω_x", "gyr", "x", ""),
        ("ωy [rad/s]", "gyr", "y", "rad/s"),
        ("Ω z", "gyr", "z", ""),
        ("ωₓ (deg/s)", "gyr", "x", "deg/s"),
        ("aₓ", "acc", "x", ""),
        ("Winkelbeschleunigung X", "other", "x", ""),
        ("Accélération angulaire X", "other", "x", ""),
        ("Magnetfeld X (µT)", "other", "x", ""),
        ("Schwerkraft X (m/s²)", "gravity", "x", "m/s^2"),
        ("Zeit (s)", "time", "", "s"),
        ("Zeitstempel", "time", "", ""),
        ("Temps [ms]", "time", "", "ms"),
        ("Tiempo (µs)", "time", "", "us"),
        ("Tempo", "time", "", ""),
        ("Tijd", "time", "", ""),
        ("Czas [s]", "time", "", "s"),
        ("Tid", "time", "", ""),
        ("Aika (s)", "time", "", "s"),
        ("Ora", "time", "", ""),
        ("Hora", "time", "", ""),
        ("Temp", "other", "", ""),
    ],
)
def test_words_of_other_languages(name: str, kind: str, axis: str, unit: str) -> None:
    test_quantity_axis_and_unit(name, kind, axis, unit)


def test_linear_acceleration_of_other_languages_is_free_of_gravity() -> None:
    for name in ("Lineare Beschleunigung X", "Accélération linéaire X", "Aceleración lineal X"):
        assert parse_name(name).free_of_gravity


@pytest.mark.parametrize(
    ("label", "placement"),
    [
        ("Brust", "chest"),
        ("Handgelenk links", "left_wrist"),
        ("rechtes_Handgelenk", "right_wrist"),
        ("Unterarm rechts", "right_wrist"),
        ("Handgelenk", ""),
    ],
)
def test_german_names_of_placements(label: str, placement: str) -> None:
    assert placement_of(label) == placement

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.errors import InputError, UnknownName
from crib.trade import tables
from crib.trade.cutting.power import (
    cutting_force_N,
    cutting_power_kW,
    drive_efficiency,
    motor_power_kW,
    power_from_kc_kW,
    power_from_removal_kW,
    removal_rate_cm3_min,
    removal_rate_exact_cm3_min,
    spindle_torque_Nm,
    torque_from_power_Nm,
)
from crib.trade.cutting.spindle import spindle_speed

some = st.floats(0.1, 1000)


@given(some, some)
def test_force_and_power_turn_back(force: float, vc: float) -> None:
    assert cutting_force_N(cutting_power_kW(force, vc), vc) == pytest.approx(force)


@given(some, some, st.floats(1, 2000))
def test_torque_by_force_and_by_power_agree(force: float, vc: float, d: float) -> None:
    by_power = torque_from_power_Nm(cutting_power_kW(force, vc), spindle_speed(vc, d))
    assert by_power == pytest.approx(spindle_torque_Nm(force, d))


@given(st.floats(0.1, 5), st.floats(0.05, 1), st.floats(10, 400), st.floats(300, 5000))
def test_power_by_section_and_by_removal_agree(ap: float, f: float, vc: float, kc: float) -> None:
    by_removal = power_from_removal_kW(removal_rate_cm3_min(vc, f, ap), kc)
    assert by_removal == pytest.approx(power_from_kc_kW(ap, f, vc, kc))


@given(st.floats(20, 500), st.floats(0.1, 5), st.floats(0.05, 1), st.floats(10, 300))
def test_the_handbook_rate_overstates_by_depth_over_diameter(
    d: float, ap: float, f: float, vc: float
) -> None:
    exact = removal_rate_exact_cm3_min(d, d - 2 * ap, f, spindle_speed(vc, d))
    assert exact == pytest.approx(removal_rate_cm3_min(vc, f, ap) * (1 - ap / d))


def test_drives() -> None:
    assert drive_efficiency("geared head", tables.rows)[:2] == (0.7, 0.8)
    with pytest.raises(UnknownName):
        drive_efficiency("hamster wheel", tables.rows)


@pytest.mark.parametrize("bad", [0, -0.5, 1.2])
def test_impossible_efficiency(bad: float) -> None:
    with pytest.raises(InputError):
        motor_power_kW(3, bad)


def test_impossible_speeds() -> None:
    with pytest.raises(InputError):
        cutting_force_N(1, 0)
    with pytest.raises(InputError):
        torque_from_power_Nm(1, 0)

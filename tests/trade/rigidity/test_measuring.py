"""Stiffness, damping and moving mass from readings: exact inputs come back, and the bands hold the truth."""

from math import log10, pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crib.errors import InputError
from crib.trade.rigidity import measuring


@settings(max_examples=60, deadline=None)
@given(
    k=st.floats(500, 60000),
    many=st.integers(1, 6),
    most=st.floats(100, 800),
    offset=st.floats(0, 0.3),
    step=st.sampled_from([0.001, 0.0025, 0.01]),
)
def test_the_band_of_a_push_test_holds_the_true_stiffness(
    k: float, many: int, most: float, offset: float, step: float
) -> None:
    forces = [most * (at + 1) / many for at in range(many)]
    start = offset if many > 1 else 0.0  # of one reading alone the indicator was set to zero
    read = [round((start + force / k) / step) * step for force in forces]
    try:
        push = measuring.push_test(forces, read, step_mm=step)
    except InputError:
        assert most / k < step * max(many, 1)  # the pointer hardly moved
        return
    assert push.k_N_mm.low <= k * (1 + 1e-9)
    assert push.k_N_mm.high >= k * (1 - 1e-9)


def test_lost_motion_is_read_on_the_way_back() -> None:
    up, back = [100.0, 200.0, 300.0], [200.0, 100.0]
    read = [0.02 + force / 10000 for force in up] + [0.026 + force / 10000 for force in back]
    push = measuring.push_test([*up, *back], read, step_mm=0.001)
    assert push.k_N_mm.value == pytest.approx(10000)
    assert push.lost_motion_mm == pytest.approx(0.006)
    assert push.misfit_mm == pytest.approx(0.0, abs=1e-12)


def test_readings_below_the_preload_only_took_up_play() -> None:
    read = [0.05, 0.08, 0.09, 0.10]
    push = measuring.push_test([20.0, 100.0, 200.0, 300.0], read, preload_N=100.0)
    assert push.used == 3
    assert push.k_N_mm.value == pytest.approx(10000)


@pytest.mark.parametrize("damping", [0.005, 0.03, 0.2])
def test_every_way_of_telling_a_decay_gives_the_damping(damping: float) -> None:
    """One mode: amplitude falls by exp(-zeta w_n t), with the period of the damped frequency."""
    cycles, hz = 4.0, 92.0
    ratio = 2.718281828459045 ** (2 * pi * damping / sqrt(1 - damping**2) * cycles)
    assert measuring.damping_from_ratio(ratio, cycles) == pytest.approx(damping)
    assert measuring.damping_from_ratio(1 / ratio, cycles) == pytest.approx(damping)
    assert measuring.damping_from_decibels(20 * log10(ratio), cycles) == pytest.approx(damping)
    if damping < 0.1:  # half power: a rule for light damping
        low, high = hz * (1 - damping), hz * (1 + damping)
        assert measuring.damping_from_band(low, high) == pytest.approx((damping, hz))


def test_mass_and_stiffness_go_round() -> None:
    m, k = 10.0, 3350.0  # kg, N/mm: f = 92.1 Hz
    hz = sqrt(1000 * k / m) / (2 * pi)
    assert measuring.modal_mass_kg(k, hz) == pytest.approx(m)
    assert measuring.modal_stiffness_N_mm(m, hz) == pytest.approx(k)
    heavy = sqrt(1000 * k / (m + 2.0)) / (2 * pi)
    assert measuring.mass_from_added(2.0, hz, heavy) == pytest.approx(m)
    # an error of 1 % in a ratio of 0.9 makes about 11 %
    assert measuring.mass_from_added(1.0, 100.0, 90.9) / measuring.mass_from_added(1.0, 100.0, 90.0) - 1 == (
        pytest.approx(0.11, abs=0.02)
    )


def test_what_cannot_be() -> None:
    for wrong in (
        lambda: measuring.push_test([100.0], []),
        lambda: measuring.push_test([], []),
        lambda: measuring.push_test([100.0, 100.0], [0.1, 0.1]),
        lambda: measuring.push_test([100.0, 200.0], [0.2, 0.1]),
        lambda: measuring.damping_from_ratio(1.0, 5),
        lambda: measuring.damping_from_ratio(0.0, 5),
        lambda: measuring.damping_from_ratio(2.0, 0),
        lambda: measuring.damping_from_band(95.0, 90.0),
        lambda: measuring.mass_from_added(2.0, 84.0, 92.0),
        lambda: measuring.modal_mass_kg(0.0, 92.0),
        lambda: measuring.stiffness_from_step(50.0, 60.0, 0.1),
    ):
        with pytest.raises(InputError):
            wrong()

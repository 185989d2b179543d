"""Chatter against published figures and against a time simulation of the delay equation."""

from collections.abc import Callable
from math import atan, cos, log, pi, radians, sin, sqrt

import pytest

from crib.trade.cutting.force import Slopes
from crib.trade.rigidity.chatter import (
    allowed_at_speed,
    allowed_stiffness,
    chatter_frequency,
    margin,
    pocket,
    process_damping_speed,
    project,
    straight_limit,
)
from crib.trade.rigidity.setup import Gives


def direction(away: float, along: float, down: float) -> Gives:
    return Gives(
        name="",
        words="",
        also=(),
        away=away,
        along=along,
        down=down,
        weight_away=1.0,
        weight_along=1.0,
        weight_down=1.0,
    )


def test_least_chip_width_of_the_dimensionless_chart() -> None:
    # Insperger & Stépán, Semi-Discretization for Time-Delay Systems, turning with one mode: the stability
    # chart's lowest point is 2 zeta (1 + zeta), 0.0408 at zeta 0.02; recalled
    assert allowed_stiffness(1.0, 0.02) == pytest.approx(0.0408, abs=1e-6)
    assert margin(1.0, 0.02, 0.0408) == pytest.approx(1.0, abs=1e-4)


def test_shaping_example_of_the_textbook() -> None:
    # Altintas, Manufacturing Automation, 2nd ed., p. 131: Ks 1000 N/mm², mode 250 Hz, 2.26e8 N/m, 1.2 %, at
    # 30° to the chip's normal; read from the plotted chart: 7.1 mm at 8700 rev/min. The second mode (150 Hz
    # at -45°) is left out here, which moves the limit by 2 %.
    K_per_mm = project(
        Slopes(pp=1000.0, pf=0.0, ff=0.0, cp=0.0, cf=0.0), direction(cos(radians(30)), 0.5, 0.0)
    )
    limit = straight_limit(2.26e5, 0.012, K_per_mm)
    assert limit == pytest.approx(7.1, rel=0.04)
    at_8700 = allowed_at_speed(8700.0, k_N_mm=2.26e5, frequency_hz=250.0, damping_ratio=0.012) / K_per_mm
    assert at_8700 == pytest.approx(7.1, rel=0.04)


@pytest.mark.parametrize(
    ("alpha", "mu"), [(0, 0.42), (30, 0.71), (45, 0.66), (60, 0.50), (75, 0.26), (90, 0.0)]
)
def test_directional_factor(alpha: float, mu: float) -> None:
    # Schmitz & Smith, Machining Dynamics, ch. 3, after Tlusty: mu = cos(beta - alpha) cos(alpha); beta = 65°,
    # force Ks at beta from the chip's normal, motion at alpha from it towards the cutting speed
    Ks, beta = 2000.0, radians(65)
    slopes = Slopes(pp=0.0, pf=0.0, ff=Ks * cos(beta), cp=0.0, cf=Ks * sin(beta))
    a = radians(alpha)
    assert project(slopes, direction(0.0, cos(a), sin(a))) / Ks == pytest.approx(mu, abs=0.006)


@pytest.mark.parametrize("damping", [0.01, 0.03, 0.1])
@pytest.mark.parametrize("lobe", [0, 1, 4, 20])
def test_lobe_minima(damping: float, lobe: int) -> None:
    # Tlusty's lobes for one mode: minima at n = 60 f_c / (j + 1 - atan(1 / sqrt(1 + 2 zeta)) / pi), where
    # the chatter frequency is f_n sqrt(1 + 2 zeta)
    turns = lobe + 1 - atan(1 / sqrt(1 + 2 * damping)) / pi
    n = 60 * chatter_frequency(200.0, damping) / turns
    allowed = allowed_at_speed(n, k_N_mm=10000.0, frequency_hz=200.0, damping_ratio=damping)
    assert allowed == pytest.approx(allowed_stiffness(10000.0, damping), rel=1e-9)
    faster = allowed_at_speed(n * 1.02, k_N_mm=10000.0, frequency_hz=200.0, damping_ratio=damping)
    assert faster > allowed * (1 + 1e-6)


def grows(K: float, damping: float, waves: float, rub: float = 0.0) -> float:
    """Integrate x'' + (2 zeta + rub) x' + x = K (x(t - T) - x(t)), T = 2 pi waves.

    Returns how much the logarithm of the vibration's size grows from the second to the last third.
    """
    steps = max(60, round(2 * pi * waves / 0.04))
    dt = 2 * pi * waves / steps
    drag = (damping + rub / 2) * dt
    path = [1e-3] * (steps + 2)
    path[-1] = 1.1e-3
    turns = max(60, round(260 / waves))
    for _ in range(turns * steps):
        now, before, then = path[-1], path[-2], path[-1 - steps]
        path.append((2 * now - before * (1 - drag) + dt * dt * (K * (then - now) - now)) / (1 + drag))
    third = len(path) // 3

    def size(part: list[float]) -> float:
        return sqrt(sum(x * x for x in part) / len(part))

    return log(size(path[-third:]) / size(path[-2 * third : -third]))


def simulated_limit(test: Callable[[float], float], low: float, high: float) -> float:
    assert test(low) < 0 < test(high)
    for _ in range(8):
        middle = (low + high) / 2
        if test(middle) > 0:
            high = middle
        else:
            low = middle
    return (low + high) / 2


@pytest.mark.parametrize(
    ("damping", "waves"),
    [
        (0.03, 1.74 / sqrt(1.06)),  # near a minimum
        (0.05, pocket(0, 0.05)[1]),  # on top of the first gap
        (0.02, 3.4),  # somewhere on a lobe's flank
        (0.10, 6.1),  # well damped, slow
    ],
)
def test_lobes_agree_with_a_time_simulation(damping: float, waves: float) -> None:
    allowed = allowed_at_speed(60.0 / waves, k_N_mm=1.0, frequency_hz=1.0, damping_ratio=damping)
    found = simulated_limit(lambda K: grows(K, damping, waves), 0.9 * allowed, 1.1 * allowed)
    assert found == pytest.approx(allowed, rel=0.02)


@pytest.mark.parametrize("damping", [0.02, 0.05])
def test_a_cut_that_pulls_the_wave_flat_agrees_with_the_simulation(damping: float) -> None:
    # negative regenerative stiffness: limit 2 k zeta (1 - zeta) at f_n sqrt(1 - 2 zeta), below f_n
    ratio = chatter_frequency(1.0, damping, negative=True)
    allowed = allowed_stiffness(1.0, damping, negative=True)
    waves = (2 + atan(1 / ratio) / pi) / ratio  # at the lowest point of the second lobe
    found = simulated_limit(lambda K: grows(-K, damping, waves), 0.9 * allowed, 1.1 * allowed)
    assert found == pytest.approx(allowed, rel=0.02)


def test_below_the_process_damping_speed_no_depth_chatters_in_the_simulation() -> None:
    # one mode with the flank's rubbing added as damping in proportion to chip width and to 1/speed:
    # m 0.561 kg, c 145 N s/m, k 6.48e6 N/m, Ks 1384 N/mm², C 6.11e5 N/m (Altintas, Eynian & Onozuka, CIRP
    # Annals 57, 2008, recalled)
    fn, damping = sqrt(6.48e6 / 0.561) / (2 * pi), 145 / (2 * sqrt(6.48e6 * 0.561))
    assert fn == pytest.approx(541, abs=0.5)
    assert damping == pytest.approx(0.038, abs=5e-4)
    border = process_damping_speed(fn, damping, 1384.0, 6.11e5)

    def growth(vc_m_min: float, width_mm: float) -> float:
        K = 1384e6 * width_mm / 1000 / 6.48e6
        rub = 6.11e5 * width_mm / 1000 / (vc_m_min / 60) / sqrt(6.48e6 * 0.561)
        return max(grows(K, damping, waves, rub) for waves in (12.6, 12.7, 12.8, 12.9))

    assert all(growth(0.8 * border, width) < 0 for width in (0.5, 2.0, 8.0))
    assert growth(1.5 * border, 2.0) > 0

"""Corrections of the force, each once, and the reserve of power."""

import pytest

from crib.errors import InputError, TableError, UnknownName
from crib.trade import tables
from crib.trade.cutting.force_factors import ForceFactors, combine, speed_factor
from crib.trade.cutting.power import power_reserve

FACTORS = ForceFactors.load(tables.rows("force_factors"))


def test_nothing_is_corrected_unless_asked() -> None:
    plain = combine()
    assert (plain.low, plain.high, plain.sources, plain.words) == (1.0, 1.0, (), ())
    reference = combine(
        FACTORS.of("wear", "sharp"),
        FACTORS.of("operation", "external turning"),
        FACTORS.of("fluid", "dry"),
        FACTORS.of("tool material", "carbide"),
        speed_factor(100, FACTORS),
    )
    assert (reference.low, reference.high) == (1.0, 1.0)


def test_worn_boring_with_hss() -> None:
    both = combine(
        FACTORS.of("wear", "worn"), FACTORS.of("operation", "boring"), FACTORS.of("tool material", "HSS")
    )
    assert both.low == pytest.approx(1.3 * 1.2 * 1.2)
    assert both.high == pytest.approx(1.5 * 1.2 * 1.2)
    assert both.sources == ("force_kienzle_factors",)
    assert both.words[0].startswith("wear (worn): × 1.3 to 1.5; end of life")


def test_each_correction_once() -> None:
    with pytest.raises(InputError, match="wear twice"):
        combine(FACTORS.of("wear", "worn"), FACTORS.of("wear", "rough turning"))


def test_cutting_speed() -> None:
    assert speed_factor(200, FACTORS).low == pytest.approx((100 / 200) ** 0.1)
    assert speed_factor(80, FACTORS).note == ""
    slow = speed_factor(20, FACTORS)
    assert slow.low == speed_factor(80, FACTORS).low
    assert "80 to 250" in slow.note
    assert speed_factor(900, FACTORS).low == speed_factor(250, FACTORS).low
    with pytest.raises(InputError):
        speed_factor(0, FACTORS)


def test_unknown_case_names_the_known_ones() -> None:
    with pytest.raises(UnknownName, match="case of wear") as caught:
        FACTORS.of("wear", "blunt")
    assert "worn" in caught.value.nearest
    with pytest.raises(TableError):
        ForceFactors.load([])


def test_reserve_of_power() -> None:
    wear = FACTORS.of("wear", "worn").high
    wanted = FACTORS.of("reserve", "power").high

    def weigh(motor: float, band: float = 1.0) -> str:
        return power_reserve(3.0, motor, 0.7, kc_band_high=band, wear_high=wear, wanted=wanted).verdict

    assert weigh(4.0) == "too little"  # 2.8 kW at the edge
    assert weigh(6.0) == "close"
    assert weigh(9.0) == "enough"  # 6.3 against 3 x 1.5 x 1.25 = 5.6
    assert weigh(9.0, band=1.4) == "close"  # as well in doubt by the sources of specific force
    found = power_reserve(3.0, 9.0, 0.7, kc_band_high=1.4, wear_high=1.5, wanted=1.25)
    assert found.needed_high_kW == pytest.approx(6.3)
    assert found.reserve == pytest.approx(2.1)
    assert found.reserve_high == pytest.approx(1.0)


@pytest.mark.parametrize(
    "wrong", [{"kc_band_high": 0.9}, {"wear_high": 0.5}, {"wanted": 0.0}, {"efficiency": 1.2}, {"Pc_kW": 0.0}]
)
def test_reserve_of_nonsense(wrong: dict[str, float]) -> None:
    right = {
        "Pc_kW": 3.0,
        "motor_kW": 5.0,
        "efficiency": 0.7,
        "kc_band_high": 1.2,
        "wear_high": 1.3,
        "wanted": 1.25,
    }
    with pytest.raises(InputError):
        power_reserve(**{**right, **wrong})

"""Tool life and its cost: what must hold whatever the figures, and least cost against a search for it."""

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.errors import InputError, UnknownName
from crib.trade import tables
from crib.trade.cutting.life import (
    Costs,
    TaylorLaw,
    exponent_band,
    find_life,
    law_through,
    least_cost_life_min,
    least_cost_speed_m_min,
    life_min,
    load_life,
    most_parts_life_min,
    most_parts_speed_m_min,
    moved_speed_m_min,
    piece,
    speed_for_life_m_min,
)

KNOWN = load_life(tables.rows("taylor"))
exponents = st.floats(0.08, 0.8)
lives = st.floats(1, 300)


@given(exponents, st.floats(20, 2000), lives, st.floats(0.05, 1), st.floats(0.2, 8))
def test_speed_and_life_are_each_others_inverse(n: float, C: float, T: float, f: float, ap: float) -> None:
    law = TaylorLaw(n=n, C_m_min=C, y=0.6, x=0.15, f_mm=0.25, ap_mm=2.5)
    vc = speed_for_life_m_min(law, T, f, ap)
    assert life_min(law, vc, f, ap) == pytest.approx(T, rel=1e-9)


@given(exponents, lives, lives)
def test_moving_a_known_speed_is_following_the_law(n: float, T1: float, T2: float) -> None:
    law = TaylorLaw(n=n, C_m_min=300)
    moved = moved_speed_m_min(speed_for_life_m_min(law, T1), T1, T2, n)
    assert moved == pytest.approx(speed_for_life_m_min(law, T2))


def test_speed_hurts_most_then_feed_then_depth() -> None:
    law = TaylorLaw(n=0.25, C_m_min=500, y=0.6, x=0.15, f_mm=0.25, ap_mm=2.5)
    plain = life_min(law, 150)
    faster, coarser, deeper = (
        life_min(law, 165),
        life_min(law, 150, f_mm=0.275),
        life_min(law, 150, ap_mm=2.75),
    )
    assert faster < coarser < deeper < plain


def test_a_law_through_two_tests_passes_through_them() -> None:
    law = law_through((180, 4.25), (110, 35))
    assert life_min(law, 180) == pytest.approx(4.25)
    assert life_min(law, 110) == pytest.approx(35)


def test_a_crawl_lasts_longer_than_floats_hold() -> None:
    assert life_min(TaylorLaw(n=0.01, C_m_min=1000), 0.1) == inf
    assert piece(1, inf, Costs(machine_per_min=1, change_min=2, edge=3)).cost == 1


@given(st.floats(0.1, 0.7), st.floats(0.5, 10), st.floats(0, 30), st.floats(0.2, 3))
def test_no_speed_beside_the_best_is_better(n: float, change: float, edge: float, minute: float) -> None:
    law = TaylorLaw(n=n, C_m_min=300)
    costs = Costs(machine_per_min=minute, change_min=change, edge=edge, handling_min=2)

    def at(vc: float) -> tuple[float, float]:
        one = piece(100 / vc, life_min(law, vc), costs)
        return one.cost, one.total_min

    cheap, quick = least_cost_speed_m_min(law, costs), most_parts_speed_m_min(law, change)
    assert cheap <= quick * (1 + 1e-12)  # an edge costs money: it pays to spare it
    for other in (0.7, 0.9, 1.1, 1.4):
        assert at(cheap)[0] <= at(cheap * other)[0]
        assert at(quick)[1] <= at(quick * other)[1]


def test_cost_by_hand() -> None:
    # 12 min in the cut, edges of 48 min: a quarter edge; change 2 min, so 0.5 min; handling 5
    one = piece(12, 48, Costs(machine_per_min=1.5, change_min=2, edge=8, handling_min=5))
    assert (one.edges, one.change_min, one.total_min) == (0.25, 0.5, 17.5)
    assert one.cost == pytest.approx(1.5 * 17.5 + 0.25 * 8)


def test_rows_for_steel_with_carbide() -> None:
    found = find_life("P", "carbide", KNOWN)
    assert found[0].id == "TG6"
    assert found[0].C_m_min is not None
    assert found[-1].C_m_min is None
    assert exponent_band(found) == (0.2, 0.5)
    assert speed_for_life_m_min(found[0].law(), 60) == pytest.approx(500 / 60**0.25)


def test_the_lecture_row_gives_back_its_printed_point() -> None:
    (row,) = [row for row in KNOWN if row.id == "TE4"]
    assert life_min(row.law(), 30, 0.3, 2.5) == pytest.approx(60, rel=0.01)


def test_a_row_says_where_it_does_not_speak() -> None:
    (fitted,) = [row for row in KNOWN if row.id == "TD3"]
    assert fitted.validity(250, 0.195) == ()
    assert "200 to 300" in fitted.validity(400)[0]
    assert "feed 0.195" in fitted.validity(250, 0.4)[0]
    (book,) = [row for row in KNOWN if row.id == "TG6"]
    assert "not printed" in book.validity(150)[0]
    (band,) = [row for row in KNOWN if row.id == "TK3"]
    assert "0.2 to 0.5" in band.validity()[-1]
    with pytest.raises(InputError, match="only the exponent"):
        band.law()


def test_every_row_can_be_used() -> None:
    tools = {row["name"] for row in tables.rows("tool_materials")}
    for row in KNOWN:
        assert row.tool in tools, row.id
        assert set(row.groups) <= set("PMKNSH"), row.id
        assert 0 < row.n_low <= row.n_high < 1, row.id
        if row.C_m_min is not None:
            assert life_min(row.law(), row.C_m_min) == pytest.approx(1)


@pytest.mark.parametrize(
    "question",
    [
        lambda: TaylorLaw(n=0, C_m_min=100),
        lambda: TaylorLaw(n=0.2, C_m_min=100, y=-1),
        lambda: life_min(TaylorLaw(n=0.2, C_m_min=100), 0),
        lambda: speed_for_life_m_min(TaylorLaw(n=0.2, C_m_min=100), -1),
        lambda: law_through((100, 10), (120, 20)),
        lambda: law_through((100, 10), (100, 10)),
        lambda: Costs(machine_per_min=0, change_min=1, edge=1),
        lambda: Costs(machine_per_min=1, change_min=-1, edge=1),
        lambda: most_parts_life_min(0.25, 0),
        lambda: least_cost_life_min(1.6, Costs(machine_per_min=1, change_min=1, edge=1)),
        lambda: piece(0, 10, Costs(machine_per_min=1, change_min=1, edge=1)),
        lambda: piece(1, 0, Costs(machine_per_min=1, change_min=1, edge=1)),
        lambda: moved_speed_m_min(100, 60, 0, 0.25),
    ],
)
def test_impossible_numbers(question: object) -> None:
    with pytest.raises(InputError):
        question()  # type: ignore[operator]


def test_no_rows() -> None:
    with pytest.raises(UnknownName, match="tool-life data"):
        find_life("N", "PCD", KNOWN)

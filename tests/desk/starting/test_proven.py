"""The shop's own proven speeds: beside the book's, before them when asked, withdrawn and never deleted."""

from math import pi

import pytest

from crib.desk.keeping.settings import put
from crib.desk.picking.pick import PickRequest, pick
from crib.desk.starting.own import Wanted, look
from crib.desk.starting.proven import ProvenRequest, add_proven, forget, proven
from crib.desk.starting.start import start
from crib.errors import (
    BadQuantity,
    CribError,
    InputError,
    NothingFound,
    NotPossible,
    StoreMissing,
    UnknownName,
)
from crib.store.read import reading

CUT = {"material": "4140", "tool": "coated carbide"}
TURN = PickRequest(
    op="turn", material="4140", from_="80 mm", to="76 mm", machine="old lathe", setup="fair", depth="1 mm"
)


def prove(store: str, **changes: object) -> int:
    request = ProvenRequest(**{**CUT, "vc": "110 m/min", **changes})  # type: ignore[arg-type]
    return add_proven(store, request).proven.id


def look_for(store: str, **changes: object) -> tuple[int | None, dict[int, str]]:
    """Give the number that counts for a cut, and why the others don't."""
    wanted = Wanted(**{"tool": "coated carbide", "operation": "turning", "cut": "medium", **changes})  # type: ignore[arg-type]
    with reading(store) as crib:
        found = look(crib.proven(), wanted)
    return found.best and found.best.id, {row.id: why for row, why in found.others}


def machine_id(store: str, name: str) -> int:
    with reading(store) as crib:
        return next(row.place_id for row in crib.machines() if row.name == name)


# -- entering, listing, withdrawing -----------------------------------------------------------------------


def test_what_was_told_is_kept_with_who_and_when(demo_address: str) -> None:
    request = ProvenRequest(
        **CUT,
        vc="110 m/min",
        feed="0.21",
        depth="1/16 in",
        cut="Rough",
        machine="old lathe",
        note="dry",
        result="clean",
        scale=True,
    )
    added = add_proven(demo_address, request)
    one = added.proven
    assert (one.tool, one.op, one.cut, one.machine) == ("coated carbide", "turning", "rough", "old lathe")
    assert (one.vc_m_min, one.f_mm, one.ap_mm) == pytest.approx((110, 0.21, 1.5875))
    # demo_data: the setting me
    assert (one.by, one.note, one.result, one.conditions) == ("Tamsin Arkwell", "dry", "clean", ("scale",))
    assert "4140" in one.material
    assert added.book_vc_m_min == start("", **CUT, cut="rough", scale=True).vc_m_min
    assert proven(demo_address, material="4140").proven == (one,)


def test_a_speed_told_as_rev_min_and_diameter(demo_address: str) -> None:
    prove(demo_address, vc="", n="335", diameter="3 in")
    [one] = proven(demo_address, material="4140").proven
    assert one.vc_m_min == pytest.approx(pi * 76.2 * 335 / 1000)


@pytest.mark.parametrize("engine", ["demo_address", "postgres_url"])
def test_a_withdrawn_speed_counts_no_more_and_stays_on_record(
    engine: str, request: pytest.FixtureRequest
) -> None:
    store = request.getfixturevalue(engine)
    first, second = prove(store), prove(store, vc="120 m/min")
    gone = forget(store, second, why="typed in feet")
    assert gone.withdrawn_at
    assert gone.withdrawn_why == "typed in feet"
    assert [one.id for one in proven(store, material="4140").proven] == [first]
    assert [one.id for one in proven(store, material="4140", withdrawn=True).proven] == [first, second]
    assert look_for(store) == (first, {})
    with pytest.raises(NotPossible, match="withdrawn already"):
        forget(store, second)
    with pytest.raises(UnknownName, match="'99'"):
        forget(store, 99)


def test_only_the_material_asked_for(demo_address: str) -> None:
    prove(demo_address)
    prove(demo_address, material="A36")
    assert [one.material_id for one in proven(demo_address, material="a 36").proven] != []
    assert len(proven(demo_address, material="A36").proven) == 1
    with pytest.raises(NothingFound, match="316"):
        proven(demo_address, material="316")


@pytest.mark.parametrize(
    ("changes", "error"),
    [
        ({"vc": ""}, InputError),
        ({"vc": "0"}, InputError),
        ({"vc": "1e6 m/min"}, InputError),
        ({"vc": "110 kW"}, BadQuantity),
        ({"vc": "110", "n": "335"}, InputError),
        ({"vc": "", "n": "335"}, InputError),
        ({"feed": "-0.2"}, BadQuantity),
        ({"depth": "0"}, InputError),
        ({"material": "unobtainium"}, UnknownName),
        ({"tool": "wood"}, UnknownName),
        ({"op": "knit"}, UnknownName),
        ({"cut": "brutal"}, UnknownName),
        ({"cut": "rough", "op": "drill"}, UnknownName),
        ({"machine": "shaper"}, UnknownName),
        ({"note": "x" * 2001}, InputError),
    ],
)
def test_what_can_t_be_is_refused_and_nothing_is_written(
    demo_address: str, changes: dict[str, str], error: type[CribError]
) -> None:
    with pytest.raises(error):
        prove(demo_address, **changes)
    with pytest.raises(NothingFound):
        proven(demo_address, material="4140")


# -- which one counts -------------------------------------------------------------------------------------


def test_the_latest_counts(demo_address: str) -> None:
    first, second = prove(demo_address), prove(demo_address, vc="90 m/min")
    assert look_for(demo_address) == (second, {first: ""})


def test_the_machine_at_hand_before_any_and_no_other(demo_address: str) -> None:
    lathe = prove(demo_address, machine="old lathe")
    anywhere = prove(demo_address, vc="90 m/min")
    at_lathe = machine_id(demo_address, "old lathe")
    at_mill = machine_id(demo_address, "boring mill")
    assert look_for(demo_address, machine_id=at_lathe) == (lathe, {anywhere: ""})
    assert look_for(demo_address, machine_id=at_mill) == (anywhere, {lathe: "proven on the old lathe"})


def test_not_for_a_deeper_cut_than_proven(demo_address: str) -> None:
    one = prove(demo_address, depth="1/16 in")
    assert look_for(demo_address, ap_mm=1.5875)[0] == one
    assert look_for(demo_address, ap_mm=0.5)[0] == one
    assert look_for(demo_address, ap_mm=1.6) == (
        None,
        {one: "proven no deeper than 1.587 mm (1/16 in) a side"},
    )


def test_the_kind_of_cut_where_no_depth_tells(demo_address: str) -> None:
    rough, any_cut = prove(demo_address, cut="rough"), prove(demo_address, vc="90 m/min")
    assert look_for(demo_address, cut="finish") == (any_cut, {rough: "for a rough cut"})
    assert look_for(demo_address, cut="rough") == (rough, {any_cut: ""})


def test_not_without_the_condition_under_which_it_was_proven(demo_address: str) -> None:
    one = prove(demo_address, scale=True)
    assert look_for(demo_address) == (None, {one: "proven under scale"})
    assert look_for(demo_address, conditions=("scale", "interrupted"))[0] == one


def test_other_tools_and_operations_are_not_in_it(demo_address: str) -> None:
    prove(demo_address, tool="hss", vc="25 m/min")
    prove(demo_address, op="face")
    assert look_for(demo_address) == (None, {})


# -- in starting data -------------------------------------------------------------------------------------


def test_they_stand_beside_the_book_s(demo_address: str) -> None:
    before = start(demo_address, **CUT)
    assert (before.own, before.speeds_from) == ((), "book")
    number = prove(demo_address, feed="0.21")
    found = start(demo_address, **CUT)
    assert found.vc_m_min == before.vc_m_min == found.book_vc_m_min
    assert found.speeds_from == "book"
    [own] = found.own
    assert (own.proven.id, own.counts, own.why_not) == (number, True, "")
    assert "by Tamsin Arkwell" in own.proven.said


def test_they_win_when_asked_or_set(demo_address: str) -> None:
    prove(demo_address, feed="0.21", depth="1.5 mm")
    book = start("", **CUT)
    asked = start(demo_address, **CUT, own=True, diameter="80 mm", machine="old lathe")
    assert (asked.vc_m_min.low, asked.vc_m_min.start, asked.vc_m_min.high) == (110, 110, 110)
    assert asked.f_mm is not None
    assert asked.ap_mm is not None
    assert (asked.f_mm.start, asked.ap_mm.start) == (0.21, 1.5)
    # 1000 x 110 / (pi x 80) = 437.7; the lathe's plate has 335 below it
    assert asked.n_rev_min == 335
    assert asked.speeds_from == "own"
    assert asked.book_vc_m_min == book.vc_m_min
    assert asked.source == ("The shop's own proven speeds (crib proven)",)
    assert start(demo_address, **CUT).speeds_from == "book"
    put(demo_address, "speeds", "own")
    assert start(demo_address, **CUT).vc_m_min.start == 110
    assert start(demo_address, **CUT, own=False).vc_m_min == book.vc_m_min


def test_what_the_shop_did_not_tell_comes_from_the_book(demo_address: str) -> None:
    prove(demo_address)
    book, found = start("", **CUT), start(demo_address, **CUT, own=True)
    assert (found.f_mm, found.ap_mm) == (book.f_mm, book.ap_mm)
    assert {"feed as the book has it", "depth as the book has it"} <= set(found.assumed)
    assert len(found.source) > 1


def test_a_condition_not_proven_lowers_it_as_it_lowers_the_book_s(demo_address: str) -> None:
    prove(demo_address, feed="0.2")
    plain, hard = start("", **CUT), start("", **CUT, scale=True)
    own = start(demo_address, **CUT, scale=True, own=True)
    assert own.vc_m_min.start == pytest.approx(110 * hard.vc_m_min.start / plain.vc_m_min.start)
    assert own.factors == hard.factors
    prove(demo_address, vc="70 m/min", scale=True)
    assert start(demo_address, **CUT, scale=True, own=True).vc_m_min.start == 70


def test_where_the_shop_has_none_the_book_counts_and_that_is_said(demo_address: str) -> None:
    prove(demo_address, cut="rough")
    found = start(demo_address, **CUT, own=True)
    assert found.speeds_from == "book"
    assert found.own[0].why_not == "for a rough cut"
    assert any("hold none for this cut" in line for line in found.assumed)


def test_a_hole_is_drilled_as_the_shop_proved_it(demo_address: str) -> None:
    prove(demo_address, op="drill", tool="hss", vc="18 m/min")
    asked = {"material": "4140", "tool": "hss", "op": "drill", "diameter": "10 mm"}
    found = start(demo_address, **asked, own=True)
    assert found.vc_m_min.start == 18
    assert found.f_mm == start("", **asked).f_mm


def test_the_book_needs_no_store(tmp_path: object) -> None:
    none = f"{tmp_path}/none.db"
    assert start(none, **CUT) == start("", **CUT)
    with pytest.raises(StoreMissing):
        start(none, **CUT, own=True)
    (broken := tmp_path / "broken.db").write_text("no store " * 500)  # type: ignore[operator]
    found = start(str(broken), **CUT)
    assert any("can't be looked up" in line for line in found.assumed)


# -- in pick ----------------------------------------------------------------------------------------------


def test_pick_takes_them_when_the_setting_says_so(demo_address: str) -> None:
    before = pick(demo_address, TURN)
    prove(demo_address, vc="60 m/min", feed="0.11", depth="1 mm")
    beside = pick(demo_address, TURN)
    assert [one.n_rev_min for one in beside.candidates] == [one.n_rev_min for one in before.candidates]
    assert any("the shop's own: 60 m/min" in note for one in beside.candidates for note in one.notes)
    put(demo_address, "speeds", "own")
    after = pick(demo_address, TURN)
    own = [one for one in after.candidates if any("the shop's own: 60" in line for line in one.assumed)]
    assert own
    # 1000 x 60 / (pi x 80) = 238.7: the step below is 181
    assert {one.n_rev_min for one in own} == {181}
    assert all(one.f_mm <= 0.11 for one in own)
    assert all("The shop's own proven speeds (crib proven)" in one.sources for one in own)


def test_pick_does_not_take_them_deeper_than_proven(demo_address: str) -> None:
    prove(demo_address, vc="60 m/min", depth="0.5 mm")
    put(demo_address, "speeds", "own")
    notes = [note for one in pick(demo_address, TURN).candidates for note in one.notes]
    assert any("not for this cut: proven no deeper than 0.5 mm" in note for note in notes)
    assert not any("the book: start at" in note for note in notes)

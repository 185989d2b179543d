"""Skin, weld and hardness in a job: told in any of the ways, they lower the speed alike."""

from dataclasses import replace

import pytest

from crib.desk.picking.pick import PickRequest, pick
from crib.desk.starting.material import read_material
from crib.desk.starting.start import start
from crib.desk.tables import materials
from crib.errors import InputError, UnknownName
from crib.trade.cutting.materials import find_material
from crib.tui.asked import read_cut

JOB = PickRequest(op="turn", material="1045", from_="95 mm", to="90 mm", machine="old lathe", setup="rigid")


def test_a_skin_lowers_speed_by_its_factor_and_a_weld_is_interruption_too(demo_store: str) -> None:
    """Factors: table speed_factors (recalled); the start lies a third of the way up, by ratio."""
    plain = pick(demo_store, JOB).candidates[0]
    for field, low, high in (("scale", 0.7, 0.8), ("sand", 0.7, 0.8), ("flame_cut", 0.6, 0.75)):
        told = replace(JOB, **{field: True})
        same = next(
            one
            for one in pick(demo_store, told, most=1000).candidates
            if (one.holder.tag, one.insert) == (plain.holder.tag, plain.insert)
        )
        factor = low * (high / low) ** (1 / 3)
        assert same.vc_range_m_min.start == pytest.approx(plain.vc_range_m_min.start * factor)
        assert any("skin" in one or "layer" in one for one in (*same.notes, *same.cautions)), same.notes
    welded = pick(demo_store, replace(JOB, weld=True)).candidates[0]
    assert any("blows" in note for note in welded.notes)


def test_a_first_pass_that_stays_in_a_flame_cut_layer_is_said(demo_store: str) -> None:
    """The layer is 1 to 3 mm deep, the cut must reach 2 to 3 mm (from memory, key cut_memory)."""
    for depth, stays in (("0.8 mm", True), ("2.5 mm", False)):
        notes = pick(demo_store, replace(JOB, flame_cut=True, depth=depth)).candidates[0].notes
        assert any("stays in the layer" in note for note in notes) == stays


def test_hardness_stands_behind_the_material_or_apart(demo_store: str) -> None:
    behind = pick(demo_store, replace(JOB, material="4140 at 32 HRC")).candidates[0]
    apart = pick(demo_store, replace(JOB, material="4140", hardness="32 HRC")).candidates[0]
    soft = pick(demo_store, replace(JOB, material="4140", hardness="200 HB")).candidates[0]
    assert behind == apart
    assert behind.vc_range_m_min.start < soft.vc_range_m_min.start
    assert any("301 HB by ASTM E140" in line for line in behind.assumed)


@pytest.mark.parametrize(
    ("typed", "name", "hb"),
    [
        ("4140 at 300 HB", "4140", 300),
        ("4140, 300 BHN", "4140", 300),
        ("4140 28-32 HRC", "4140", 301),
        ("42CrMo4 @ 280 HBW", "42CrMo4", 280),
        ("1045", "1045", None),
    ],
)
def test_a_number_with_a_scale_is_a_hardness(typed: str, name: str, hb: float | None) -> None:
    material, hardness = read_material(typed)
    assert (hardness.hb if hardness else None) == hb
    assert material.id == find_material(name, materials(), hb).id


@pytest.mark.parametrize(
    ("typed", "group"),
    [
        # VDI 3323: group 38 is hardened steel of 55 HRC, group 39 of 60 HRC; 40 HRC is still 4340 QT
        ("D2 at 62 HRC", 39),
        ("O1 at 60 HRC", 39),
        ("52100 at 60 HRC", 39),
        ("hardened steel 60 HRC", 39),
        ("4140 at 55 HRC", 38),
        ("hardened steel at 48 HRC", 38),
        ("4340 at 40 HRC", 9),
    ],
)
def test_a_steel_measured_hard_is_cut_as_hardened_steel(typed: str, group: int) -> None:
    assert read_material(typed)[0].vdi3323 == group


def test_no_hss_is_offered_for_a_tool_steel_measured_hard(demo_store: str) -> None:
    """HSS is no harder than 62 to 66 HRC itself: no book gives it a speed in hardened steel."""
    with pytest.raises(UnknownName, match="hardened steel 58-62 HRC"):
        start("", material="D2 at 62 HRC", tool="HSS", diameter="2 in")
    offered = pick(demo_store, replace(JOB, material="D2 at 62 HRC")).candidates
    assert {one.insert.tag for one in offered if one.insert} == {"I16"}  # the workshop's only ceramic
    assert all(one.insert for one in offered)  # and no HSS bit


def test_hardness_told_twice_is_asked_back() -> None:
    with pytest.raises(InputError, match="twice"):
        read_material("4140 at 300 HB", "32 HRC")


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        ("bore 80 to 84 mm in A36 with flame-cut edge", {"skin": "flame cut", "material": "A36"}),
        ("turn 80 to 76 mm in 4140 at 28 to 32 HRC", {"material": "4140 at 28 to 32 HRC"}),
        ("turn 80 to 76 mm in S355 through a weld", {"skin": "weld", "material": "S355"}),
        ("bore 16 to 16 3/8 in cast iron under the sand skin", {"skin": "sand", "material": "cast iron"}),
        (
            "bore 16 3/8 to 16 1/2 in A36, a sixteenth on diameter at a time",
            {"depth": "a sixteenth on diameter at a time", "material": "A36"},
        ),
        ("turn 80 to 76 mm in 1045, 2 mm a side", {"depth": "2 mm a side", "material": "1045"}),
    ],
)
def test_the_ask_line_takes_them_too(text: str, fields: dict[str, str]) -> None:
    cut = read_cut(text)
    assert cut is not None
    assert {name: cut.fields.get(name) for name in fields} == fields
    assert not cut.unused

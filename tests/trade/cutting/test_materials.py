import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.errors import NotPossible, UnknownName
from crib.trade import tables
from crib.trade.cutting.materials import Materials, find_material

MATERIALS = Materials.load(tables.rows)
DELIBERATE_CHOICES = {
    "toolsteel",
    "hardenedsteel",
    "hardsteel",
    "plastic",
    "nickelalloy",
    "cobaltalloy",
}


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("4140", "P-4140A"),
        ("42CrMo4", "P-4140A"),
        ("1.7225", "P-4140A"),
        ("42 crmo 4", "P-4140A"),
        ("AISI 4140", "P-4140A"),
        ("4140 prehard", "P-4140PH"),
        ("A36", "P-A36"),
        ("ASTM A-36", "P-A36"),
        ("hot rolled", "P-A36"),
        ("mild steel", "P-1018CD"),
        ("Mild-Steel", "P-1018CD"),
        ("cold drawn 1045", "P-1045CD"),
        ("cast iron", "K-30"),
        ("grey iron", "K-30"),
        ("gray cast iron", "K-30"),
        ("EN-GJL-250", "K-35"),
        ("class 40 grey iron", "K-40"),
        ("ductile", "K-6545"),
        ("bronze", "N-C932"),
        ("SAE 660", "N-C932"),
        ("aluminium bronze", "N-C954"),
        ("stainless", "M-304"),
        ("316L", "M-316"),
        ("1.4301", "M-304"),
        ("aluminium", "N-6061"),
        ("aluminum", "N-6061"),
        ("UNS N06625", "S-625"),
        ("titanium grade 5", "S-TI64"),
        ("A513", "P-A513"),
        ("cast", "K-30"),
        ("4140 HT", "P-4140PH"),
        ("HT 4140", "P-4140PH"),
        ("4150", "P-4140PH"),
        ("ali", "N-6061"),
        ("phosphor bronze", "N-C510"),
        ("manganese bronze", "N-C863"),
        ("naval brass", "N-C464"),
        ("white metal", "N-WHITE"),
        ("babbitt", "N-WHITE"),
        ("boiler plate", "P-A516"),
        ("pipe", "P-A53"),
        ("wrought iron", "P-WROUGHT"),
        ("W1", "P-W1"),
        ("440C", "P-440C"),
        ("AR400", "P-AR400"),
        ("17-4PH H900", "M-174H9"),
        ("St52", "P-S355"),
        ("PTFE", "N-PTFE"),
    ],
)
def test_names_of_the_shop(typed: str, found: str) -> None:
    assert find_material(typed, MATERIALS).id == found


def test_a_word_for_several_says_what_was_taken() -> None:
    assumed = find_material("cast iron", MATERIALS).assumed
    assert len(assumed) == 1
    assert "class 30" in assumed[0]
    assert "4140 HT" in find_material("4140", MATERIALS).assumed[0]
    assert find_material("4140 prehard", MATERIALS).assumed == ()


@pytest.mark.parametrize(
    ("typed", "hb", "found"),
    [
        ("4140", 200, "P-4140A"),
        ("4140", 301, "P-4140PH"),
        ("1045", 250, "P-1045QT"),
        ("718", 200, "S-718A"),
        ("cast iron", 205, "K-30"),
        ("4140", 600, "P-4140PH"),  # no condition of it is that hard: the hardest, said elsewhere
    ],
)
def test_a_measured_hardness_tells_the_condition(typed: str, hb: float, found: str) -> None:
    assert find_material(typed, MATERIALS, hb).id == found


# Machinery's Handbook, 31st ed., p. 1147, table 1b: Kp in hp per in³/min by Brinell hardness. crib's table is
# from the metric column beside it, rounded apart.
KP_INCH = {
    "P-1045HR": ((90, 0.63), (150, 0.74), (190, 0.82), (230, 0.89), (270, 0.95), (310, 1.03), (350, 1.14)),
    "P-4140A": ((150, 0.62), (190, 0.69), (230, 0.76), (270, 0.84), (310, 0.91), (350, 1.00)),
    "P-4130": ((150, 0.56), (190, 0.62), (230, 0.70), (270, 0.77), (310, 0.83), (330, 0.89)),
}


@pytest.mark.parametrize("name", KP_INCH)
def test_the_force_goes_with_a_told_hardness_as_printed(name: str) -> None:
    index = next(at for at, row in enumerate(MATERIALS.rows) if row["id"] == name)
    usual, printed = MATERIALS.material(index), KP_INCH[name]
    assert usual.kc11_N_mm2 and usual.hb_min and usual.hb_max and usual.kc_low_N_mm2 and usual.kc_high_N_mm2
    at_usual = float(np.interp((usual.hb_min + usual.hb_max) / 2.0, *zip(*printed, strict=True)))
    for hb, Kp in printed:
        told = MATERIALS.material(index, float(hb))
        assert told.kc11_N_mm2 == pytest.approx(usual.kc11_N_mm2 * Kp / at_usual, rel=0.012)
        assert told.kc_low_N_mm2 and told.kc_high_N_mm2
        # the band holds the force of the usual hardness too, and what is printed for the told one
        assert told.kc_low_N_mm2 <= min(usual.kc11_N_mm2, told.kc11_N_mm2) + 1e-6
        assert told.kc_high_N_mm2 >= max(usual.kc11_N_mm2, told.kc11_N_mm2) - 1e-6
        assert any(f"{hb} HB: cutting force" in line for line in told.assumed)
    past, end = MATERIALS.material(index, 500.0), MATERIALS.material(index, float(printed[-1][0]))
    assert past.kc11_N_mm2 is not None and end.kc11_N_mm2 is not None
    assert past.kc11_N_mm2 == pytest.approx(end.kc11_N_mm2, rel=0.03)  # nothing is drawn out past the table
    assert any("held at the end of that range" in line for line in past.assumed)


@pytest.mark.parametrize("name", ["304 stainless", "cast iron", "A2 tool steel"])
def test_where_nothing_is_printed_the_force_stays_and_that_is_said(name: str) -> None:
    usual, told = find_material(name, MATERIALS), find_material(name, MATERIALS, 260.0)
    assert (told.kc11_N_mm2, told.kc_low_N_mm2, told.kc_high_N_mm2) == (
        usual.kc11_N_mm2, usual.kc_low_N_mm2, usual.kc_high_N_mm2
    )  # fmt: skip
    assert any("nothing on record tells how the cutting force" in line for line in told.assumed)


def test_lead_is_not_a_brass_without_lead() -> None:
    with pytest.raises(UnknownName):
        find_material("lead", MATERIALS)


def test_there_are_forty_materials_of_every_letter_with_both_worlds_names() -> None:
    materials = MATERIALS.all()
    assert len(materials) >= 40
    assert {material.iso513 for material in materials} == set("PMKNSH")
    both = [material for material in materials if material.us and material.en]
    assert len(both) >= 40
    assert all(material.condition for material in materials)
    assert all(material.source for material in materials)


def test_a_typo_is_refused_with_the_nearest() -> None:
    with pytest.raises(UnknownName) as told:
        find_material("staniless", MATERIALS)
    assert told.value.nearest[0] == "stainless"
    assert told.value.hint.startswith("did you mean stainless")


def test_a_word_without_a_usual_meaning_lists_the_choices() -> None:
    with pytest.raises(UnknownName) as told:
        find_material("tool steel", MATERIALS)
    assert any("D2" in choice for choice in told.value.nearest)
    assert "say which" in told.value.hint


@pytest.mark.parametrize("typed", ["", "   ", "???", "adamant"])
def test_nothing_and_nonsense(typed: str) -> None:
    with pytest.raises(UnknownName):
        find_material(typed, MATERIALS)


def test_every_row_is_found_by_its_own_key_and_is_whole() -> None:
    for material in MATERIALS.all():
        assert find_material(material.id, MATERIALS) == material
        assert material.iso513 in "PMKNSH"
        assert material.hb_min is None or (material.hb_max is not None and material.hb_min <= material.hb_max)
        if material.kc11_N_mm2 is not None:
            assert material.mc is not None
            assert material.kc_low_N_mm2 is not None
            assert material.kc_high_N_mm2 is not None
            assert material.kc_low_N_mm2 <= material.kc11_N_mm2 * 1.000001
            assert material.kc_high_N_mm2 >= material.kc11_N_mm2 * 0.999999
            assert material.kc_source


def test_every_shared_shop_name_has_a_usual_meaning_or_is_a_deliberate_choice() -> None:
    for row in MATERIALS.rows:
        for word in row["names"].split(";"):
            try:
                find_material(word, MATERIALS)
            except UnknownName as error:
                key = "".join(c for c in word.casefold() if c.isalnum())
                assert key in DELIBERATE_CHOICES, error


def test_named_rows_of_the_force_and_speed_tables_exist() -> None:
    known = {row["id"] for row in MATERIALS.rows}
    for table in ("specific_force", "speeds"):
        for row in tables.rows(table):
            assert set(row["materials"].split()) <= known, row["id"]


def test_no_force_on_record_is_said() -> None:
    with pytest.raises(NotPossible, match="no cutting force is on record"):
        find_material("acetal", MATERIALS).kienzle()


@given(st.sampled_from([word for row in MATERIALS.rows for word in (row["id"], row["name"])]), st.data())
def test_case_blanks_and_hyphens_do_not_matter(word: str, data: st.DataObject) -> None:
    def outcome(text: str) -> object:
        try:
            return find_material(text, MATERIALS).id
        except UnknownName as error:
            return error.nearest

    noise = "".join(data.draw(st.sampled_from([c, c.upper(), c.lower()])) for c in word)
    assert outcome(noise) == outcome(word)


@given(st.text(max_size=30))
def test_any_text_gives_a_material_or_one_clear_line(text: str) -> None:
    try:
        find_material(text, MATERIALS)
    except UnknownName as error:
        assert error.hint

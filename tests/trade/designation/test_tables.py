"""The tables of the designation standards hold together."""

from math import isclose, radians, sin, sqrt, tan

import pytest

from crib.trade import tables
from crib.trade.designation import Letters
from crib.trade.designation.symbols import edge_per_IC

LETTERS = Letters(tables.rows)
NAMES = [
    "insert_shape",
    "insert_clearance",
    "insert_tolerance",
    "insert_tolerance_size",
    "insert_type",
    "insert_size",
    "insert_round",
    "insert_thickness",
    "insert_corner",
    "insert_wiper",
    "insert_edge",
    "insert_hand",
    "insert_tipped",
    "inch_size",
    "inch_corner",
    "inch_condition",
    "inch_facet",
    "inch_shank",
    "inch_length",
    "inch_bar_length",
    "holder_clamping",
    "holder_style",
    "holder_length",
    "holder_preferred",
    "holder_tolerance",
    "holder_coupling",
    "bar_type",
    "iso513_group",
    "iso513_material",
]
CONFIDENCE = {"read", "derived", "memory", "conflict"}
MARKS = {"certain", "depends on the maker", "not in the standard"}


@pytest.mark.parametrize("name", NAMES)
def test_every_row_names_known_sources(name: str) -> None:
    known = tables.sources()
    for row in tables.rows(name):
        keys = row["source"].split()
        assert keys, row
        assert all(key in known for key in keys), row
        assert row["confidence"] in CONFIDENCE
        assert (row["confidence"] == "memory") == ("des_memory" in keys), row
        assert row.get("mark", "certain") in MARKS


def test_shapes_of_alike_tolerances_stand_in_one_group() -> None:
    # the reader makes the tolerances of a group once, for all its shapes
    groups = {row["shapes"] for row in tables.rows("insert_tolerance_size")}
    assert len("".join(groups)) == len(set("".join(groups)))


def test_every_source_of_the_designations_is_used() -> None:
    used = {key for name in NAMES for row in tables.rows(name) for key in row["source"].split()}
    spoken_of = {"des_iso5611", "des_iso6261"}  # of the code as a whole, not of a row
    assert {key for key in tables.sources() if key.startswith("des_")} == used | spoken_of


@pytest.mark.parametrize(
    ("form", "sides", "angle", "ratio"),
    [
        ("regular", 3, 60, sqrt(3)),  # triangle
        ("regular", 4, 90, 1.0),  # square
        ("regular", 6, 120, 1 / sqrt(3)),  # hexagon
        ("rhombic", 4, 80, 1 / sin(radians(80))),
        ("trigon", 6, 80, (1 / tan(radians(40)) + 1 / tan(radians(80))) / 2),
        ("round", 0, 0, 1.0),
    ],
)
def test_edge_length_is_plane_geometry(form: str, sides: int, angle: float, ratio: float) -> None:
    found = edge_per_IC(form, sides, angle)
    assert found is not None
    assert isclose(found, ratio, rel_tol=1e-12)


def test_the_codes_follow_the_rule_of_the_standard_where_it_is_plain() -> None:
    """ISO 1832: whole millimetres of the length rounded to 0.1 mm; the exceptions are marked."""
    for row in tables.rows("insert_size"):
        if row["mark"] != "certain":
            continue
        L_mm = LETTERS.sizes[row["shape"] + row["code"]].L_mm
        assert L_mm is not None
        wanted = {int(L_mm + 0.0005), int(round(L_mm, 1) + 1e-9)}
        assert int(row["code"]) in wanted, row


def test_truncating_the_exact_length_would_be_wrong() -> None:
    """T 12.7 is 21.997 mm long and coded 22."""
    size = LETTERS.sizes["T22"]
    assert size.IC_mm == 12.7
    assert size.L_mm == pytest.approx(21.997, abs=0.001)
    assert "T21" not in LETTERS.sizes


def test_both_systems_name_the_same_circles() -> None:
    for key, size in LETTERS.inch_sizes.items():
        symbol = LETTERS.inch_size_symbols[key[1:]]
        assert size.IC_mm == symbol.value
        assert size.inch == symbol.code

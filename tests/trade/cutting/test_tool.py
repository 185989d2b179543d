"""What the mechanics is told of a tool by its codes, and what it says it assumed."""

import pytest
from mechanics import DEFAULTS

from crib.errors import InputError, TableError
from crib.trade import tables
from crib.trade.cutting.tool import CuttingTool, from_codes


def read(**said: object) -> CuttingTool:
    return from_codes(DEFAULTS, **said)  # type: ignore[arg-type]


def test_negative_insert_of_unknown_breaker() -> None:
    tool = read(SC="C", AN_deg=0.0, type_letter="G", tolerance="M", KAPR_deg=95.0, RE_mm=0.8, coated=True)
    assert (tool.rake_deg, tool.LAMS_deg, tool.hone_um, tool.land_mm) == (4.0, -6.0, 35.0, 0.0)
    assert tool.rake_assumed and tool.edge_assumed
    assert any("rake +4°" in line for line in tool.assumed)
    assert not any("entering" in line or "nose" in line for line in tool.assumed)


@pytest.mark.parametrize(
    ("use", "rake", "hone", "land"),
    [("finishing", 8.0, 25.0, 0.0), ("medium", 4.0, 35.0, 0.0), ("roughing", 4.0, 50.0, 0.2)],
)
def test_breaker_use_sets_rake_hone_and_land(use: str, rake: float, hone: float, land: float) -> None:
    tool = read(SC="W", AN_deg=0.0, type_letter="G", tolerance="M", RE_mm=0.8, chipbreaker_use=use)
    assert (tool.rake_deg, tool.hone_um, tool.land_mm) == (rake, hone, land)
    assert tool.land_rake_deg == (-6.0 if land else 0.0)


def test_flat_faces_lie_at_the_seat() -> None:
    assert read(SC="S", AN_deg=0.0, type_letter="N", tolerance="U", RE_mm=0.8).rake_deg == -6.0
    assert read(SC="S", AN_deg=11.0, type_letter="N", tolerance="U", RE_mm=0.8).rake_deg == 0.0


@pytest.mark.parametrize(
    ("clearance", "tolerance", "use", "rake"),
    [
        (7.0, "M", None, 10.0),
        (7.0, "G", None, 12.0),
        (11.0, "G", None, 12.0),
        (7.0, "G", "polished", 18.0),
        (15.0, "M", None, 15.0),
        (20.0, "M", None, 18.0),
    ],
)
def test_positive_inserts(clearance: float, tolerance: str, use: str | None, rake: float) -> None:
    tool = read(
        SC="T", AN_deg=clearance, type_letter="T", tolerance=tolerance, RE_mm=0.4, chipbreaker_use=use
    )
    assert tool.rake_deg == rake
    assert tool.LAMS_deg == 0.0


def test_ground_uncoated_edges_are_sharp_and_coated_ones_thinly_rounded() -> None:
    ground = {"SC": "D", "AN_deg": 7.0, "type_letter": "T", "tolerance": "G", "RE_mm": 0.2}
    assert read(**ground, coated=False).hone_um == 8.0
    assert read(**ground, coated=True).hone_um == 15.0
    assert read(**ground, edge_condition="F").hone_um == 8.0
    assert read(**ground, edge_condition="F", chipbreaker_use="polished").hone_um == 5.0


def test_figures_behind_the_edge_letter_are_read() -> None:
    # ISO 1832 position 8 with figures: width or radius in 1/100 mm, angle in degrees
    cast = {"SC": "C", "AN_deg": 0.0, "type_letter": "A", "tolerance": "G", "RE_mm": 0.8}
    rounded = read(**cast, edge_condition="E004")
    assert (rounded.hone_um, rounded.land_mm, rounded.edge_assumed) == (40.0, 0.0, False)
    chamfered = read(**cast, edge_condition="S01325", tool_material="cbn")
    assert (chamfered.land_mm, chamfered.land_rake_deg, chamfered.hone_um) == (0.13, -31.0, 15.0)
    assert read(**cast, edge_condition="T", tool_material="ceramic").land_mm == 0.1
    assert read(**cast, edge_condition="T").land_mm == 0.2
    assert read(**cast, tool_material="ceramic").land_rake_deg == -26.0


def test_what_is_on_record_is_not_assumed() -> None:
    bit = read(
        kind="bit",
        tool_material="hss",
        rake_deg=14.0,
        LAMS_deg=0.0,
        KAPR_deg=90.0,
        RE_mm=0.1,
        hone_um=6.0,
    )
    assert bit.assumed == ()
    assert not bit.rake_assumed and not bit.edge_assumed
    assert (bit.rake_deg, bit.RE_mm, bit.hone_um) == (14.0, 0.1, 6.0)


def test_bits_and_bars_have_their_own_defaults() -> None:
    bit = read(kind="bit", tool_material="hss")
    assert (bit.rake_deg, bit.RE_mm, bit.hone_um) == (10.0, 0.4, 8.0)
    assert read(kind="bar", SC="C", AN_deg=0.0, type_letter="G", RE_mm=0.8).LAMS_deg == -10.0
    assert read(kind="bar", SC="C", AN_deg=7.0, type_letter="T", RE_mm=0.8).LAMS_deg == 0.0


@pytest.mark.parametrize(("SC", "angle"), [("C", 95.0), ("D", 93.0), ("S", 75.0), ("R", 90.0), ("H", 90.0)])
def test_entering_angle_when_no_holder_is_named(SC: str, angle: float) -> None:
    tool = read(SC=SC, AN_deg=7.0, RE_mm=0.8)
    assert tool.KAPR_deg == angle
    assert any("entering angle" in line for line in tool.assumed)


def test_unknown_clearance_is_said() -> None:
    assert "clearance not known" in read(SC="C", RE_mm=0.8).assumed[0]


def test_edge_letters_that_are_none_are_named() -> None:
    with pytest.raises(InputError, match="edge condition 'Q'"):
        read(SC="C", AN_deg=0.0, edge_condition="Q")


def test_every_default_names_a_known_source() -> None:
    known = tables.sources()
    for name in ("tool_defaults", "edge_preparation", "force_model", "gives", "setups", "rigidity_rules"):
        for row in tables.rows(name):
            assert row["source"].split(), (name, row)
            assert all(key in known for key in row["source"].split()), (name, row)


def test_a_table_with_a_gap_says_which() -> None:
    with pytest.raises(TableError, match="no rake_deg for nothing"):
        DEFAULTS.figure("rake_deg", "nothing")
    with pytest.raises(TableError, match="no Z for nothing"):
        DEFAULTS.edge("Z", "nothing")

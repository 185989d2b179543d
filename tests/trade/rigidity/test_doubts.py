"""Where a reckoned pressure is not to be trusted: each reason shows itself when it holds, and only then."""

from dataclasses import replace

import pytest
from mechanics import GIVES, MODEL, RULES, STEEL, tool

from crib.trade import tables
from crib.trade.cutting.force import cutting_forces
from crib.trade.rigidity.doubts import TrustRules, doubts
from crib.trade.rigidity.pressure import causes, force_towards, tool_pressure

TRUST = TrustRules.load(tables.rows("trust_rules"))
SURE = replace(RULES.reference, rake_assumed=False)


def names(ap: float = 2.0, f: float = 0.19, cuts=SURE, **more) -> set[str]:  # type: ignore[no-untyped-def]
    return {doubt.name for doubt in doubts(ap, f, cuts, more.pop("work", STEEL), rules=TRUST, **more)}


def test_a_plain_cut_well_past_the_nose_raises_none() -> None:
    assert names(vc_m_min=120.0, hb=200.0) == set()


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        ({"f": 0.03}, "thin chip"),
        ({"vc_m_min": 20.0}, "built-up edge"),
        ({"hb": 500.0}, "hard work"),
        ({"work": replace(STEEL, iso513="H")}, "hard work"),
        ({"ap": 0.3}, "inside the nose"),
        ({"f": 0.3}, "coarse feed"),
        ({"cuts": replace(SURE, rake_assumed=True)}, "assumed rake"),
        ({"cuts": replace(SURE, LAMS_deg=-10.0)}, "inclination"),
        ({"conditions": ("worn",)}, "worn"),
        ({"conditions": ("wiper", "interrupted")}, "wiper"),
        ({"conditions": ("hand ground",)}, "hand ground"),
    ],
)
def test_each_reason(changes: dict, name: str) -> None:  # type: ignore[type-arg]
    assert name in names(**changes)


def test_no_edge_builds_up_in_iron_or_hard_steel() -> None:
    assert "built-up edge" not in names(vc_m_min=20.0, work=replace(STEEL, iso513="K"))
    assert "built-up edge" not in names(vc_m_min=20.0, hb=500.0)


def test_causes_have_the_sign_of_the_shop_s_rules() -> None:
    """Common practice: smaller nose, keener edge, more rake push less; a slanting entry pushes more away."""
    gentle = tool(rake_deg=12.0, hone_um=8.0, RE_mm=0.4)
    found = {
        cause.name: cause.share
        for cause in causes(1.0, 0.2, gentle, STEEL, gives=GIVES["away"], rules=RULES, model=MODEL)
    }
    assert set(found) == {"rake", "edge", "nose"}
    assert all(share < 0 for share in found.values())
    [slant] = causes(2.0, 0.2, tool(KAPR_deg=45.0), STEEL, gives=GIVES["away"], rules=RULES, model=MODEL)
    assert slant.name == "entering angle"
    assert slant.share > 0.3
    # what a cause says is what setting it back does
    forces = [cutting_forces(2.0, 0.2, one, STEEL, MODEL) for one in (tool(KAPR_deg=45.0), RULES.reference)]
    pressures = [tool_pressure(one, GIVES["away"]) for one in forces]
    assert slant.share == pytest.approx(pressures[0] / pressures[1] - 1)


def test_the_force_where_it_gives_is_that_force() -> None:
    forces = cutting_forces(2.0, 0.2, tool(), STEEL, MODEL)
    assert force_towards(forces, GIVES["away"]) == forces.Fp_N
    assert force_towards(forces, GIVES["along"]) == forces.Ff_N
    assert force_towards(forces, GIVES["slanting"]) == pytest.approx((forces.Fp_N + forces.Fc_N) / 2**0.5)

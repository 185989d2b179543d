"""The chain from chip to forces and to the stiffness of the cut, piece by piece of the engaged edge."""

from collections.abc import Callable
from dataclasses import dataclass
from math import degrees

from crib.desk import tables
from crib.desk.why.step import Column, Maker, Table
from crib.trade.cutting.edge import cusp_mm
from crib.trade.cutting.force import ForceModel, Parts, PieceForce, Work, force_in_one
from crib.trade.cutting.tool import CuttingTool
from crib.trade.rigidity.setup import Gives

KIENZLE = "cut_kienzle_books"
EDGE = "rig_edge_force"
FRICTION = "rig_friction rig_friction_rake"
PRINTED = "kc1.1 × h^(1 − mc) × b"
RAKED = "(1 − p × (γ − γ0))"
SLOPE = f"(1 − mc) × kc1.1 × h^(−mc) × b × {RAKED}"
LEAN = "tan(min(max(ρ0 + ρ1 × γ − γ, β_low), β_high))"
ASIDE = "tan(−λ) × (1 − sin(ρ0 + ρ1 × γ) / cos(atan(t)))"
ON_LAND = "(1 − (1 − min(1, m / (2 × h)))^2)"
RAKE_THERE = f"{ON_LAND} × max(γ_land, γ_least) + (1 − {ON_LAND}) × γ_face"


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One pass that is looked at.

    Attributes:
        ap, f: symbols of its depth and feed.
        mark: what is added to the symbols of its results.
        ap_mm, f_mm: depth and feed.
        parts: its forces, taken apart.
    """

    ap: str
    f: str
    mark: str
    ap_mm: float
    f_mm: float
    parts: Parts


def tool_steps(maker: Maker, tool: CuttingTool) -> None:
    """What the mechanics knows of the tool, and where it has it from."""
    maker.part("Tool")
    figures = (
        ("r", "nose radius", "RE_mm", "mm"),
        ("κr", "entering angle", "KAPR_deg", "°"),
        ("γ_face" if tool.land_mm > 0.0 else "γ", "rake in the cut", "rake_deg", "°"),
        ("λ", "inclination", "LAMS_deg", "°"),
        ("q", "edge rounding", "hone_um", "µm"),
    )
    for symbol, name, field, unit in figures:
        assumed, source = _default(tool, field)
        maker.given(symbol, name, getattr(tool, field), unit, source=source, assumed=assumed)
    if tool.land_mm > 0.0:
        maker.given("m", "width of the land behind the edge", tool.land_mm, "mm")
        maker.given("γ_land", "rake of the land", tool.land_rake_deg, "°")


def _default(tool: CuttingTool, field: str) -> tuple[str, str]:
    """Give what was said of a figure that was assumed, and the source keys of the default."""
    defaults = tables.tool_defaults()
    known = {one.words: one.source for (name, _), one in defaults.figures.items() if name == field}
    if field == "hone_um":
        known = {one.words: one.source for one in defaults.edges.values()}
    return next(((said, known[said]) for said in tool.assumed if said in known), ("", ""))


# -- the chip ---------------------------------------------------------------------------------------------


def chip_steps(maker: Maker, tool: CuttingTool, look: Look) -> None:
    """The chip of one pass: its section and the engaged edge."""
    ap, f, mark, shape = look.ap, look.f, look.mark, look.parts.shape
    if tool.RE_mm > 0.0:
        cusp = cusp_mm(look.f_mm, tool.RE_mm)
        maker.step(f"c{mark}", "cusp that the nose leaves", f"r − √(r^2 − (min({f}, r) / 2)^2)", cusp, "mm")
        section = f"{f} × ({ap} − c{mark}) + {_segment(f'c{mark}')}" if look.ap_mm > cusp else _segment(ap)
        behind = f"min(asin(min({f} / (2 × r), 1)), 30, acos(max(−1, 1 − {ap} / r)))"
        end = f"min(κr, acos(max(−1, 1 − {ap} / r)))"
    else:
        section, behind, end = f"{f} × {ap}", "0", "κr"
    maker.step(f"A{mark}", "chip section", section, shape.area_mm2, "mm²")
    name = "the edge begins behind its lowest point"
    maker.step(f"κ_s{mark}", name, f"−{behind}", degrees(shape.start_rad), "°")
    maker.step(f"κ_e{mark}", "the nose ends", end, degrees(shape.end_rad), "°")
    flank = "0" if shape.nose_only else f"({ap} − r × (1 − cos(κr))) / sin(κr)"
    maker.step(f"b_s{mark}", "straight edge", flank, shape.flank_mm, "mm")
    arc = f"π / 180 × r × (κ_e{mark} − κ_s{mark}) + b_s{mark}"
    maker.step(f"l_e{mark}", "engaged edge, nose and straight", arc, shape.length_mm, "mm")
    mean = shape.area_mm2 / shape.length_mm
    maker.step(f"h_m{mark}", "mean chip thickness", f"A{mark} / l_e{mark}", mean, "mm")


def _segment(height: str) -> str:
    """Give the formula of a segment of the nose circle."""
    return f"r^2 × π / 180 × acos((r − {height}) / r) − (r − {height}) × √({height} × (2 × r − {height}))"


# -- forces -----------------------------------------------------------------------------------------------


def model_steps(maker: Maker, iso513: str, tool: CuttingTool, model: ForceModel) -> None:
    """The constants of the force model."""
    maker.part("Constants of the force model")
    group = model.group(iso513)
    edge, friction, limits = EDGE, FRICTION, "rig_model_limits"
    rows = (
        ("γ0", f"rake at which kc1.1 holds, ISO 513 {iso513}", group.rake_base_deg, "°", "rig_kienzle_rake"),
        ("p", "chip force falls for each degree of rake by", model.rake_per_deg, "1/°", "rig_kienzle_rake"),
        ("kc_e", "kc1.1 for which the edge forces are given", model.edge_kc11_N_mm2, "N/mm²", edge),
        ("q0", "edge rounding behind printed kc1.1", model.edge_hone_um, "µm", edge),
        ("e0", "edge force along vc, quite sharp", model.edge_cut_base_N_mm, "N/mm", edge),
        ("e1", "its growth with rounding", model.edge_cut_per_hone, "N/mm/µm", edge),
        ("g0", "edge force square to the edge, quite sharp", model.edge_thrust_base_N_mm, "N/mm", edge),
        ("g1", "its growth with rounding", model.edge_thrust_per_hone, "N/mm/µm", edge),
        ("x", "greatest part of the force that may be edge force", model.edge_share_max, "", limits),
        ("ρ0", f"friction angle at no rake, ISO 513 {iso513}", group.friction_deg, "°", friction),
        ("ρ1", "its growth for each degree of rake", model.friction_per_rake, "°/°", friction),
        ("β_low", "least lean of the push", model.push_low_deg, "°", limits),
        ("β_high", "greatest lean of the push", model.push_high_deg, "°", limits),
        ("s", "direction: 0 local normals, 1 the whole edge's chord", model.chord_share, "", "rig_blend"),
    )
    for symbol, name, value, unit, source in rows:
        maker.given(symbol, name, value, unit, source=source)
    if tool.land_mm > 0.0:
        maker.given(
            "γ_least", "a steeper land works as this", model.land_rake_low_deg, "°", source="rig_land"
        )


def piece_steps(maker: Maker, tool: CuttingTool, look: Look) -> None:
    """The pieces of the edge of one pass, with what each carries, and their sums."""
    parts, mark = look.parts, look.mark
    if not mark:
        maker.step(
            "w",
            "edge force inside kc1.1",
            "kc1.1 / kc_e × (e0 + e1 × q0)",
            parts.edge_N_mm,
            "N/mm",
            source=EDGE,
        )
        if tool.land_mm <= 0.0:
            first = parts.pieces[0]
            maker.step("t", "push for each newton of chip force", LEAN, first.push, source=FRICTION)
            if tool.LAMS_deg:
                maker.step("j", "push along the edge, likewise", ASIDE, first.side, source="rig_chatter")
    name = "chip section again, as the sum of the pieces; h along the local normal, b at half of h"
    area = sum(piece.dA_mm2 for piece in parts.shape.pieces)
    maker.step(f"A_p{mark}", name, "Σ(h × b)", area, "mm²", source=KIENZLE, table=_table(tool, parts.pieces))


Row = tuple[Column, Callable[[PieceForce], float], bool]


def _table(tool: CuttingTool, pieces: tuple[PieceForce, ...]) -> Table:
    """Set out the pieces; where a land makes the rake differ, with the rake and push of each."""
    land = tool.land_mm > 0.0
    wanted: tuple[Row, ...] = (
        (_column("κ", "°", "local entering angle"), lambda one: degrees(one.kappa_rad), True),
        (_column("h", "mm", "chip thickness"), lambda one: one.h_mm, True),
        (_column("b", "mm", "chip width"), lambda one: one.b_mm, True),
        (_column("l", "mm", "length of edge"), lambda one: one.l_mm, True),
        (_column("γ", "°", "rake there", RAKE_THERE), lambda one: one.rake_deg, land),
        (_column("t", "", "push", LEAN), lambda one: one.push, land),
        (_column("j", "", "push along the edge", ASIDE), lambda one: one.side, land and bool(tool.LAMS_deg)),
        (
            _column("E", "N", "edge force in kc1.1", f"min(w × l, x × {PRINTED})"),
            lambda one: one.edge_N,
            True,
        ),
        (_column("C", "N", "chip force", f"({PRINTED} − E) × {RAKED}"), lambda one: one.chip_N, True),
        (_column("S", "N/mm", "its growth with h", SLOPE), lambda one: one.slope_N_mm, True),
    )
    kept = [(column, figure) for column, figure, there in wanted if there]
    return Table(
        columns=tuple(column for column, _ in kept),
        rows=tuple(tuple(figure(piece) for _, figure in kept) for piece in pieces),
    )


def _column(symbol: str, unit: str, name: str, formula: str = "") -> Column:
    return Column(symbol=symbol, unit=unit, name=name, formula=formula)


def force_steps(maker: Maker, tool: CuttingTool, work: Work, look: Look) -> None:
    """The forces of one pass, summed over its pieces."""
    parts, forces, m = look.parts, look.parts.forces, look.mark
    maker.part("Forces of the finishing pass" if m else "Forces of the deepest pass")
    maker.step(f"ΣC{m}", "chip force, rake counted", "Σ(C)", parts.chip_N, "N", source="rig_kienzle_rake")
    maker.step(f"ΣE{m}", "edge force in kc1.1", "Σ(E)", parts.edge_N, "N", source=EDGE)
    if not m:
        _edge_steps(maker, parts)
    maker.step(f"Fc{m}", "cutting force", f"ΣC{m} + E_c × ΣE{m}", forces.Fc_N, "N", source=KIENZLE)
    shape = parts.shape
    rough = force_in_one(shape.area_mm2, shape.area_mm2 / shape.length_mm, work)
    name = "rough check of it, the chip as one piece, without rake and rounding"
    maker.step(f"F_1{m}", name, f"kc1.1 × h_m{m}^(−mc) × A{m}", rough, "N", source=KIENZLE)
    name = "push square to the edge"
    maker.step(f"N{m}", name, f"Σ(C × t) + E_n × ΣE{m}", parts.push_N, "N", source=FRICTION)
    back, out = "", ""
    if tool.LAMS_deg:
        maker.step(f"J_f{m}", "push along the edge, feed", "Σ(C × j × cos(κ))", parts.along_f_N, "N")
        maker.step(f"J_p{m}", "push along the edge, passive", "Σ(C × j × sin(κ))", parts.along_p_N, "N")
        back, out = f" − J_f{m}", f" + J_p{m}"
    local = "Σ(C × t × {0}(κ)) + E_n × Σ(E × {0}(κ))"
    name = "with the push along local normals"
    maker.step(f"Ff_l{m}", f"feed force {name}", local.format("sin") + back, forces.Ff_local_N, "N")
    maker.step(f"Fp_l{m}", f"passive force {name}", local.format("cos") + out, forces.Fp_local_N, "N")
    up = f"r × (cos(κ_s{m}) − cos(κ_e{m})) + b_s{m} × sin(κ_e{m})"
    across = f"r × (sin(κ_e{m}) − sin(κ_s{m})) + b_s{m} × cos(κ_e{m})"
    chord, name = degrees(parts.shape.chord_angle_rad), "angle of the engaged edge's chord"
    maker.step(f"χ{m}", name, f"atan2({up}, {across})", chord, "°", source="rig_blend")
    name = "force square to the chord"
    maker.step(f"Ff_c{m}", f"feed {name}", f"N{m} × sin(χ{m}){back}", forces.Ff_chord_N, "N")
    maker.step(f"Fp_c{m}", f"passive {name}", f"N{m} × cos(χ{m}){out}", forces.Fp_chord_N, "N")
    blend = "{0}_l{1} + s × ({0}_c{1} − {0}_l{1})"
    maker.step(f"Ff{m}", "feed force", blend.format("Ff", m), forces.Ff_N, "N", source="rig_blend")
    maker.step(f"Fp{m}", "passive force", blend.format("Fp", m), forces.Fp_N, "N", source="rig_blend")


def _edge_steps(maker: Maker, parts: Parts) -> None:
    """What this edge's rounding makes of the edge force: the same in every pass."""
    usual = "(e0 + e1 × q0)"
    name = "this edge against that, along vc"
    maker.step("E_c", name, f"(e0 + e1 × q) / {usual}", parts.edge_cut, source=EDGE)
    name = "this edge's push against that"
    maker.step("E_n", name, f"(g0 + g1 × q) / {usual}", parts.edge_push, source=EDGE)


# -- stiffness of the cut ---------------------------------------------------------------------------------


def stiffness_step(maker: Maker, look: Look, gives: Gives, K_N_mm: float, name: str) -> None:
    """How fast the push grows with a wave in the direction in which the set-up gives, over the last table."""
    turn = "cos(κ)" if gives.along == 0.0 else "(u_a × cos(κ) + u_f × sin(κ))"
    if gives.along == gives.down == 0.0:
        formula = "Σ(S × t × cos(κ)^2)"
    else:
        if gives.along == 0.0:
            turn = "u_a × cos(κ)"
        down = f" + u_v × {turn}" if gives.down else ""
        formula = f"Σ(S × (t × ({turn})^2{down}))"
    maker.step(f"K{look.mark}", name, formula, K_N_mm, "N/mm", source="rig_chatter")

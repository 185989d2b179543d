"""docs/worked-job.md by plain arithmetic: the page's hand figures, and crib's answers within what it allows.

The hand side uses nothing of crib's: its figures stand here as a machinist would copy them from the printed
sources (numbers in brackets: list at the end of the page), its sums are written out. The crib side asks the
demo workshop. Every figure printed in the page's table must be one or the other.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import acos, asin, atan2, cos, degrees, pi, radians, sin, sqrt, tan
from pathlib import Path

import pytest

from crib.cli.demo import WORKED
from crib.desk import tables as desk_tables
from crib.desk.picking.pick import Candidate, ToolName, pick
from crib.desk.starting.start import Start, start
from crib.trade import tables
from crib.trade.cutting.edge import engage
from crib.trade.cutting.finish import feed_ceiling
from crib.trade.cutting.materials import find_material

PAGE = Path(__file__).parents[2] / "docs" / "worked-job.md"
HOLDER, INSERT = "SDJCL2525M11", "DCMT11T304"
PER_INCH_UNIT = {  # exact by definition [18]
    "in": 25.4,
    "in/rev": 25.4,
    "ft/min": 0.3048,
    "lbf": 4.4482216152605,
    "hp": 0.74569987158227,
}

# As copied for the hand work.
FROM_MM, TO_MM, LENGTH_MM = 16.375 * 25.4, 16.5 * 25.4, 6.0 * 25.4
KC11, MC = 1350.0, 0.21  # [1]
KC11_HIGH = 1988.0 * 0.2 ** (0.21 - 0.263)  # mild steel, brought over at a chip of 0.2 mm [21]
KC11_NAMED = 1811.0 * 0.2 ** (0.21 - 0.162), 1780.0 * 0.2 ** (0.21 - 0.17)  # S275 and S275JR, likewise [21]
VC_LOW, VC_HIGH = 106.7, 213.4  # 350 ft/min (rough) to 700 ft/min (finish) [2]
SCALE_LOW, SCALE_HIGH = 0.7, 0.8  # [2]
F_LOW, F_HIGH = 0.003 * 25.4, 0.015 * 25.4  # [2]
F_FINISH_HIGH = 0.008 * 25.4  # upper end of the finish row; its lower end is F_LOW [2]
SPINDLE = (9, 12, 17, 23, 32, 43, 59, 81, 110, 150, 205, 280)  # the machine's plate
FEEDS = (0.05, 0.08, 0.12, 0.18, 0.27, 0.4, 0.6, 0.9)  # the machine's plate
K_N_MM, ZETA = 8000.0, 0.025  # [12]
FEED_OF_NOSE, FINISH_OF_NOSE = 0.4, 2.0 / 3.0  # [5] [7]


def third_up(low: float, high: float) -> float:
    """A third of the way up a range by ratio [3]."""
    return low * (high / low) ** (1.0 / 3.0)


@dataclass(frozen=True)
class Edge:
    """A tool for the hand work: nose mm, entering angle, rake, inclination in degrees, edge rounding µm."""

    nose: float
    kappa: float
    rake: float
    slant: float
    hone: float


TOOL = Edge(nose=0.4, kappa=93.0, rake=10.0, slant=0.0, hone=25.0)  # [6] [8] [9]
PLAIN = Edge(nose=0.8, kappa=95.0, rake=4.0, slant=-6.0, hone=35.0)  # [6] [8] [9]


def split(edge: Edge, ap: float, f: float) -> dict[str, float]:
    """The engaged edge: straight part and nose, and the chip on each."""
    r, k = edge.nose, radians(edge.kappa)
    back = asin(f / (2 * r))  # the nose also cuts a little behind its lowest point
    cusp = r - sqrt(r * r - f * f / 4)
    straight = (ap - r * (1 - cos(k))) / sin(k)
    if straight < 0:  # the depth lies within the nose
        straight, k = 0.0, acos(1 - ap / r)
    h_straight = f * sin(k)
    area = f * ap - f * cusp / 3
    nose = r * (k + back)
    return {
        "cusp": cusp,
        "straight": straight,
        "h_straight": h_straight,
        "area": area,
        "nose": nose,
        "h_nose": (area - straight * h_straight) / nose,
        "back": back,
        "end": k,
    }


def forces(edge: Edge, ap: float, f: float) -> dict[str, float]:
    """Fc, Ff, Fp: straight part and nose each at its mean thickness, edge share taken out and put back."""
    part, k, r = split(edge, ap, f), radians(edge.kappa), edge.nose
    per_mm = KC11 / 2200 * (10 + 0.6 * 35)  # edge force inside the printed kc [10]
    rows = {}
    for name in ("straight", "nose"):
        printed = KC11 * part[f"h_{name}"] ** (1 - MC) * part[name]
        rub = per_mm * part[name]
        rows[name] = ((printed - rub) * (1 - 0.015 * (edge.rake - 6)), rub)  # rake [11]
    chip = rows["straight"][0] + rows["nose"][0]
    rub = rows["straight"][1] + rows["nose"][1]
    Fc = chip + rub * (10 + 0.6 * edge.hone) / 31
    friction = 30.2 + 0.3 * edge.rake  # [10]
    lean = radians(friction - edge.rake)
    thrust = (5 + 0.8 * edge.hone) / 31
    push_s, push_n = (rows[name][0] * tan(lean) + rows[name][1] * thrust for name in ("straight", "nose"))
    nose_chip, nose_rub = rows["nose"][0] * tan(lean), rows["nose"][1] * thrust
    # shares over a quarter turn of nose: chip as sin k, rubbing even
    local_p = push_s * cos(k) + nose_chip / 2 + nose_rub * 2 / pi
    local_f = push_s * sin(k) + nose_chip * pi / 4 + nose_rub * 2 / pi
    across = r * (sin(k) + sin(part["back"])) + part["straight"] * cos(k)
    up = r * (cos(part["back"]) - cos(k)) + part["straight"] * sin(k)
    chord = atan2(up, across)  # [14]
    push = push_s + push_n
    # force along the edge that the inclination brings, per unit of chip force [13]
    side = tan(radians(-edge.slant)) * (1 - sin(radians(friction)) / cos(lean))
    along_p = side * (rows["straight"][0] * sin(k) + rows["nose"][0] * pi / 4)
    along_f = side * (rows["straight"][0] * cos(k) + rows["nose"][0] / 2)
    return {
        "rub": rub,
        "chip": chip,
        "Fc": Fc,
        "push": push,
        "chord": degrees(chord),
        "local_f": local_f,
        "local_p": local_p,
        "Ff": (local_f + push * sin(chord)) / 2 - along_f,
        "Fp": (local_p + push * cos(chord)) / 2 + along_p,
    }


def weighted(force: Mapping[str, float]) -> float:
    """Tool pressure where the set-up gives away from the tool [15]."""
    return sqrt(force["Fp"] ** 2 + (0.2 * force["Ff"]) ** 2 + (0.2 * force["Fc"]) ** 2)


def stiffness_of_cut(edge: Edge, ap: float, f: float) -> dict[str, float]:
    """Regenerative stiffness for a set-up that gives away from the tool, nose at its mean thickness [16]."""
    part = split(edge, ap, f)
    k = part["end"]
    keep = 1 - 0.015 * (edge.rake - 6)
    lean = tan(radians(30.2 + 0.3 * edge.rake - edge.rake))

    def slope(h: float) -> float:
        return (1 - MC) * KC11 * h**-MC * keep * lean

    turn = (k + part["back"]) / 2 + (sin(2 * k) + sin(2 * part["back"])) / 4  # integral of cos² over the nose
    K = slope(part["h_nose"]) * edge.nose * turn
    K += slope(part["h_straight"]) * part["straight"] * cos(k) ** 2
    return {"slope": slope(part["h_nose"]), "turn": turn, "K": K}


def work_by_hand() -> dict[str, float]:
    """Every figure of the column "by hand", by its line on the page."""
    stock = (TO_MM - FROM_MM) / 2
    vc = third_up(VC_LOW, VC_HIGH) * third_up(SCALE_LOW, SCALE_HIGH)
    wanted = 1000 * vc / (pi * TO_MM)
    n = max(step for step in SPINDLE if step <= wanted)
    vc_real = pi * TO_MM * n / 1000
    f_start, ceiling = third_up(F_LOW, F_HIGH), FEED_OF_NOSE * TOOL.nose
    f = max(step for step in FEEDS if step <= min(f_start, ceiling))
    finish = FINISH_OF_NOSE * TOOL.nose
    ap = stock - finish
    f_last = third_up(F_LOW, F_FINISH_HIGH)
    f_fine = max(step for step in FEEDS if step <= min(f_last, ceiling, f))
    rough, last = LENGTH_MM / (f * n), LENGTH_MM / (f_fine * n)
    part, force, plain = split(TOOL, ap, f), forces(TOOL, ap, f), forces(PLAIN, ap, f)
    cut, fine = stiffness_of_cut(TOOL, ap, f), stiffness_of_cut(TOOL, finish, f_fine)
    arc = split(TOOL, finish, f_fine)
    allowed = 2 * K_N_MM * ZETA * (1 + ZETA)
    return {
        "stock": stock,
        "table speed": third_up(VC_LOW, VC_HIGH),
        "factor for scale": third_up(SCALE_LOW, SCALE_HIGH),
        "start speed": vc,
        "spindle speed wanted": wanted,
        "spindle speed": n,
        "cutting speed": vc_real,
        "start feed": f_start,
        "nose's ceiling": ceiling,
        "feed": f,
        "finishing pass": finish,
        "roughing pass": ap,
        "size to measure": FROM_MM + 2 * ap,
        "finishing feed wanted": f_last,
        "finishing feed": f_fine,
        "minutes of roughing": rough,
        "minutes of finishing": last,
        "minutes in the cut": rough + last,
        "chip section": part["area"],
        "straight edge": part["straight"],
        "thickness there": part["h_straight"],
        "nose edge": part["nose"],
        "mean thickness there": part["h_nose"],
        "edge share": force["rub"],
        "chip share": force["chip"],
        "cutting force": force["Fc"],
        "power at the edge": force["Fc"] * vc_real / 60000,
        "push square to the edge": force["push"],
        "chord's angle": force["chord"],
        "feed force": force["Ff"],
        "passive force": force["Fp"],
        "tool pressure": weighted(force),
        "plain insert's pressure": weighted(plain),
        "pressure ratio": weighted(force) / weighted(plain),
        "slope on the nose": cut["slope"],
        "integral of cos²": cut["turn"],
        "stiffness of roughing": cut["K"],
        "finishing edge": arc["nose"],
        "mean thickness when finishing": arc["h_nose"],
        "stiffness of finishing": fine["K"],
        "stiffness allowed": allowed,
        "margin": allowed / max(cut["K"], fine["K"]),
        "margin by the highest force": allowed / max(cut["K"], fine["K"]) * KC11 / KC11_HIGH,
        "feed marks Rz": arc["cusp"] * 1000,
    }


# -- what crib says ---------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def chosen(demo_store: str) -> Candidate:
    return pick(demo_store, WORKED).candidates[0]


@pytest.fixture(scope="module")
def roughing(demo_store: str) -> Candidate:
    """The same tool with the roughing pass alone: the first choice's margin is that of its worst pass."""
    request = replace(WORKED, to="418.5664 mm", depth="1.4 mm", feed="0.12 mm/rev")
    found = pick(demo_store, request, most=1000).candidates
    return next(one for one in found if (named(one.holder), named(one.insert)) == (HOLDER, INSERT))


def named(tool: ToolName | None) -> str | None:
    return tool.designation if tool else None


@pytest.fixture(scope="module")
def finishing(demo_store: str) -> Start:
    """Starting data of a finishing cut as `crib speed` gives them, without the machine."""
    return start(
        demo_store, material=WORKED.material, tool="coated carbide", op=WORKED.op, cut="finish", scale=True
    )


@pytest.fixture(scope="module")
def starting(demo_store: str) -> dict[bool, Start]:
    """Starting data as `crib speed` gives them, with the machine (True) and without (False)."""
    return {
        known: start(
            demo_store,
            material=WORKED.material,
            tool="coated carbide",
            op=WORKED.op,
            diameter=WORKED.to,
            machine=WORKED.machine if known else "",
            scale=True,
        )
        for known in (True, False)
    }


@pytest.fixture(scope="module")
def answers(
    chosen: Candidate, roughing: Candidate, finishing: Start, starting: dict[bool, Start]
) -> dict[str, float]:
    """Every figure of the column "crib"; lines that crib does not show are not in it."""
    assert chosen.insert is not None
    shape = engage(chosen.ap_mm, chosen.f_mm, TOOL.nose, TOOL.kappa)
    flank, free = shape.pieces[-1], starting[False]
    assert free.n_rev_min is not None
    assert chosen.Rz_um is not None
    rough, last = chosen.passes
    assert rough.minutes is not None
    assert last.minutes is not None
    assert chosen.minutes is not None
    assert roughing.ap_mm == pytest.approx(chosen.ap_mm)
    arc = engage(last.ap_mm, last.f_mm, TOOL.nose, TOOL.kappa)
    nose = shape.length_mm - flank.dl_mm
    return {
        "stock": sum(one.ap_mm for one in chosen.passes),
        "start speed": free.vc_m_min.start,
        "spindle speed wanted": free.n_rev_min,
        "spindle speed": chosen.n_rev_min,
        "cutting speed": chosen.vc_m_min,
        "start feed": free.f_mm.start,
        "nose's ceiling": feed_ceiling("D", TOOL.nose, "medium", tables.rows).f_mm,
        "feed": chosen.f_mm,
        "finishing pass": last.ap_mm,
        "roughing pass": chosen.ap_mm,
        "size to measure": rough.to_mm,
        "finishing feed wanted": finishing.f_mm.start,
        "finishing feed": last.f_mm,
        "minutes of roughing": rough.minutes,
        "minutes of finishing": last.minutes,
        "minutes in the cut": chosen.minutes,
        "chip section": shape.area_mm2,
        "straight edge": flank.dl_mm,
        "thickness there": flank.h_mm,
        "nose edge": nose,
        "mean thickness there": (shape.area_mm2 - flank.dA_mm2) / nose,
        "cutting force": chosen.Fc_N,
        "power at the edge": chosen.Pc_kW,
        "chord's angle": degrees(shape.chord_angle_rad),
        "feed force": chosen.Ff_N,
        "passive force": chosen.Fp_N,
        "tool pressure": chosen.pressure_N,
        "plain insert's pressure": chosen.pressure_N / chosen.pressure_ratio,
        "pressure ratio": chosen.pressure_ratio,
        "stiffness of roughing": roughing.regenerative_stiffness_N_mm,
        "finishing edge": arc.length_mm,
        "mean thickness when finishing": arc.area_mm2 / arc.length_mm,
        "stiffness of finishing": chosen.regenerative_stiffness_N_mm,
        "stiffness allowed": chosen.regenerative_stiffness_N_mm * chosen.stability_margin,
        "margin": chosen.stability_margin,
        "margin by the highest force": chosen.stability_margin_low,
        "feed marks Rz": chosen.Rz_um,
    }


# -- the page ---------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Line:
    """One line of the page's table, as printed."""

    what: str
    hand: str
    crib: str
    off: str
    within: str


TEXT = PAGE.read_text(encoding="utf-8")
WORDS = " ".join(TEXT.split())  # however its lines are broken


def page_lines() -> list[Line]:
    rows = [line for line in TEXT.splitlines() if re.match(r"\| \d+ \|", line)]
    cells = [[cell.strip() for cell in row.strip("|").split("|")] for row in rows]
    return [Line(what=one[1], hand=one[3], crib=one[4], off=one[5], within=one[6]) for one in cells]


LINES = page_lines()


def printed(cell: str) -> tuple[float, float]:
    """A printed figure, and half of its last digit."""
    found = re.match(r"[-+−]?\d+(?:\.(\d+))?", cell)
    assert found, f"no figure in {cell!r}"
    return float(found[0].replace("−", "-")), 0.5 * 10.0 ** -len(found[1] or "")


def agrees(cell: str, value: float) -> bool:
    figure, half = printed(cell)
    return abs(figure - value) <= half * 1.0001


@pytest.fixture(scope="module")
def by_hand() -> dict[str, float]:
    return work_by_hand()


def test_the_page_holds_every_line_once(by_hand: dict[str, float], answers: dict[str, float]) -> None:
    assert [line.what for line in LINES] == list(by_hand)
    assert {line.what for line in LINES if line.crib != "–"} == set(answers)


def test_the_page_works_out_the_demos_first_choice(chosen: Candidate) -> None:
    assert chosen.insert is not None
    assert (chosen.holder.designation, chosen.insert.designation) == (HOLDER, INSERT)
    assert f"{HOLDER} with {INSERT}" in WORDS


@pytest.mark.parametrize("line", LINES, ids=lambda line: line.what)
def test_hand_figures_are_those_of_the_page(line: Line, by_hand: dict[str, float]) -> None:
    assert agrees(line.hand, by_hand[line.what])
    for figure, unit in re.findall(r"([\d.]+) (in/rev|in|ft/min|lbf|hp)\b", line.hand):
        assert agrees(figure, by_hand[line.what] / PER_INCH_UNIT[unit])


@pytest.mark.parametrize("line", [one for one in LINES if one.crib != "–"], ids=lambda line: line.what)
def test_crib_answers_as_the_hand_figures_do(
    line: Line, by_hand: dict[str, float], answers: dict[str, float]
) -> None:
    hand, crib = by_hand[line.what], answers[line.what]
    off = 100 * (hand / crib - 1)
    assert agrees(line.crib, crib)
    assert agrees(line.off, off)
    assert abs(off) <= printed(line.within)[0] + 1e-9


def test_the_cut_is_no_deeper_than_edge_and_motor_stand(chosen: Candidate) -> None:
    # half of a 55° edge of 9.525 / sin 55 = 11.6 mm [17]; 10 hp at 65 % [machine's plate]
    assert chosen.ap_mm <= 0.5 * 9.525 / sin(radians(55.0))
    assert chosen.Pc_kW / 0.65 <= 10 * PER_INCH_UNIT["hp"]


def test_straight_edge_adds_too_little_to_chatter_at_any_depth(
    chosen: Candidate, roughing: Candidate
) -> None:
    deepest = 0.5 * 9.525 / sin(radians(55.0))
    more = stiffness_of_cut(TOOL, deepest, 0.12)["K"] - stiffness_of_cut(TOOL, chosen.ap_mm, 0.12)["K"]
    assert roughing.regenerative_stiffness_N_mm + more < 2 * K_N_MM * ZETA * (1 + ZETA)
    assert chosen.b_lim_mm is None


def test_the_finishing_pass_is_the_one_that_comes_nearest_to_chatter(
    chosen: Candidate, roughing: Candidate, by_hand: dict[str, float]
) -> None:
    assert by_hand["stiffness of finishing"] > by_hand["stiffness of roughing"]
    assert chosen.stability_margin < roughing.stability_margin
    assert "least in the finishing pass" in chosen.reasons[0]


def test_other_sources_of_specific_force_would_take_the_margin_away(chosen: Candidate) -> None:
    # the page's warning: the highest of those on record, and the two that name the steel
    steel = find_material(WORKED.material, desk_tables.materials())
    assert steel.kc_low_N_mm2 == KC11
    assert steel.kc_high_N_mm2 == pytest.approx(KC11_HIGH)
    assert chosen.stability_margin_high == chosen.stability_margin
    low = chosen.stability_margin * KC11 / KC11_HIGH
    assert chosen.stability_margin_low == pytest.approx(low)
    assert f"= {KC11_HIGH:.0f} N/mm², 60 % more: margin {low:.2f}, it would ring" in WORDS
    least, most = sorted(KC11_NAMED)
    between = chosen.stability_margin * KC11 / most
    assert f"S275, give {least:.0f} and {most:.0f}: margin {between:.2f}, just held" in WORDS
    assert chosen.reasons[0].startswith("may hold")


def test_figures_in_the_words_of_the_page(chosen: Candidate, by_hand: dict[str, float]) -> None:
    ap, f = by_hand["roughing pass"], by_hand["feed"]
    plain = forces(PLAIN, ap, f)
    assert f"Fc {plain['Fc']:.0f}, Ff {plain['Ff']:.0f}, Fp {plain['Fp']:.0f} N" in WORDS
    tool = forces(TOOL, ap, f)
    assert f"({tool['local_f']:.1f}) and half of {tool['push']:.1f} × sin {tool['chord']:.1f}°" in WORDS
    assert f"({tool['local_p']:.1f}) and half of {tool['push']:.1f} × cos {tool['chord']:.1f}°" in WORDS
    assert f"ratio is {chosen.pressure_low:.2f} to {chosen.pressure_high:.2f}" in WORDS
    more = stiffness_of_cut(TOOL, ap + 1.0, f)["K"] - stiffness_of_cut(TOOL, ap, f)["K"]
    assert f"adds only {more:.1f} N/mm of stiffness for each mm" in WORDS
    arc = split(TOOL, by_hand["finishing pass"], by_hand["finishing feed"])
    fine = stiffness_of_cut(TOOL, by_hand["finishing pass"], by_hand["finishing feed"])
    assert f"{degrees(arc['end']):.1f}° + {degrees(arc['back']):.1f}°" in WORDS
    assert f"{arc['area']:.4f} / {arc['nose']:.4f}" in WORDS
    softer = [  # at the roughing feed, and at half the depth
        100 * (1 - stiffness_of_cut(TOOL, ap_mm, f_mm)["K"] / fine["K"])
        for ap_mm, f_mm in ((by_hand["finishing pass"], f), (by_hand["finishing pass"] / 2, 0.08))
    ]
    assert f"makes it {softer[0]:.0f} to {softer[1]:.0f} % softer by hand" in WORDS
    assert f"= {fine['slope']:.0f}, times 0.4 × {fine['turn']:.3f}" in WORDS
    edge = by_hand["straight edge"] + by_hand["nose edge"]
    h = by_hand["chip section"] / edge
    Fc = KC11 * h**-MC * by_hand["chip section"]
    assert f"/ {edge:.3f} = {h:.3f} mm" in WORDS
    assert f"Fc = kc A = {Fc:.0f} N" in WORDS


def test_hand_geometry_against_the_books_case() -> None:
    # a sharp corner: b = ap / sin k, h = f sin k, area f ap (ISO 3002-3)
    part = split(Edge(nose=1e-9, kappa=75.0, rake=6.0, slant=0.0, hone=35.0), 2.0, 1e-10)
    assert part["straight"] == pytest.approx(2.0 / sin(radians(75.0)))
    assert degrees(acos(part["h_straight"] / 1e-10)) == pytest.approx(15.0)

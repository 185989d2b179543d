"""The chain behind what follows from a cut: power, a drill's load, minutes, life of the edge, what pays."""

from dataclasses import dataclass

from crib.desk.picking.job import efficiency
from crib.desk.starting.effects import Effects
from crib.desk.starting.life import Economy, EconomyLine, LifeLine
from crib.desk.starting.load import WEAR_OF_CUT, Drill, Power, drill_correction, force_factor
from crib.desk.why.start import DEFINED
from crib.desk.why.step import Maker
from crib.store.rows import MachineRow
from crib.trade.cutting.drilling import (
    HANDBOOK_SOURCE,
    KIENZLE_SOURCE,
    STANDARD_CHISEL,
    STANDARD_POINT_DEG,
    chisel_edge,
    drill_work,
    drilling_power_kW,
)
from crib.trade.cutting.life import ECONOMICS_SOURCE
from crib.trade.cutting.power import drive_efficiency
from crib.trade.tables import rows

_LBF_N = 4.4482216152605
_LBF_IN_NM = _LBF_N * 0.0254


@dataclass(frozen=True, slots=True, kw_only=True)
class Symbols:
    """What earlier steps call speed, feed, depth, diameter and spindle speed of the cut; empty for none."""

    vc: str
    f: str
    ap: str
    D: str = "D"
    n: str = "n"


def effect_steps(
    maker: Maker,
    found: Effects,
    symbols: Symbols,
    *,
    tool: str,
    cut: str,
    machine: MachineRow | None,
) -> None:
    """Everything that follows from a speed, feed and depth, each step with its numbers.

    Args:
        maker: puts the chain together; it knows the symbols.
        found: the answer's figures.
        symbols: what the cut is called there.
        tool: tool material.
        cut: kind of cut, or "drilling".
        machine: what is known of the machine.
    """
    if found.drill is not None:
        drill_steps(maker, found.drill, symbols, tool)
    elif found.power is not None:
        maker.part("Power, at a 90° edge without corrections")
        maker.step(
            "kc", "specific force at that chip", f"kc1.1 × {symbols.f}^(−mc)", _kc(maker, symbols), "N/mm²"
        )
        formula = f"{symbols.ap} × {symbols.f} × {symbols.vc} × kc / 60000"
        maker.step("Pc", "power at the edge", formula, found.power.needed_kW, "kW", source=DEFINED)
    if found.power is not None:
        needed = "P_k" if found.drill is not None else "Pc"
        reserve_steps(maker, found.power, needed, cut, machine)
    if found.time is not None:
        time_steps(maker, found, symbols)
    life_steps(maker, found.life.lines, symbols)
    if found.economy is not None:
        economy_steps(maker, found.economy, found.life.lines, symbols)


def _kc(maker: Maker, symbols: Symbols) -> float:
    return float(maker.value("kc1.1") * maker.value(symbols.f) ** -maker.value("mc"))


# -- power ------------------------------------------------------------------------------------------------


def reserve_steps(maker: Maker, power: Power, needed: str, cut: str, machine: MachineRow | None) -> None:
    """The power of a worn edge in the hardest work, against what the motor brings.

    Args:
        maker: puts the chain together.
        power: the answer's figures.
        needed: symbol of the power at the edge, sharp.
        cut: kind of cut, or "drilling".
        machine: what is known of the machine.
    """
    wear = force_factor("wear", WEAR_OF_CUT.get(cut, cut))
    maker.given("x_w", f"factor of a worn edge: {wear.case}", wear.high, source=wear.source)
    band = " × kc_high / kc1.1" if maker.knows("kc_high") else ""
    name = "power worn, by the highest force of the sources"
    maker.step("P_h", name, f"{needed} × x_w{band}", power.needed_high_kW, "kW")
    if power.at_edge_kW is None or power.reserve is None or machine is None or not machine.power_kw:
        return
    if not maker.knows("η"):
        efficiency_step(maker, machine)
    if not maker.knows("P_has"):
        maker.given("P_has", f"motor of the {machine.name} on record", machine.power_kw, "kW")
    maker.step("P_e", "what the motor brings to the edge", "η × P_has", power.at_edge_kW, "kW")
    wanted = force_factor("reserve", "power")
    said = f"{power.verdict}: enough is {wanted.high:g} times the worn power or more"
    maker.step(
        "x_P",
        "reserve over the sharp power",
        f"P_e / {needed}",
        power.reserve,
        source=wanted.source,
        assumed=said,
    )


def efficiency_step(maker: Maker, machine: MachineRow | None) -> None:
    """The efficiency of the drive: symbol η."""
    source, said = "", "on record"
    if not (machine and machine.efficiency):
        source, said = drive_efficiency("unknown", rows)[2], "drive not on record: low end of what is usual"
    maker.given("η", "efficiency of the drive", efficiency(machine), source=source, assumed=said)


# -- drilling ---------------------------------------------------------------------------------------------


def drill_steps(maker: Maker, drill: Drill, symbols: Symbols, tool: str) -> None:
    """Torque and thrust of a drill by both ways of reckoning."""
    f, D = symbols.f, symbols.D
    torques, thrusts = [], []
    if drill.kienzle is not None:
        maker.part("Drill, by the specific cutting force")
        operation, edge = drill_correction(tool)
        maker.given("x_o", f"correction for {operation.case}", operation.high, source=operation.source)
        maker.given("x_t", f"correction for {edge.case}", edge.high, source=edge.source)
        maker.given("σ", "point angle", STANDARD_POINT_DEG, "°", assumed="standard point")
        formula = f"kc1.1 × ({f} / 2 × sin(σ / 2))^(−mc) × x_o × x_t"
        kc = drill.kienzle.M_Nm * 8000.0 / (maker.value(f) * maker.value(D) ** 2)
        maker.step(
            "kc_d", "specific force, half the feed on each lip", formula, kc, "N/mm²", source=KIENZLE_SOURCE
        )
        formula = f"kc_d × {f} × {D}^2 / 8000"
        maker.step("M_k", "torque, sharp", formula, drill.kienzle.M_Nm, "N m", source=KIENZLE_SOURCE)
        lips = f"0.5 × kc_d × {D} / 2 × {f} × sin(σ / 2)"
        for symbol, times, value in (
            ("F_k1", 1.3, drill.kienzle.thrust_low_N),
            ("F_k2", 1.6, drill.kienzle.thrust_high_N),
        ):
            name = f"thrust, sharp, with {times - 1:.0%} for the chisel edge"
            maker.step(symbol, name, f"{lips} × {times:g}", value, "N", source=KIENZLE_SOURCE)
        torques.append(("M_k", drill.kienzle.M_Nm))
        thrusts += [("F_k1", drill.kienzle.thrust_low_N), ("F_k2", drill.kienzle.thrust_high_N)]
        if maker.knows(symbols.n):
            kW = drilling_power_kW(drill.kienzle.M_Nm, maker.value(symbols.n))
            maker.step("P_k", "power, sharp", f"2 × π × {symbols.n} × M_k / 60000", kW, "kW", source=DEFINED)
    if drill.handbook is not None:
        _handbook_steps(maker, drill, symbols)
        torques.append(("M_b", drill.handbook.M_Nm))
        thrusts.append(("F_b", drill.handbook.thrust_low_N))
    maker.part("Drill, both ways together")
    source = force_factor("wear", "drilling").source
    maker.given("x_d", "factor of usual wear", drill.wear, source=source)
    for symbol, name, unit, ends, found in (
        ("M", "torque", "N m", torques, (drill.M_low_Nm, drill.M_high_Nm)),
        ("F", "thrust", "N", thrusts, (drill.thrust_low_N, drill.thrust_high_N)),
    ):
        low, high = (_pick(word, [of for of, _ in ends]) for word in ("min", "max"))
        maker.step(f"{symbol}_d1", f"{name}, sharp, by the lower way", low, found[0], unit)
        maker.step(f"{symbol}_d2", f"{name}, worn, by the higher way", f"{high} × x_d", found[1], unit)
    if drill.Pc_low_kW is not None and drill.Pc_high_kW is not None:
        for end, value in ((1, drill.Pc_low_kW), (2, drill.Pc_high_kW)):
            formula = f"2 × π × {symbols.n} × M_d{end} / 60000"
            maker.step(f"P_d{end}", "power with it", formula, value, "kW", source=DEFINED)


def _pick(word: str, names: list[str]) -> str:
    return f"{word}({', '.join(names)})" if len(names) > 1 else names[0]


def _handbook_steps(maker: Maker, drill: Drill, symbols: Symbols) -> None:
    maker.part(f"Drill, by the handbook's factors ({drill.handbook_work})")
    work, edge = drill_work(drill.handbook_work, rows), chisel_edge(STANDARD_CHISEL, rows)
    if drill.handbook is None:
        return
    maker.given("K_M", "factor of the work for torque", work.Kd_torque, source=work.source)
    maker.given("K_F", "factor of the work for thrust", work.Kd_thrust, source=work.source)
    said = f"chisel edge {STANDARD_CHISEL:g} of the diameter: a drill of standard design"
    for symbol, value in (("A_c", edge.A), ("B_c", edge.B), ("J_c", edge.J)):
        maker.given(symbol, "factor of the chisel edge", value, source=HANDBOOK_SOURCE, assumed=said)
        said = ""
    D, f = f"({symbols.D} / 25.4)", f"({symbols.f} / 25.4)"
    maker.step(
        "M_b",
        "torque, sharp; printed for inches and pounds",
        f"K_M × {f}^0.8 × {D}^1.8 × A_c × {_LBF_IN_NM:.12g}",
        drill.handbook.M_Nm,
        "N m",
        source=HANDBOOK_SOURCE,
    )
    maker.step(
        "F_b",
        "thrust, sharp",
        f"(2 × K_F × {f}^0.8 × {D}^0.8 × B_c + K_F × {D}^2 × J_c) × {_LBF_N:.14g}",
        drill.handbook.thrust_low_N,
        "N",
        source=HANDBOOK_SOURCE,
    )


# -- time -------------------------------------------------------------------------------------------------


def time_steps(maker: Maker, found: Effects, symbols: Symbols) -> None:
    """Minutes in the cut."""
    time = found.time
    if time is None:
        return
    maker.part("Time")
    maker.given("L", f"way of the tool: {time.way_said}", time.way_mm, "mm")
    maker.step("T_1", "a pass", f"L / ({symbols.f} × {symbols.n})", time.each_min, "min", source=DEFINED)
    maker.step("T", "in the cut, all passes", f"{time.passes} × T_1", time.total_min, "min")


# -- life and what pays -----------------------------------------------------------------------------------


def life_steps(maker: Maker, lines: tuple[LifeLine, ...], symbols: Symbols) -> None:
    """Taylor's law of every row that has a constant."""
    known = {row["id"]: row for row in rows("taylor")}
    for number, one in enumerate(lines, start=1):
        maker.part("Life of the edge" if len(lines) == 1 else f"Life of the edge, law {number}")
        source = known[one.id]["source"]
        said = "; ".join(one.mind)
        maker.given(f"n_e{number}", f"exponent of life: {one.of}", one.n, source=source, assumed=said)
        maker.given(f"C_e{number}", "speed that lasts one minute", one.C_m_min, "m/min", source=source)
        others = "".join(f" × {text}" for text in _others(maker, number, one, symbols, source))
        if one.minutes is not None:
            formula = f"(C_e{number} / ({symbols.vc}{others}))^(1 / n_e{number})"
            maker.step(
                f"T_e{number}", "minutes that an edge lasts", formula, one.minutes, "min", source=source
            )


def _others(maker: Maker, number: int, one: LifeLine, symbols: Symbols, source: str) -> list[str]:
    """Give what feed and depth do to a law, as far as it has them."""
    found = []
    for what, exponent, mine, ref in (
        ("y", one.y, symbols.f, one.f_ref_mm),
        ("x", one.x, symbols.ap, one.ap_ref_mm),
    ):
        if not exponent or not mine:
            continue
        name = "feed" if what == "y" else "depth"
        maker.given(f"{what}_e{number}", f"exponent of {name}", exponent, source=source)
        if not maker.knows(f"{what}r_e{number}"):
            maker.given(f"{what}r_e{number}", f"{name} at which C holds", ref or 1.0, "mm", source=source)
        found.append(f"({mine} / {what}r_e{number})^{what}_e{number}")
    return found


def economy_steps(maker: Maker, economy: Economy, laws: tuple[LifeLine, ...], symbols: Symbols) -> None:
    """The lives and speeds that pay, by the costs that were told."""
    prices = economy.prices
    maker.part("What pays, by the costs told")
    for symbol, name, value, unit in (
        ("c_m", "machine and machinist, a minute", prices.machine_per_min, prices.currency),
        ("c_e", "one edge", prices.edge, prices.currency),
        ("t_c", "time of a change", prices.change_min, "min"),
        ("t_h", "handling of a piece", prices.handling_min, "min"),
    ):
        if value is not None:
            maker.given(symbol, name, value, unit)
    price = {"least_cost": "(t_c + c_e / c_m)", "most_parts": "t_c"}
    words = {"least_cost": "costs least", "most_parts": "makes most pieces"}
    for number, (one, law) in enumerate(zip(economy.lines, laws, strict=True), start=1):
        mark = {"least_cost": "c", "most_parts": "p"}
        for what in price:
            minutes, speed = getattr(one, f"{what}_min"), getattr(one, f"{what}_m_min")
            if minutes is None:
                continue
            T = f"T_{mark[what]}{number}"
            formula = f"(1 / n_e{number} − 1) × {price[what]}"
            maker.step(T, f"life that {words[what]}", formula, minutes, "min", source=ECONOMICS_SOURCE)
            others = "".join(f" / ({text})" for text in _told(maker, number, law, symbols))
            formula = f"C_e{number} / {T}^n_e{number}{others}"
            maker.step(
                f"v_{mark[what]}{number}", "speed for it", formula, speed, "m/min", source=ECONOMICS_SOURCE
            )
        _piece_steps(maker, one, law, number)


def _told(maker: Maker, number: int, law: LifeLine, symbols: Symbols) -> list[str]:
    pairs = (("y", symbols.f), ("x", symbols.ap))
    return [
        f"({mine} / {what}r_e{number})^{what}_e{number}"
        for what, mine in pairs
        if maker.knows(f"{what}_e{number}")
    ]


def _piece_steps(maker: Maker, one: EconomyLine, law: LifeLine, number: int) -> None:
    if one.piece_cost is None or one.edges_per_piece is None or law.minutes is None:
        return
    maker.step(f"z_e{number}", "edges that a piece wears out", f"T / T_e{number}", one.edges_per_piece)
    handled = " + t_h" if maker.knows("t_h") else ""
    formula = f"c_m × (T + z_e{number} × t_c{handled}) + z_e{number} × c_e"
    maker.step(f"c_p{number}", "one piece", formula, one.piece_cost, source=ECONOMICS_SOURCE)

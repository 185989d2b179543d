"""The chain from work material and tables to speed and feed."""

from collections.abc import Sequence
from math import inf, prod

from crib.desk import tables
from crib.desk.why.step import Maker
from crib.store.rows import MachineRow
from crib.trade.cutting.finish import feed_ceiling
from crib.trade.cutting.materials import Material
from crib.trade.cutting.operations import OperationData
from crib.trade.cutting.speed_rows import Row
from crib.trade.cutting.speeds import START_SOURCE, THIRD, Factor, Range, StartingData
from crib.trade.cutting.spindle import STEP_SOURCE, MachineSpeeds, cutting_speed, spindle_speed
from crib.trade.cutting.tool import CuttingTool
from crib.trade.tables import rows

DEFINED = "why_definitions"
SAME = 1e-9  # below the last digit of a table, above that of a float
BESIDE = 3  # steps of a gearbox that are printed on either side of the chosen one


def work_steps(maker: Maker, material: Material) -> None:
    """The work material's specific cutting force and the band of its sources."""
    kc11, mc, low, high = (
        material.kc11_N_mm2,
        material.mc,
        material.kc_low_N_mm2,
        material.kc_high_N_mm2,
    )
    if kc11 is None or mc is None:
        return
    maker.part(f"Work: {material.label}")
    said = "; ".join(material.assumed)
    name, source = "specific cutting force at h = b = 1 mm", material.kc_source
    if (hard := material.hard) is None:
        maker.given("kc1.1", name, kc11, "N/mm²", source=source, assumed=said)
    else:
        usual, at_usual = f"at the usual {hard.usual_hb:g} HB", kc11 / hard.factor
        maker.given("kc_u", f"specific cutting force {usual}", at_usual, "N/mm²", source=source)
        maker.given("H_u", f"printed {usual}, at one feed", hard.usual_N_mm2, "N/mm²", source=hard.source)
        maker.given("H_t", f"printed at {hard.told_hb:g} HB", hard.told_N_mm2, "N/mm²", source=hard.source)
        maker.step("kc1.1", name, "kc_u × H_t / H_u", kc11, "N/mm²", assumed=said)
    maker.given("mc", "exponent: kc = kc1.1 × h^(−mc)", mc, source=material.kc_source)
    if low is not None and high is not None and low < high:
        band = "sources compared at a chip of 0.2 mm, brought to 1 mm by mc"
        source = material.kc_band_source
        maker.given("kc_low", "lowest kc1.1 of the sources", low, "N/mm²", source=source, assumed=band)
        maker.given("kc_high", "highest kc1.1 of the sources", high, "N/mm²", source=source, assumed=band)


def speed_steps(maker: Maker, data: StartingData | OperationData, at: float = THIRD) -> None:
    """From the rows of the table to the cutting speed to start with: symbol v_s."""
    maker.part(f"Speed: {data.tool_material}")
    used = _rows(data.rows)
    sources = " ".join(dict.fromkeys(row["source"] for row in used)) or data.sources[0]
    table, places = data.table_vc_m_min, "; ".join(dict.fromkeys(_place(row) for row in used))
    ends = (("low", table.low, "vc_min_m_min"), ("high", table.high, "vc_max_m_min"))
    for end, value, column in ends if used else ():
        name = f"{end}est speed of the rows used"
        _end(maker, f"v_{end}", name, value, "m/min", (used, column), sources, places)
        places = ""
    factors = [one for one in data.factors if one.quantity == "vc"]
    said = "; ".join(data.assumed)
    if used:
        _start(maker, "v", "table speed to start with", table, "m/min", at, said, last=not factors)
    else:
        symbol = "v_t" if factors else "v_s"
        maker.given(symbol, "the shop's own proven speed", table.start, "m/min", source=sources, assumed=said)
    _factors(maker, "v", "m/min", "speed to start with", factors, data.vc_m_min.start)


def feed_steps(maker: Maker, data: StartingData | OperationData) -> None:
    """From the rows of the table to the feed to start with: symbol f_s."""
    if data.f_mm is None:
        return
    maker.part("Feed")
    factors = [one for one in data.factors if one.quantity == "f"]
    table = _before(data.f_mm, factors)
    used = [row for row in _rows(data.rows) if row["f_min_mm"]]
    sources = " ".join(dict.fromkeys(row["source"] for row in used)) or " ".join(data.sources)
    for end, value, column in (("low", table.low, "f_min_mm"), ("high", table.high, "f_max_mm")):
        name = f"{end}est feed of the rows used"
        _end(maker, f"f_{end}", name, value, "mm/rev", (used, column), sources)
    _start(maker, "f", "table feed to start with", table, "mm/rev", THIRD, "", last=not factors)
    _factors(maker, "f", "mm/rev", "feed to start with", factors, data.f_mm.start)


def finish_steps(maker: Maker, feed: Range, sources: Sequence[str]) -> None:
    """The feed at which finishing rows start: symbol f_fs."""
    for end, value in (("low", feed.low), ("high", feed.high)):
        name = f"{end}est feed of the finishing rows"
        maker.given(f"ff_{end}", name, value, "mm/rev", source=" ".join(sources))
    _start(maker, "ff", "finishing feed to start with", feed, "mm/rev", THIRD, "", last=True)


def _rows(ids: Sequence[str]) -> list[Row]:
    """Find rows of the speed tables by their ids."""
    wanted = set(ids)
    found = tables.speed_rows()
    if not wanted <= found.keys():  # parting, drilling and the like have a table of their own
        others = tables.forms().speeds.by_tool.values()
        found = {row["id"]: row for of_tool in others for row in of_tool}
    return [found[key] for key in ids]


def _place(row: Row) -> str:
    """Say which row of a source it is."""
    parts = (row["material"], row["operation"], row["cut"], row.get("place", ""))
    return ", ".join(part for part in parts if part)


def _end(
    maker: Maker,
    symbol: str,
    name: str,
    value: float,
    unit: str,
    of: tuple[Sequence[Row], str],
    source: str,
    said: str = "",
) -> None:
    """One end of a range: the least or greatest of what the rows print, where that is what it is."""
    used, column = of
    printed = [float(row[column]) for row in used if row[column]]
    best = min if "_min_" in column else max
    if len(set(printed)) < 2 or abs(best(printed) - value) > SAME * value:
        maker.given(symbol, name, value, unit, source=source, assumed=said)
        return
    also = {f"{symbol}{number}": one for number, one in enumerate(printed, start=1)}
    formula = f"{best.__name__}({', '.join(also)})"
    maker.step(symbol, name, formula, value, unit, source=source, assumed=said, also=also)


def _start(
    maker: Maker, of: str, name: str, found: Range, unit: str, at: float, said: str, *, last: bool
) -> None:
    """Where in a range to start."""
    symbol = f"{of}_s" if last else f"{of}_t"
    low, high = f"{of}_low", f"{of}_high"
    if found.start == found.low:
        maker.step(symbol, name, low, found.start, unit, assumed=said)
        return
    part = "1 / 3" if at == THIRD else f"{at:g}"
    formula = f"{low} × ({high} / {low})^({part})"
    maker.step(symbol, name, formula, found.start, unit, source=START_SOURCE, assumed=said)


def _factors(maker: Maker, of: str, unit: str, name: str, factors: Sequence[Factor], start: float) -> None:
    """What conditions take off the start."""
    product = [f"{of}_t"]
    for number, one in enumerate(factors, start=1):
        symbol, ends = f"{of}_x{number}", one.factor
        said = f"{one.condition}: {one.note}" if one.note else one.condition
        product.append(symbol)
        if ends.low == ends.high:
            maker.given(symbol, f"factor for {one.condition}", ends.start, source=one.source, assumed=said)
            continue
        low, high = f"{symbol}_low", f"{symbol}_high"
        maker.step(
            symbol,
            f"factor for {one.condition}, from {ends.low:g} to {ends.high:g}",
            f"{low} × ({high} / {low})^(1 / 3)",
            ends.start,
            source=f"{one.source} {START_SOURCE}",
            assumed=said,
            also={low: ends.low, high: ends.high},
        )
    if factors:
        maker.step(f"{of}_s", name, " × ".join(product), start, unit)


def _before(found: Range, factors: Sequence[Factor]) -> Range:
    """Give a range as it was before its factors."""
    low, start, high = (prod(getattr(one.factor, end) for one in factors) for end in ("low", "start", "high"))
    return Range(low=found.low / low, start=found.start / start, high=found.high / high)


# -- what the machine has ---------------------------------------------------------------------------------


def spindle_steps(
    maker: Maker,
    d_mm: float,
    speeds: MachineSpeeds | None,
    n_rev_min: float,
    vc_m_min: float,
    *,
    v_start: float,
    head: MachineRow | None = None,
    said: str = "",
) -> None:
    """From the cutting speed v_s to the machine's spindle speed n and the cutting speed it makes.

    Args:
        maker: puts the chain together.
        d_mm: diameter where it cuts.
        speeds: what the machine has; None where that is not on record.
        n_rev_min: the spindle speed of the answer.
        vc_m_min: the cutting speed it makes.
        v_start: the value of v_s.
        head: the machine whose facing head the tool turns in; None for any other work.
        said: what was said of the spindle speed.
    """
    maker.part("Spindle")
    maker.given("D", "diameter where it cuts", d_mm, "mm")
    wanted = spindle_speed(v_start, d_mm)
    maker.step("n_w", "spindle speed wanted", "1000 × v_s / (π × D)", wanted, "rev/min", source=DEFINED)
    symbol = "n_w"
    limit = head.head_speed_limit_rev_min if head else None
    if limit is not None and limit < wanted:
        maker.given("n_head", "limit of the facing head on record", limit, "rev/min")
        maker.step("n_l", "held to that", "min(n_w, n_head)", limit, "rev/min")
        symbol, wanted = "n_l", limit
    tangential = head.head_tangential_limit_m_min if head else None
    if tangential is not None and cutting_speed(wanted, d_mm) > tangential:
        maker.given("v_head", "tangential limit of the facing head on record", tangential, "m/min")
        held = spindle_speed(tangential, d_mm)
        formula = f"min({symbol}, 1000 × v_head / (π × D))"
        maker.step("n_t", "held to that", formula, held, "rev/min", source=DEFINED)
        symbol = "n_t"
    not_above(maker, "n", "spindle speed", symbol, speeds, n_rev_min, "rev/min", said)
    maker.step("vc", "cutting speed", "π × D × n / 1000", vc_m_min, "m/min", source=DEFINED)


def not_above(
    maker: Maker,
    symbol: str,
    name: str,
    wanted: str,
    steps: MachineSpeeds | None,
    value: float,
    unit: str,
    said: str = "",
) -> None:
    """The machine's step that is not above what is wanted; as wanted where no steps are on record."""
    if steps is None:
        maker.step(
            symbol, f"{name}, as wanted: no steps of a machine told", wanted, value, unit, assumed=said
        )
        return
    if not steps.steps:
        ends = {f"{symbol}_least": steps.low or 0.0, f"{symbol}_most": steps.high or inf}
        formula = f"max(min({wanted}, {symbol}_most), {symbol}_least)"
        maker.step(
            symbol, f"{name} within the machine's range", formula, value, unit, assumed=said, also=ends
        )
        return
    ordered = sorted(steps.steps)
    place = ordered.index(value)
    shown = ordered[max(0, place - BESIDE) : place + BESIDE]
    also = {f"{symbol}{number}": one for number, one in enumerate(shown, start=1)}
    formula = f"not_above({wanted}, {', '.join(also)})"
    name = f"{name}: the machine's step not above it"
    maker.step(symbol, name, formula, value, unit, source=STEP_SOURCE, assumed=said, also=also)


def ceiling_step(maker: Maker, tool: CuttingTool, cut: str, symbol: str) -> None:
    """The largest feed that the nose stands."""
    limit = feed_ceiling(tool.SC, tool.RE_mm, cut, rows)
    part = f"{symbol}_r"
    name = "largest feed of the nose"
    maker.step(
        symbol, name, f"{part} × r", limit.f_mm, "mm/rev", source=limit.source, also={part: limit.of_RE}
    )

"""How long an edge lasts at a speed, and at what speed it pays: what sourced laws say, and what none says."""

from dataclasses import dataclass, replace
from math import inf, isfinite

from crib.desk.keeping.sources import cite
from crib.desk.starting.costs import Prices
from crib.errors import UnknownName
from crib.trade.cutting.life import (
    ECONOMICS_SOURCE,
    Costs,
    LifeData,
    exponent_band,
    find_life,
    least_cost_life_min,
    life_min,
    load_life,
    most_parts_life_min,
    piece,
    speed_for_life_m_min,
)
from crib.trade.cutting.materials import Material
from crib.trade.tables import rows
from crib.units import Kind, show, span

LATHE = ("turning", "facing", "boring")  # what the laws were drawn from
FASTER = 1.2
DAY_MIN = 8.0 * 60.0
_BEYOND = "more than a working week"


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeLine:
    """What one law says.

    Attributes:
        id: row of the table "taylor".
        of: the work and tool it was drawn from.
        n, C_m_min, y, x: vc T^n (f / f_ref)^y (ap / ap_ref)^x = C; y and x 0 where they are not in it.
        f_ref_mm, ap_ref_mm: feed and depth at which C holds; None where not said.
        minutes: life at the speed, feed and depth of the cut; None beyond any number.
        source: where it is from.
        mind: where it does not speak for this cut.
    """

    id: str
    of: str
    n: float
    C_m_min: float
    y: float
    x: float
    f_ref_mm: float | None
    ap_ref_mm: float | None
    minutes: float | None
    source: tuple[str, ...]
    mind: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Life:
    """Life of an edge at one cut, over the laws on record.

    Attributes:
        vc_m_min, f_mm, ap_mm: the cut.
        low_min, high_min: least and greatest life over the laws; None where no law has a constant.
        lines: the laws.
        n_low, n_high: band of the exponent; None where nothing is on record.
        n_source: where that band is from.
        faster_low, faster_high: share of the life that is left at a fifth more speed, by that band.
        said: all of it in a sentence.
    """

    vc_m_min: float
    f_mm: float | None
    ap_mm: float | None
    low_min: float | None
    high_min: float | None
    lines: tuple[LifeLine, ...]
    n_low: float | None
    n_high: float | None
    n_source: tuple[str, ...]
    faster_low: float | None
    faster_high: float | None
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EconomyLine:
    """The speeds that pay by one law; None where a cost for it was not told.

    Attributes:
        id: row of the table "taylor".
        least_cost_min, least_cost_m_min: life and speed at which a piece costs least.
        most_parts_min, most_parts_m_min: life and speed at which most pieces are made.
        piece_cost: cost of one piece at the speed of the cut; None without its minutes.
        edges_per_piece: edges that it wears out there.
    """

    id: str
    least_cost_min: float | None
    least_cost_m_min: float | None
    most_parts_min: float | None
    most_parts_m_min: float | None
    piece_cost: float | None
    edges_per_piece: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Economy:
    """At what speed it pays, by the costs that were told.

    Attributes:
        prices: the costs.
        lines: one a law that has a constant.
        least_cost_low_min, least_cost_high_min: life that costs least, over the band of the exponent.
        most_parts_low_min, most_parts_high_min: life that makes most pieces, likewise.
        source: of the sums.
        said: in sentences.
    """

    prices: Prices
    lines: tuple[EconomyLine, ...]
    least_cost_low_min: float | None
    least_cost_high_min: float | None
    most_parts_low_min: float | None
    most_parts_high_min: float | None
    source: tuple[str, ...]
    said: tuple[str, ...]


def life_rows(material: Material, tool: str, operation: str) -> tuple[LifeData, ...]:
    """Give the rows of tool life for a work and tool material; none where nothing is on record."""
    if operation not in LATHE:
        return ()
    try:
        return find_life(material.iso513, tool, load_life(rows("taylor")))
    except UnknownName:
        return ()


def life_of(
    material: Material,
    tool: str,
    operation: str,
    vc_m_min: float,
    f_mm: float | None,
    ap_mm: float | None,
    system: str,
) -> Life:
    """Give the life of an edge at a speed, feed and depth.

    Args:
        material: what is cut.
        tool: tool material, as the tables name it.
        operation: the laws speak for turning, facing and boring.
        vc_m_min: cutting speed.
        f_mm: feed; None leaves it at that of each law.
        ap_mm: depth on the side; None likewise.
        system: units of the user, for the words.
    """
    found = life_rows(material, tool, operation)
    lines = tuple(_line(row, vc_m_min, f_mm, ap_mm) for row in found if row.C_m_min is not None)
    lives = [one.minutes if one.minutes is not None else inf for one in lines]
    band = exponent_band(found) if found else (None, None)
    left = [FASTER ** (-1.0 / n) for n in band if n is not None]
    life = Life(
        vc_m_min=vc_m_min,
        f_mm=f_mm,
        ap_mm=ap_mm,
        low_min=min(lives, default=None),
        high_min=max(lives, default=None),
        lines=lines,
        n_low=band[0],
        n_high=band[1],
        n_source=tuple(dict.fromkeys(cite(key) for row in found for key in row.source.split())),
        faster_low=min(left, default=None),
        faster_high=max(left, default=None),
        said="",
    )
    return _with_words(life, material, tool, operation, system)


def _line(row: LifeData, vc_m_min: float, f_mm: float | None, ap_mm: float | None) -> LifeLine:
    law = row.law()
    minutes = life_min(law, vc_m_min, *_at(row, f_mm, ap_mm))
    return LifeLine(
        id=row.id,
        of=f"{row.work}, {row.tool}",
        n=law.n,
        C_m_min=law.C_m_min,
        y=law.y,
        x=law.x,
        f_ref_mm=row.f_mm,
        ap_ref_mm=row.ap_mm,
        minutes=minutes if isfinite(minutes) else None,
        source=tuple(cite(key) for key in row.source.split()),
        mind=(*row.validity(vc_m_min, f_mm, ap_mm), *([row.note] if row.note else [])),
    )


def _at(row: LifeData, f_mm: float | None, ap_mm: float | None) -> tuple[float | None, float | None]:
    """Give feed and depth as far as the row's law has them."""
    return (f_mm if row.y else None), (ap_mm if row.x else None)


def _with_words(life: Life, material: Material, tool: str, operation: str, system: str) -> Life:
    speed = show(life.vc_m_min, Kind.SPEED, system, both=False)
    if operation not in LATHE:
        said = f"no law of tool life on record is for {operation}"
    elif life.low_min is not None and life.high_min is not None:
        said = f"an edge lasts {_span(life.low_min, life.high_min)} in the cut at {speed}"
    elif life.n_low is not None:
        said = f"no law on record says how long {tool} lasts in ISO 513 group {material.iso513}"
    else:
        said = f"nothing on record about the life of {tool} in ISO 513 group {material.iso513}"
    if life.faster_low is not None and life.faster_high is not None:
        low, high = f"{life.faster_low:.0%}", f"{life.faster_high:.0%}"
        said += f"; a fifth faster leaves {span(low, high)} of it"
    return replace(life, said=said)


def _span(low: float, high: float) -> str:
    first, last = in_time(low), in_time(high)
    if first == last:
        return first if first == _BEYOND else f"about {first}"
    return f"{first} to {last}"


def in_time(minutes: float) -> str:
    """Say a life in minutes or hours; past a working week it is said to be beyond the law."""
    if minutes > 5.0 * DAY_MIN:
        return _BEYOND
    if minutes >= 120.0:
        return f"{minutes / 60.0:.0f} h"
    return f"{minutes:.2g} min" if minutes < 10.0 else f"{minutes:.0f} min"


# -- what pays --------------------------------------------------------------------------------------------


def economy_of(
    material: Material,
    tool: str,
    operation: str,
    life: Life,
    prices: Prices,
    cut_min: float | None,
    vc_most_m_min: float,
    system: str,
) -> Economy:
    """Give the speeds that pay, by the costs that were told.

    Args:
        material: what is cut.
        tool: tool material.
        operation: what is done.
        life: of an edge at the cut.
        prices: what time and edges cost.
        cut_min: minutes in the cut of one piece; None where not known.
        vc_most_m_min: highest speed that the tables print for the cut.
        system: units of the user, for the words.

    Raises:
        InputError: edges and changes that cost neither time nor money.
    """
    found = life_rows(material, tool, operation)
    costs, change_min = _costs(prices), prices.change_min
    lines = tuple(_economy_line(row, life, costs, change_min, cut_min) for row in found if row.C_m_min)
    ends = exponent_band(found) if found else ()
    least = [least_cost_life_min(n, costs) for n in ends if costs and n < 1.0]
    most = [most_parts_life_min(n, change_min) for n in ends if change_min and n < 1.0]
    economy = Economy(
        prices=prices,
        lines=lines,
        least_cost_low_min=min(least, default=None),
        least_cost_high_min=max(least, default=None),
        most_parts_low_min=min(most, default=None),
        most_parts_high_min=max(most, default=None),
        source=(cite(ECONOMICS_SOURCE),),
        said=(),
    )
    return _economy_words(economy, life, vc_most_m_min, system)


def _costs(prices: Prices) -> Costs | None:
    """Give the costs where all that least cost needs was told."""
    if prices.machine_per_min is None or prices.edge is None or prices.change_min is None:
        return None
    return Costs(
        machine_per_min=prices.machine_per_min,
        change_min=prices.change_min,
        edge=prices.edge,
        handling_min=prices.handling_min or 0.0,
    )


def _economy_line(
    row: LifeData, life: Life, costs: Costs | None, change_min: float | None, cut_min: float | None
) -> EconomyLine:
    law, at = row.law(), _at(row, life.f_mm, life.ap_mm)
    least = least_cost_life_min(law.n, costs) if costs else None
    most = most_parts_life_min(law.n, change_min) if change_min else None
    one = piece(cut_min, life_min(law, life.vc_m_min, *at), costs) if costs and cut_min else None
    return EconomyLine(
        id=row.id,
        least_cost_min=least,
        least_cost_m_min=speed_for_life_m_min(law, least, *at) if least else None,
        most_parts_min=most,
        most_parts_m_min=speed_for_life_m_min(law, most, *at) if most else None,
        piece_cost=one.cost if one else None,
        edges_per_piece=one.edges if one else None,
    )


def _economy_words(economy: Economy, life: Life, vc_most_m_min: float, system: str) -> Economy:
    def band(values: list[float | None], kind: Kind) -> str:
        known = [value for value in values if value is not None]
        return span(*(show(value, kind, system, both=False) for value in (min(known), max(known))))

    said: list[str] = []
    lines, prices = economy.lines, economy.prices
    for word, low, high, speeds in (
        (
            "least cost",
            economy.least_cost_low_min,
            economy.least_cost_high_min,
            [line.least_cost_m_min for line in lines],
        ),
        (
            "most pieces",
            economy.most_parts_low_min,
            economy.most_parts_high_min,
            [line.most_parts_m_min for line in lines],
        ),
    ):
        if low is None or high is None:
            continue
        at = f" at {band(speeds, Kind.SPEED)}" if speeds else ": no law on record gives the speed for it"
        said.append(f"{word} where an edge lasts {_span(low, high)}{at}")
    faster = [
        speed
        for line in lines
        for speed in (line.least_cost_m_min, line.most_parts_m_min)
        if speed is not None and speed > vc_most_m_min
    ]
    if faster:
        most = show(vc_most_m_min, Kind.SPEED, system, both=False)
        said.append(f"no table prints more than {most} for this cut: hold to that, whatever a law says")
    costs = [line.piece_cost for line in lines if line.piece_cost is not None]
    if costs:
        band_said = span(f"{min(costs):.2f}", f"{max(costs):.2f}")
        handled = "" if prices.handling_min else ", its handling left out (not told)"
        said.append(f"one piece at this speed: {band_said} {prices.currency}{handled}")
    if prices.missing:
        said.append(f"not told: {', '.join(prices.missing)}; least cost needs all three")
    if not life.n_low:
        said.append("nothing on record about tool life here: no speed can be called the cheapest")
    return replace(economy, said=tuple(said))

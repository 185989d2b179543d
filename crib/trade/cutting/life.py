"""How long an edge lasts, and at what speed it pays: Taylor's law with feed and depth, and the sums of cost.

vc T^n (f / f0)^y (ap / ap0)^x = C: speed hurts most, then feed, then depth. The law is drawn through tests
and holds between the speeds that were tested, for one work and tool material, one measure of wear and no
built-up edge. Published constants of one pair differ widely; what comes out is for comparing speeds, and no
promise.

Source: Taylor, On the Art of Cutting Metals, 1907; the sums of cost as in textbooks on machining (key
life_economics).
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf, isfinite, log

from crib.errors import InputError, UnknownName

Row = Mapping[str, str]

ECONOMICS_SOURCE = "life_economics"
_OUTSIDE = 1.001
"""Slack on the ends of a tested range: printed figures are rounded."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TaylorLaw:
    """vc T^n (f / f_mm)^y (ap / ap_mm)^x = C_m_min, with T in minutes.

    Attributes:
        n: exponent of life.
        C_m_min: speed in m/min that lasts one minute at the feed and depth the law was found at.
        y: exponent of feed; 0 where feed is not in the law.
        x: exponent of depth; 0 where depth is not in the law.
        f_mm: feed in mm/rev at which C holds; 1 for a law in the textbook form vc T^n f^y ap^x = C.
        ap_mm: depth in mm at which C holds; 1 for the textbook form.

    Raises:
        InputError: a constant that can't be.
    """

    n: float
    C_m_min: float
    y: float = 0.0
    x: float = 0.0
    f_mm: float = 1.0
    ap_mm: float = 1.0

    def __post_init__(self) -> None:
        _positive("the exponent n of a tool-life law", self.n)
        _positive("the constant C of a tool-life law", self.C_m_min)
        _positive("the feed of a tool-life law", self.f_mm)
        _positive("the depth of a tool-life law", self.ap_mm)
        if self.y < 0.0 or self.x < 0.0:
            raise InputError(
                "a tool-life law in which more feed or depth lengthens life can't be", "check y, x"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeData:
    """One row of the table "taylor".

    Attributes:
        id: the row's name.
        groups: ISO 513 letters of the work it is for.
        work: the work in words.
        tool: tool material, as the table "tool_materials" names it.
        n_low, n_high: exponent, or the range of it.
        C_m_min: constant; None where only the exponent is known.
        y, x: exponents of feed and depth; None where not known.
        f_mm, ap_mm: feed and depth at which C holds; None where not said.
        vc_low_m_min, vc_high_m_min: tested speeds; None where not said.
        criterion: the wear at which life ended; may be empty.
        source: source keys.
        note: anything else; may be empty.
    """

    id: str
    groups: str
    work: str
    tool: str
    n_low: float
    n_high: float
    C_m_min: float | None
    y: float | None
    x: float | None
    f_mm: float | None
    ap_mm: float | None
    vc_low_m_min: float | None
    vc_high_m_min: float | None
    criterion: str
    source: str
    note: str

    def law(self) -> TaylorLaw:
        """Give the law that this row prints.

        Raises:
            InputError: the row prints only exponents.
        """
        if self.C_m_min is None:
            raise InputError(
                f"{self.id} gives only the exponent n", "use it to move a known speed to another life"
            )
        return TaylorLaw(
            n=(self.n_low + self.n_high) / 2.0,
            C_m_min=self.C_m_min,
            y=self.y or 0.0,
            x=self.x or 0.0,
            f_mm=self.f_mm or 1.0,
            ap_mm=self.ap_mm or 1.0,
        )

    def validity(
        self, vc_m_min: float | None = None, f_mm: float | None = None, ap_mm: float | None = None
    ) -> tuple[str, ...]:
        """Say where this row does not speak for a cut.

        Args:
            vc_m_min: cutting speed of the cut.
            f_mm: its feed.
            ap_mm: its depth.
        """
        said = []
        low, high = self.vc_low_m_min, self.vc_high_m_min
        if low is None or high is None:
            said.append("tested speeds are not printed: use it between speeds you have seen hold")
        elif vc_m_min is not None and not low / _OUTSIDE <= vc_m_min <= high * _OUTSIDE:
            said.append(f"tested from {low:g} to {high:g} m/min only: {vc_m_min:.4g} m/min is a guess")
        for what, unit, mine, ref, exponent in (
            ("feed", "mm/rev", f_mm, self.f_mm, self.y),
            ("depth", "mm", ap_mm, self.ap_mm, self.x),
        ):
            if exponent is None and mine is not None and ref is not None and abs(mine / ref - 1.0) > 0.05:
                said.append(f"holds at {what} {ref:g} {unit}; it does not say what {mine:.3g} {unit} changes")
        if self.n_high > self.n_low * _OUTSIDE:
            said.append(f"the exponent n is only known to lie from {self.n_low:g} to {self.n_high:g}")
        return tuple(said)


def load_life(rows: Iterable[Row]) -> tuple[LifeData, ...]:
    """Build the tool-life rows from the table "taylor"."""
    return tuple(
        LifeData(
            id=row["id"],
            groups=row["groups"],
            work=row["work"],
            tool=row["tool"],
            n_low=float(row["n_low"]),
            n_high=float(row["n_high"]),
            C_m_min=_maybe(row["C_m_min"]),
            y=_maybe(row["y"]),
            x=_maybe(row["x"]),
            f_mm=_maybe(row["f_mm"]),
            ap_mm=_maybe(row["ap_mm"]),
            vc_low_m_min=_maybe(row["vc_low_m_min"]),
            vc_high_m_min=_maybe(row["vc_high_m_min"]),
            criterion=row["criterion"],
            source=row["source"],
            note=row["note"],
        )
        for row in rows
    )


def find_life(iso513: str, tool: str, known: Sequence[LifeData]) -> tuple[LifeData, ...]:
    """Give every row for a work group and tool material: those with a constant first, ranges of n last.

    Args:
        iso513: ISO 513 group letter (P M K N S H).
        tool: tool material, as the table "tool_materials" names it.
        known: the rows.

    Raises:
        UnknownName: there is none.
    """
    found = [row for row in known if iso513[:1].upper() in row.groups and row.tool == tool]
    if not found:
        tools = sorted({row.tool for row in known if iso513[:1].upper() in row.groups})
        raise UnknownName(
            "tool-life data", f"{tool} in ISO 513 group {iso513}", tools, hint="known: " + ", ".join(tools)
        )
    return tuple(sorted(found, key=lambda row: (row.C_m_min is None, len(row.groups))))


def exponent_band(found: Iterable[LifeData]) -> tuple[float, float]:
    """Give the least and greatest exponent n over rows that `find_life` gave."""
    rows = tuple(found)
    return min(row.n_low for row in rows), max(row.n_high for row in rows)


# -- speed and life ---------------------------------------------------------------------------------------


def speed_for_life_m_min(
    law: TaylorLaw, T_min: float, f_mm: float | None = None, ap_mm: float | None = None
) -> float:
    """Give the cutting speed in m/min at which an edge lasts a wanted time.

    Args:
        law: the law.
        T_min: wanted life in minutes of cutting.
        f_mm: feed; that of the law where None.
        ap_mm: depth; that of the law where None.

    Raises:
        InputError: a value that isn't positive.
    """
    _positive("a tool life", T_min)
    return float(_C_at(law, f_mm, ap_mm) / T_min**law.n)


def life_min(law: TaylorLaw, vc_m_min: float, f_mm: float | None = None, ap_mm: float | None = None) -> float:
    """Give the minutes of cutting that an edge lasts at a speed; infinite where floats can't hold them.

    Args:
        law: the law.
        vc_m_min: cutting speed.
        f_mm: feed; that of the law where None.
        ap_mm: depth; that of the law where None.

    Raises:
        InputError: a value that isn't positive.
    """
    _positive("a cutting speed", vc_m_min)
    try:
        return float((_C_at(law, f_mm, ap_mm) / vc_m_min) ** (1.0 / law.n))
    except OverflowError:
        return inf


def moved_speed_m_min(vc_m_min: float, T_from_min: float, T_to_min: float, n: float) -> float:
    """Give the speed for another life from a speed whose life is known: v = v0 (T0 / T)^n.

    Args:
        vc_m_min: known speed.
        T_from_min: its life.
        T_to_min: wanted life.
        n: Taylor's exponent.

    Raises:
        InputError: a value that isn't positive.
    """
    for what, value in (
        ("a cutting speed", vc_m_min),
        ("a tool life", T_from_min),
        ("a tool life", T_to_min),
        ("the exponent n of a tool-life law", n),
    ):
        _positive(what, value)
    return float(vc_m_min * (T_from_min / T_to_min) ** n)


def law_through(first: tuple[float, float], second: tuple[float, float]) -> TaylorLaw:
    """Draw the law through two tests of one shop: speed in m/min and life in minutes of each.

    Raises:
        InputError: values that aren't positive, or where the faster cut did not wear out sooner.
    """
    for vc_m_min, T_min in (first, second):
        _positive("a cutting speed", vc_m_min)
        _positive("a tool life", T_min)
    (v1, T1), (v2, T2) = first, second
    if v1 == v2 or T1 == T2 or (v1 > v2) == (T1 > T2):
        raise InputError(
            f"{v1:g} m/min for {T1:g} min and {v2:g} m/min for {T2:g} min make no tool-life law",
            "two different speeds are wanted, the faster with the shorter life",
        )
    n = log(v1 / v2) / log(T2 / T1)
    return TaylorLaw(n=n, C_m_min=v1 * T1**n)


# -- cost -------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """What time and edges cost, in any one currency.

    Attributes:
        machine_per_min: machine and machinist, per minute.
        change_min: minutes to change or index an edge, with setting it to size again.
        edge: one edge: the insert over its edges and a share of the holder, or a regrind.
        handling_min: minutes to load, measure and unload one piece.

    Raises:
        InputError: a negative figure, or machine time for nothing.
    """

    machine_per_min: float
    change_min: float
    edge: float
    handling_min: float = 0.0

    def __post_init__(self) -> None:
        _positive("the cost of a machine minute", self.machine_per_min)
        for what, value in (
            ("the time to change an edge", self.change_min),
            ("the cost of an edge", self.edge),
            ("the handling time", self.handling_min),
        ):
            if not (value >= 0.0 and isfinite(value)):
                raise InputError(f"{what} of {value:g} can't be", "give 0 or more")


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """What one piece takes.

    Attributes:
        cut_min: minutes in the cut.
        change_min: its share of the edge changes, in minutes.
        total_min: with handling.
        edges: edges that it wears out.
        cost: all of it, in the currency of the costs.
    """

    cut_min: float
    change_min: float
    total_min: float
    edges: float
    cost: float


def least_cost_life_min(n: float, costs: Costs) -> float:
    """Give the edge life at which a piece costs least: T = (1/n - 1) (change time + edge / machine minute).

    Raises:
        InputError: an exponent outside 0 … 1, or edges and changes that cost nothing.
    """
    return _best_life(n, costs.change_min + costs.edge / costs.machine_per_min)


def most_parts_life_min(n: float, change_min: float) -> float:
    """Give the edge life at which most pieces are made in a day: T = (1/n - 1) change time.

    Raises:
        InputError: an exponent outside 0 … 1, or no time to change an edge.
    """
    return _best_life(n, change_min)


def least_cost_speed_m_min(
    law: TaylorLaw, costs: Costs, f_mm: float | None = None, ap_mm: float | None = None
) -> float:
    """Give the speed at which a piece costs least; what lies above `most_parts_speed_m_min` never pays.

    Raises:
        InputError: as `least_cost_life_min`.
    """
    return speed_for_life_m_min(law, least_cost_life_min(law.n, costs), f_mm, ap_mm)


def most_parts_speed_m_min(
    law: TaylorLaw, change_min: float, f_mm: float | None = None, ap_mm: float | None = None
) -> float:
    """Give the speed at which most pieces are made in a day.

    Raises:
        InputError: as `most_parts_life_min`.
    """
    return speed_for_life_m_min(law, most_parts_life_min(law.n, change_min), f_mm, ap_mm)


def piece(cut_min: float, T_min: float, costs: Costs) -> Piece:
    """Give time and cost of one piece.

    Args:
        cut_min: minutes in the cut.
        T_min: life of an edge in minutes of cutting; may be infinite.
        costs: what time and edges cost.

    Raises:
        InputError: a value that isn't positive.
    """
    _positive("a time in the cut", cut_min)
    if not T_min > 0.0:
        raise InputError(f"a tool life of {T_min:g} can't be", "it must be more than zero")
    edges = cut_min / T_min
    change_min = edges * costs.change_min
    total_min = cut_min + change_min + costs.handling_min
    return Piece(
        cut_min=cut_min,
        change_min=change_min,
        total_min=total_min,
        edges=edges,
        cost=costs.machine_per_min * total_min + edges * costs.edge,
    )


def _best_life(n: float, price_min: float) -> float:
    if not 0.0 < n < 1.0:
        raise InputError(
            f"with n = {n:g} no speed is the best one", "n lies between 0 and 1 for every real pair: check it"
        )
    if not price_min > 0.0:
        raise InputError(
            "an edge that costs neither time nor money sets no speed", "give the time of a change or its cost"
        )
    return (1.0 / n - 1.0) * price_min


def _C_at(law: TaylorLaw, f_mm: float | None, ap_mm: float | None) -> float:
    """Give the one-minute speed at a feed and depth."""
    speed = law.C_m_min
    if f_mm is not None:
        _positive("a feed", f_mm)
        speed /= (f_mm / law.f_mm) ** law.y
    if ap_mm is not None:
        _positive("a depth of cut", ap_mm)
        speed /= (ap_mm / law.ap_mm) ** law.x
    return float(speed)


def _maybe(text: str) -> float | None:
    return float(text) if text else None


def _positive(what: str, value: float) -> None:
    if not (value > 0.0 and isfinite(value)):
        raise InputError(f"{what} of {value:g} can't be", "it must be more than zero")

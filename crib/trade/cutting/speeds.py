"""Starting data: cutting speed, feed and depth from the tables, with range, sources and what was assumed.

How rows are chosen: those that name the material, then those of its VDI 3323 group, then those of a
neighbouring group; at each step the asked tool material before a slower one of its family, read sources
before recalled ones, the asked kind of cut before another. All rows that tie give the range; the start
is a third of the way up it (by ratio), as one starts in the shop. Conditions (scale, interruption …)
then lower it by factors of a table.
"""

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from operator import itemgetter

from crib.errors import InputError, UnknownName
from crib.trade.cutting.materials import Material
from crib.trade.cutting.speed_rows import (
    CUTS,
    INTERRUPTED,
    OPERATIONS,
    OTHER_CUT,
    Choice,
    Row,
    Speeds,
    choose_rows,
    find_tool_material,
    rows_of_cut,
    span,
)

__all__ = [
    "CUTS",
    "OPERATIONS",
    "Factor",
    "Range",
    "Speeds",
    "StartingData",
    "find_tool_material",
    "starting_data",
]

START_SOURCE = "cut_start_low"
THIRD = 1 / 3

_LIGHTER_CUT = {"heavy rough": "rough", "rough": "medium", "medium": "finish"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """What a table allows, and where to start in it.

    Attributes:
        low: lowest value.
        start: where to start; never outside low … high.
        high: highest value.
    """

    low: float
    start: float
    high: float

    @classmethod
    def over(cls, low: float, high: float, *, at_low: bool = False, at: float = THIRD) -> "Range":
        """Make the range with its start a third of the way up by ratio, elsewhere, or at the low end."""
        start = low if at_low else min(high, max(low, low * (high / low) ** at))
        return cls(low=low, start=start, high=high)

    def times(self, factor: "Range") -> "Range":
        """Multiply each of the three by its own factor."""
        return Range(low=self.low * factor.low, start=self.start * factor.start, high=self.high * factor.high)

    def clamp(self, value: float) -> float:
        """Bring a value into the range."""
        return min(self.high, max(self.low, value))


@dataclass(frozen=True, slots=True, kw_only=True)
class Factor:
    """A condition that lowers the speed or feed.

    Attributes:
        condition: its name, as asked.
        quantity: "vc" or "f".
        factor: what the table value was multiplied by.
        source: source keys, separated by blanks.
        note: what it is for.
    """

    condition: str
    quantity: str
    factor: Range
    source: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Differing:
    """Another source for the same cut that lies well off.

    Attributes:
        said: what it is for and its band of speeds, in words.
        source: source keys, separated by blanks.
    """

    said: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StartingData:
    """Where to start a cut.

    Attributes:
        vc_m_min: cutting speed in m/min, factors applied.
        f_mm: feed in mm/rev, factors applied.
        ap_mm: depth of cut in mm, on the side.
        table_vc_m_min: cutting speed as the table has it, before any factor.
        tool_material: whose data they are (may be a slower one of the same family).
        rows: ids of the rows of speeds.csv that gave the speed.
        sources: source keys of every number here.
        factors: what was applied.
        assumed: what was taken for granted.
        notes: what else the sources say; the first are what `differing` says.
        differing: other sources that lie well off, with where they are from.
    """

    vc_m_min: Range
    f_mm: Range
    ap_mm: Range
    table_vc_m_min: Range
    tool_material: str
    rows: tuple[str, ...]
    sources: tuple[str, ...]
    factors: tuple[Factor, ...]
    assumed: tuple[str, ...]
    notes: tuple[str, ...]
    differing: tuple[Differing, ...]


def starting_data(
    material: Material,
    tool_material: str,
    operation: str,
    cut: str,
    speeds: Speeds,
    *,
    conditions: Sequence[str] = (),
    hb: float | None = None,
    at: float = THIRD,
) -> StartingData:
    """Give speed, feed and depth to start with.

    Args:
        material: what is cut.
        tool_material: one of tool_materials.csv, or any of its names.
        operation: "turning", "facing" or "boring".
        cut: "rough", "medium", "finish" or "heavy rough".
        speeds: the grouped tables.
        conditions: "scale", "sand", "flame cut", "weld", "interrupted", "heavy interrupted", "weak".
        hb: measured Brinell hardness, instead of the material's usual range.
        at: how far up the range of speeds to start, by ratio: 0 the low end, 1 the high end.

    Raises:
        UnknownName: an unknown operation, cut or condition, or no row for that material and tool material.
        InputError: the hardness is not positive.
    """
    tool = find_tool_material(tool_material, speeds)
    _known("operation", operation, OPERATIONS)
    _known("kind of cut", cut, CUTS)
    conditions, run = known_conditions(material, conditions, hb, speeds)
    choice, from_turning = choose_rows(material, tool, operation, cut, run, speeds, hb)
    asked = (*conditions, *(("boring",) if from_turning else ()))
    told = factors_of(asked, run, choice, speeds)
    return _assemble(material, operation, cut, choice, told, speeds, at)


def known_conditions(
    material: Material, conditions: Sequence[str], hb: float | None, speeds: Speeds
) -> tuple[tuple[str, ...], str]:
    """Check the conditions and the hardness; add those that the material itself brings.

    Returns:
        The conditions, and the run of the rows to look for: "continuous" or one of INTERRUPTED.

    Raises:
        UnknownName: an unknown condition.
        InputError: the hardness is not positive.
    """
    for condition in conditions:
        _known("condition", condition, speeds.conditions())
    if hb is not None and not hb > 0:
        raise InputError(f"a hardness of {hb:g} HB can't be", "give the Brinell hardness, for example 200")
    run = next((word for word in reversed(INTERRUPTED) if word in conditions), "continuous")
    return tuple(dict.fromkeys((*conditions, *material.implies))), run


def _known(what: str, word: str, known: Sequence[str]) -> None:
    if word not in known:
        raise UnknownName(what, word, known, hint="it may be " + ", ".join(known))


Told = tuple[tuple[Factor, ...], tuple[str, ...], tuple[str, ...]]


def factors_of(asked: Sequence[str], run: str, choice: Choice, speeds: Speeds) -> Told:
    """Collect the factors of the conditions, remarks without a factor, and the sources of the remarks.

    A condition whose factor holds another one's too (sand over scale, a weld over skin and interruption)
    is counted alone.
    """
    printed = run != "continuous" and all(row["run"] == run for row in choice.rows)
    held = [word for row in speeds.factors if row["condition"] in asked for word in row["covers"].split(";")]
    covered = {word for word in held if word in asked}
    factors: dict[tuple[str, str], Factor] = {}
    notes: list[str] = []
    sources: list[str] = []
    for row in speeds.factors:
        condition = row["condition"]
        if condition not in asked or (printed and condition in INTERRUPTED):
            continue
        if not row["quantity"]:
            notes.append(f"{condition}: {row['note']}")
            sources.extend(row["source"].split())
        elif condition not in covered and row["tool"] in ("", choice.tool):
            factors.setdefault((condition, row["quantity"]), _factor(row))  # a tool's own row stands first
    notes += [f"{word}: counted in what a harder condition takes off" for word in asked if word in covered]
    if printed:
        notes.append(f"the rows used are printed for {run} cuts: no further factor for that")
    return tuple(factors.values()), tuple(notes), tuple(sources)


def _factor(row: Row) -> Factor:
    return Factor(
        condition=row["condition"],
        quantity=row["quantity"],
        factor=Range.over(float(row["low"]), float(row["high"])),
        source=row["source"],
        note=row["note"],
    )


def _assemble(
    material: Material,
    operation: str,
    cut: str,
    choice: Choice,
    told: Told,
    speeds: Speeds,
    at: float,
) -> StartingData:
    """Make the three ranges and say where each comes from."""
    factors, notes, sources = told
    at_low = choice.borrowed
    low, high = span(choice.rows, "vc_min_m_min", "vc_max_m_min")
    table_vc = Range.over(low, high, at_low=at_low, at=at)
    feed, feed_rows, feed_said = _spread("f", "feed", choice, material, cut, speeds)
    depth, depth_rows, depth_said = _spread("ap", "depth", choice, material, cut, speeds)
    vc = table_vc
    for factor in factors:
        if factor.quantity == "vc":
            vc = vc.times(factor.factor)
        else:
            feed = feed.times(factor.factor)
    used = [*choice.rows, *feed_rows, *depth_rows]
    keys = [word for row in used for word in row["source"].split()]
    keys += [word for factor in factors for word in factor.source.split()]
    start = start_said(at_low, at)
    differing = tuple(disagreement(material, cut, choice, speeds))
    if (
        operation != choice.rows[0]["operation"]
    ):  # turning stands in: what is printed for the operation itself
        lent = [factor.factor for factor in factors if factor.condition == operation]
        band = (lent[0].low * low, lent[0].high * high) if lent else (low, high)
        differing += tuple(_well_off(speeds.of(operation, choice.tool), material, cut, band))
    return StartingData(
        vc_m_min=vc,
        f_mm=feed,
        ap_mm=depth,
        table_vc_m_min=table_vc,
        tool_material=choice.tool,
        rows=tuple(row["id"] for row in choice.rows),
        sources=tuple(dict.fromkeys([*keys, *sources, START_SOURCE])),
        factors=factors,
        assumed=tuple(
            word for word in (*material.assumed, *choice.assumed, feed_said, depth_said, start) if word
        ),
        notes=tuple(dict.fromkeys([*(one.said for one in differing), *notes, *remarks_of(material, choice)])),
        differing=differing,
    )


def remarks_of(material: Material, choice: Choice) -> tuple[str, ...]:
    """Give what the tables remark of their own figures: it is of them, not of the cut at hand."""
    rows = "; ".join(dict.fromkeys(row["note"] for row in choice.rows if row["note"]))
    told = (("of the material in the table", material.note), ("of the speeds in the table", rows))
    return tuple(f"{what}: {said}" for what, said in told if said)


def start_said(at_low: bool, at: float) -> str:
    """Say where in the ranges the start lies."""
    if at_low:
        return "start at the low end"
    if at != THIRD:
        return f"start {at:.0%} of the way up the speeds, a third of the way up the rest (by ratio)"
    return "start a third of the way up each range (by ratio)"


def _spread(
    short: str, what: str, choice: Choice, material: Material, cut: str, speeds: Speeds
) -> tuple[Range, tuple[Row, ...], str]:
    """Make the range of feed or depth.

    A table that prints one feed and depth for a cut means them as the condition of its speed: less is safe,
    so the range then reaches down to the next lighter cut of the same rows.
    """
    rows, said = _rows_with(short, what, choice, material, cut, speeds)
    low, high = span(rows, f"{short}_min_mm", f"{short}_max_mm")
    lighter = cut
    while low == high and lighter in _LIGHTER_CUT:
        lighter = _LIGHTER_CUT[lighter]
        same = {(row["material"], row["source"]) for row in rows}
        down = [
            row
            for row in speeds.of(rows[0]["operation"], rows[0]["tool"])
            if (row["material"], row["source"]) in same and row["cut"] == lighter and row[f"{short}_min_mm"]
        ]
        if down:
            low = min(low, span(down, f"{short}_min_mm", f"{short}_max_mm")[0])
            rows = (*rows, *down)
            said = said or f"one {what} is printed for a {cut} cut: its {lighter} cut gives the low end"
    return Range.over(low, high, at_low=choice.borrowed), rows, said


def _rows_with(
    short: str, what: str, choice: Choice, material: Material, cut: str, speeds: Speeds
) -> tuple[tuple[Row, ...], str]:
    """Find rows that print a feed or a depth: those of the speed if they do, else wider and wider."""
    column = f"{short}_min_mm"
    printed = tuple(row for row in choice.rows if row[column])
    if printed:
        return printed, ""
    operation = choice.rows[0]["operation"]
    pool = [row for row in speeds.of(operation, choice.tool) if row[column]]
    if operation != "turning":
        pool += [row for row in speeds.of("turning", choice.tool) if row[column]]
    group = str(material.vdi3323) if material.vdi3323 is not None else "none"
    wider: tuple[tuple[Callable[[Row], bool], str], ...] = (
        (lambda row: material.id in row["materials"].split(), "rows for this material"),
        (lambda row: row["vdi3323"] == group, f"rows of group {group}"),
        (lambda row: row["iso513"] == material.iso513, f"rows of ISO 513 letter {material.iso513}"),
        (lambda row: True, "rows for any material"),
    )
    for test, whose in wider:
        for cuts in ((cut,), OTHER_CUT[cut], ("",)):
            picked = rows_of_cut([row for row in pool if test(row)], cuts, "continuous")
            if picked:
                return picked, f"the speed rows print no {what}: {choice.tool} {whose} used for it"
    raise UnknownName(f"{what} data", f"{choice.tool}, {cut} cut")


def disagreement(material: Material, cut: str, choice: Choice, speeds: Speeds) -> Iterator[Differing]:
    """Tell of other sources for the same material, tool and cut that lie well off."""
    rows = speeds.of(choice.rows[0]["operation"], choice.tool)
    chosen = {row["id"] for row in choice.rows}
    return _well_off(rows, material, cut, span(choice.rows, "vc_min_m_min", "vc_max_m_min"), chosen)


def _well_off(
    rows: Sequence[Row], material: Material, cut: str, band: tuple[float, float], chosen: Collection[str] = ()
) -> Iterator[Differing]:
    """Give the rows of the material and cut whose speeds don't touch a band."""
    for row in sorted(rows, key=itemgetter("id")):
        same = (
            material.id in row["materials"].split() and row["cut"] in (cut, "") and row["run"] == "continuous"
        )
        if not same or row["id"] in chosen or row["hb_min"]:
            continue
        low, high = float(row["vc_min_m_min"]), float(row["vc_max_m_min"])
        if high < band[0] or low > band[1]:
            printed = f"{low:g} to {high:g} m/min" if low < high else f"{low:g} m/min"
            remark = f" ({row['note']})" if row["note"] else ""
            said = f"another source differs: {row['material']} {printed}{remark}"
            yield Differing(said=said, source=row["source"])

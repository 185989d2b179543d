"""Feed and engagement of parting, grooving, drilling, reaming and threading, by the size of the tool.

Where that size isn't told there is no feed.
"""

from collections.abc import Callable
from dataclasses import dataclass

from crib.errors import InputError
from crib.trade.cutting.materials import Material
from crib.trade.cutting.speed_rows import Choice, Row, Speeds, span
from crib.trade.cutting.speeds import Factor, Range
from crib.trade.cutting.thread import (
    INFEED_SOURCE,
    ThreadPass,
    external_depth_mm,
    thread_passes,
    thread_warnings,
)

TABLES = ("speeds", "speeds_other")
DEEPEST_OF_WIDTH = 8.0
DEEPEST_SOURCE = "cut_part_maker"
MOST_FEED_OF_WIDTH = 0.1
WIDTH_SOURCE = "cut_groove_maker"
REAM_FEED = (2.0, 3.0)
REAM_FEED_SOURCE = "cut_ream_feed"
STEEL_TOOLS = ("HSS", "cobalt HSS", "cast cobalt")
_SAME_PITCH = 0.005
"""Relative slack within which a pitch is the printed one: tables round it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolSize:
    """What the feed goes by; None where it isn't told.

    Attributes:
        d_mm: diameter of the drill or reamer.
        width_mm: width of the parting or grooving edge.
        pitch_mm: pitch of the thread.
        depth_mm: depth of the hole, the parting cut or the groove.
    """

    d_mm: float | None = None
    width_mm: float | None = None
    pitch_mm: float | None = None
    depth_mm: float | None = None

    def __post_init__(self) -> None:
        sizes = {
            "diameter": self.d_mm,
            "width": self.width_mm,
            "pitch": self.pitch_mm,
            "depth": self.depth_mm,
        }
        for what, value in sizes.items():
            if value is not None and not value > 0:
                raise InputError(f"a {what} of {value:g} mm can't be", "it must be more than zero")


@dataclass(frozen=True, slots=True)
class Forms:
    """The tables of these operations; made by Forms.load(tables.rows)."""

    speeds: Speeds
    relations: tuple[Row, ...]
    drill_feeds: tuple[Row, ...]
    ream_stock: tuple[Row, ...]
    groove_feeds: tuple[Row, ...]
    hole_depth: tuple[Row, ...]
    threads: tuple[Row, ...]

    @classmethod
    def load(cls, rows: Callable[[str], tuple[Row, ...]]) -> "Forms":
        """Read the tables.

        Args:
            rows: reader of one table by name.
        """
        return cls(
            Speeds.load(rows, TABLES),
            rows("speed_relations"),
            rows("drill_feeds"),
            rows("ream_stock"),
            rows("groove_feeds"),
            rows("hole_depth"),
            rows("thread_printed"),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Feed:
    """Feed and engagement by the size of the tool."""

    f_mm: Range | None = None
    ap_mm: Range | None = None
    deepest_mm: float | None = None
    passes: tuple[ThreadPass, ...] = ()
    factors: tuple[Factor, ...] = ()
    sources: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def _drill(material: Material, tool: str, size: ToolSize, choice: Choice, forms: Forms) -> Feed:
    """Feed of a drill by its diameter, less for a deep hole."""
    if size.d_mm is None:
        return Feed(assumed=("diameter of the drill not told: no feed",))
    feed, sources, said = _drill_feed(size.d_mm, forms)
    factors = _deep(size, forms)
    notes = ("reckon the lower half of the feed in tough or hard material, and with small drills",)
    radius = size.d_mm / 2.0
    return Feed(
        f_mm=feed,
        ap_mm=Range(low=radius, start=radius, high=radius),
        factors=factors,
        sources=sources,
        assumed=said
        if size.depth_mm
        else (*said, "depth of the hole not told: reckoned as at most two and a half drills"),
        notes=notes if feed else (),
    )


def _drill_feed(d_mm: float, forms: Forms) -> tuple[Range | None, tuple[str, ...], tuple[str, ...]]:
    rows = [row for row in forms.drill_feeds if float(row["d_above_mm"]) < d_mm <= float(row["d_to_mm"])]
    if not rows:
        largest = max(float(row["d_to_mm"]) for row in forms.drill_feeds)
        return None, (), (f"no feed is printed for a drill over {largest:g} mm",)
    low, high = span(rows, "f_min_mm", "f_max_mm")
    return Range.over(low, high), tuple(row["source"] for row in rows), ()


def _deep(size: ToolSize, forms: Forms) -> tuple[Factor, ...]:
    """Give what a deep hole takes off speed and feed.

    Raises:
        InputError: deeper than any source says.
    """
    if size.d_mm is None or size.depth_mm is None:
        return ()
    ratio = size.depth_mm / size.d_mm
    for row in forms.hole_depth:
        if ratio <= float(row["to_d"]):
            return tuple(
                Factor(
                    condition="deep hole",
                    quantity=quantity,
                    factor=Range.over(float(row[quantity]), float(row[quantity])),
                    source=row["source"],
                    note=row["note"],
                )
                for quantity in ("vc", "f")
                if float(row[quantity]) < 1.0
            )
    raise InputError(
        f"a hole {ratio:.3g} drills deep is past what the tables say ({forms.hole_depth[-1]['to_d']})",
        "that is deep-hole drilling: its own tools, or peck it and go by the drill's maker",
    )


def _reamer(material: Material, tool: str, size: ToolSize, choice: Choice, forms: Forms) -> Feed:
    """Feed of a reamer from that of a drill of its size, and the stock it wants."""
    if size.d_mm is None:
        return Feed(assumed=("diameter of the reamer not told: no feed, no stock",))
    drill, sources, said = _drill_feed(size.d_mm, forms)
    feed = None
    if drill is not None:
        feed = Range.over(drill.low * REAM_FEED[0], drill.high * REAM_FEED[1])
        sources = (*sources, REAM_FEED_SOURCE)
    stock = [row for row in forms.ream_stock if float(row["d_from_mm"]) <= size.d_mm <= float(row["d_to_mm"])]
    if not stock:
        return Feed(f_mm=feed, sources=sources, assumed=(*said, "no stock is printed for this reamer"))
    low, high = span(stock, "stock_min_mm", "stock_max_mm")
    return Feed(
        f_mm=feed,
        ap_mm=Range.over(low / 2.0, high / 2.0),
        sources=(*sources, *(row["source"] for row in stock)),
        assumed=said,
        notes=(f"leave {low:.2g} to {high:.2g} mm on the diameter for the reamer",),
    )


def _groove(material: Material, tool: str, size: ToolSize, choice: Choice, forms: Forms) -> Feed:
    """Feed of a parting or grooving edge by its width, and how deep it may go."""
    printed = [row for row in choice.rows if row["f_min_mm"] and row["operation"] in ("parting", "grooving")]
    width = size.width_mm
    most = width * MOST_FEED_OF_WIDTH if width else None
    rows = printed or _groove_rows(material, tool, width, forms)
    feed, assumed = None, []
    if rows:
        low, high = span(rows, "f_min_mm", "f_max_mm")
        feed = Range.over(min(low, most or low), min(high, most or high))
    else:
        assumed.append("no feed is printed for this width and material")
    if width is None:
        return Feed(
            f_mm=feed,
            sources=tuple(row["source"] for row in rows),
            assumed=(*assumed, "width of the edge not told: feed of a narrow one, no depth"),
        )
    deepest = width * DEEPEST_OF_WIDTH
    notes = [f"not deeper than {deepest:.3g} mm with this width (eight widths, in steel)"]
    if size.depth_mm is not None and size.depth_mm > deepest:
        notes.insert(0, f"{size.depth_mm:.4g} mm deep is too much for this width: a wider edge, or in steps")
    return Feed(
        f_mm=feed,
        ap_mm=Range(low=width, start=width, high=width),
        deepest_mm=deepest,
        sources=(*(row["source"] for row in rows), WIDTH_SOURCE, DEEPEST_SOURCE),
        assumed=tuple(assumed),
        notes=tuple(notes),
    )


def _groove_rows(material: Material, tool: str, width: float | None, forms: Forms) -> list[Row]:
    """Find the feeds of a width: those of the tool material, else of the work's letter; nearest width."""
    own = [row for row in forms.groove_feeds if row["tool"] == tool]
    letter = [row for row in forms.groove_feeds if row["iso513"] == material.iso513 and not row["tool"]]
    rows = letter if tool not in STEEL_TOOLS and letter else own
    if not rows:
        rows = [row for row in forms.groove_feeds if row["tool"] == "HSS"]
    wanted = width if width is not None else 0.0

    def off(row: Row) -> float:
        return max(float(row["w_min_mm"]) - wanted, wanted - float(row["w_max_mm"]), 0.0)

    nearest = min(off(row) for row in rows)
    # between two printed widths both speak
    return [row for row in rows if off(row) <= max(nearest, 0.0) + 1e-9]


def _thread(material: Material, tool: str, size: ToolSize, choice: Choice, forms: Forms) -> Feed:
    """Feed of a thread is its pitch; passes as printed, of even chip area."""
    pitch = size.pitch_mm
    if pitch is None:
        return Feed(assumed=("pitch not told: no passes; the feed is the pitch",))
    rows = [row for row in forms.threads if abs(float(row["pitch_mm"]) - pitch) <= _SAME_PITCH * pitch]
    if not rows:
        return Feed(
            f_mm=Range(low=pitch, start=pitch, high=pitch),
            assumed=("no number of passes is printed for this pitch",),
        )
    least, most = min(int(row["least"]) for row in rows), max(int(row["most"]) for row in rows)
    printed_passes = f"{least} to {most}" if least < most else f"{least}"
    printed = [row for row in rows if row["depth_mm"]]
    count = int(printed[0]["least"]) if printed else (least + most + 1) // 2
    depth = float(printed[0]["depth_mm"]) if printed else external_depth_mm(pitch)
    passes = thread_passes(depth, count)
    infeeds = sorted(one.ap_mm for one in passes)
    assumed = ["external 60 degree thread: its depth is printed" if printed else "external 60 degree thread"]
    if tool in STEEL_TOOLS:
        assumed.append("passes are printed for carbide; HSS takes more of them, lighter")
    return Feed(
        f_mm=Range(low=pitch, start=pitch, high=pitch),
        ap_mm=Range(low=infeeds[0], start=infeeds[len(infeeds) // 2], high=infeeds[-1]),
        deepest_mm=depth,
        passes=passes,
        sources=(*(row["source"] for row in rows), INFEED_SOURCE),
        assumed=tuple(assumed),
        notes=(f"{printed_passes} passes are printed for this pitch", *thread_warnings(passes)),
    )


FEEDS: dict[str, Callable[[Material, str, ToolSize, Choice, Forms], Feed]] = {
    "drilling": _drill,
    "reaming": _reamer,
    "parting": _groove,
    "grooving": _groove,
    "threading": _thread,
}

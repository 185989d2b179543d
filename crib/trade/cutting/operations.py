"""Starting data of parting, grooving, drilling, reaming and threading.

Where no source prints a speed for an operation it is taken from its neighbour (drilling from HSS drilling,
turning for parting and threading …) by a stated ratio: table "speed_relations". Feed follows the size of
the tool: crib.trade.cutting.operation_feeds.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from crib.errors import UnknownName
from crib.trade.cutting.materials import Material
from crib.trade.cutting.operation_feeds import FEEDS, Feed, Forms, ToolSize
from crib.trade.cutting.speed_rows import Choice, Row, find_tool_material, first_rows, nothing_for, span
from crib.trade.cutting.speeds import (
    START_SOURCE,
    THIRD,
    Differing,
    Factor,
    Range,
    Told,
    disagreement,
    factors_of,
    known_conditions,
    remarks_of,
    start_said,
)
from crib.trade.cutting.thread import ThreadPass

__all__ = ["OTHER_OPERATIONS", "Forms", "OperationData", "ToolSize", "operation_data"]

OTHER_OPERATIONS = tuple(FEEDS)


@dataclass(frozen=True, slots=True)
class _Found:
    """Rows that give the speed, the tool material they are taken for, and the ratio to a neighbour."""

    choice: Choice
    tool: str
    relation: Factor | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OperationData:
    """Where to start one of these operations.

    Attributes:
        vc_m_min: cutting speed in m/min, all factors applied.
        f_mm: feed in mm/rev; None where the size it goes by isn't told.
        ap_mm: half the drill, half the stock of a reamer, width of the edge, or radial infeed of a thread
            pass, in mm; None likewise.
        deepest_mm: how deep the tool may go; None where no source says.
        passes: infeed of each pass of a thread; empty otherwise.
        table_vc_m_min: speed as the rows have it.
        tool_material: whose data they are, by way of a ratio where one is among the factors.
        rows: ids of the rows that gave the speed.
        factors: relation to a neighbouring operation, conditions, depth of the hole.
        sources: source keys of every number here.
        assumed: what was taken for granted.
        notes: what else the sources say; the first are what `differing` says.
        differing: other sources that lie well off.
    """

    vc_m_min: Range
    f_mm: Range | None
    ap_mm: Range | None
    deepest_mm: float | None
    passes: tuple[ThreadPass, ...]
    table_vc_m_min: Range
    tool_material: str
    rows: tuple[str, ...]
    factors: tuple[Factor, ...]
    sources: tuple[str, ...]
    assumed: tuple[str, ...]
    notes: tuple[str, ...]
    differing: tuple[Differing, ...]


def operation_data(
    material: Material,
    tool_material: str,
    operation: str,
    forms: Forms,
    *,
    size: ToolSize | None = None,
    conditions: Sequence[str] = (),
    hb: float | None = None,
    at: float = THIRD,
) -> OperationData:
    """Give speed, feed and engagement to start with.

    Args:
        material: what is cut.
        tool_material: one of tool_materials.csv, or any of its names.
        operation: one of OTHER_OPERATIONS.
        forms: the tables.
        size: what the feed goes by.
        conditions: as of crib.trade.cutting.speeds.starting_data.
        hb: measured Brinell hardness.
        at: how far up the range of speeds to start, by ratio.

    Raises:
        UnknownName: an unknown operation or condition, or nothing on record for material and tool material.
        InputError: a size or hardness that can't be.
    """
    if operation not in OTHER_OPERATIONS:
        raise UnknownName("operation", operation, OTHER_OPERATIONS)
    tool = find_tool_material(tool_material, forms.speeds)
    conditions, run = known_conditions(material, conditions, hb, forms.speeds)
    found = _choose(material, tool, operation, run, forms, hb)
    feed = FEEDS[operation](material, tool, size or ToolSize(), found.choice, forms)
    told = factors_of(conditions, run, found.choice, forms.speeds)
    differing: tuple[Differing, ...] = ()
    if found.relation is None:
        differing = tuple(disagreement(material, "", found.choice, forms.speeds))
    return _assemble(material, found, feed, told, differing, at, feed_fixed=operation == "threading")


def _assemble(
    material: Material,
    found: _Found,
    feed: Feed,
    told: Told,
    differing: tuple[Differing, ...],
    at: float,
    *,
    feed_fixed: bool,
) -> OperationData:
    """Apply the factors and say where each number comes from."""
    choice, relation = found.choice, found.relation
    asked, notes, sources = told
    low, high = span(choice.rows, "vc_min_m_min", "vc_max_m_min")
    table = Range.over(low, high, at_low=choice.borrowed, at=at)
    factors = (*((relation,) if relation else ()), *feed.factors, *asked)
    vc, f_mm = table, feed.f_mm
    for factor in factors:
        if factor.quantity == "vc":
            vc = vc.times(factor.factor)
        elif f_mm is not None and not feed_fixed:  # the pitch stays what it is
            f_mm = f_mm.times(factor.factor)
    keys = [word for row in choice.rows for word in row["source"].split()]
    keys += [word for factor in factors for word in factor.source.split()]
    said = [relation.note] if relation else []
    start = start_said(choice.borrowed, at)
    return OperationData(
        vc_m_min=vc,
        f_mm=f_mm,
        ap_mm=feed.ap_mm,
        deepest_mm=feed.deepest_mm,
        passes=feed.passes,
        table_vc_m_min=table,
        tool_material=found.tool,
        rows=tuple(row["id"] for row in choice.rows),
        factors=factors,
        sources=tuple(dict.fromkeys([*keys, *feed.sources, *sources, START_SOURCE])),
        assumed=tuple(dict.fromkeys([*material.assumed, *said, *choice.assumed, *feed.assumed, start])),
        notes=tuple(
            dict.fromkeys(
                [*(one.said for one in differing), *notes, *feed.notes, *remarks_of(material, choice)]
            )
        ),
        differing=differing,
    )


def _choose(
    material: Material, tool: str, operation: str, run: str, forms: Forms, hb: float | None
) -> _Found:
    """Take rows of the operation itself, else of a related one, then both over the neighbouring groups."""
    slower = forms.speeds.instead(tool)
    found = [
        (relation, name)
        for name in (tool, slower)
        for relation in forms.relations
        if relation["operation"] == operation and name and relation["tool"] in ("", name)
    ]
    for neighbours in (False, True):
        picked = first_rows(material, tool, [(operation, neighbours, "medium")], run, forms.speeds, hb)
        if picked is not None:
            return _Found(picked[0], picked[0].tool, None)
        for relation, name in found:
            way = (relation["from_operation"], neighbours, relation["from_cut"] or "medium")
            picked = first_rows(material, relation["from_tool"] or name, [way], run, forms.speeds, hb)
            if picked is not None:
                return _Found(picked[0], name, _related(relation))
    raise nothing_for(material, tool, operation, forms.speeds)


def _related(relation: Row) -> Factor:
    said = f"no {relation['operation']} rows here: {relation['note']}"
    return Factor(
        condition=relation["from_operation"],
        quantity="vc",
        factor=Range.over(float(relation["low"]), float(relation["high"])),
        source=relation["source"],
        note=said,
    )

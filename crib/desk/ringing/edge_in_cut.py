"""What cuts, for a chart of chatter: a bare figure, a tool told by its angles, or one on record."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from crib.desk import tables
from crib.desk.picking.bar import stiffness_of
from crib.desk.picking.cut import tool_of
from crib.desk.picking.stock import Pair, Springs, entering_angle, inserts_of
from crib.desk.starting.material import read_material
from crib.desk.typed import sized
from crib.errors import InputError, UnknownName
from crib.store.read import Reader
from crib.store.rows import BarRow, BitRow, HolderRow, InsertRow
from crib.trade.cutting.force import Forces, Work, cutting_forces
from crib.trade.cutting.tool import CuttingTool, from_codes
from crib.trade.rigidity import chatter
from crib.trade.rigidity.process_damping import Rubbing, contact_mm, rubbing_of
from crib.trade.rigidity.setup import Gives, Setup
from crib.units import Kind, read, show

DEEPEST_MM = 12.0  # no depth past it is looked at
HONED_UM = 35.0  # of the edge behind a bare cutting stiffness
Row = TypeVar("Row", bound=HolderRow | BarRow | BitRow | InsertRow)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A cut at one depth: its stiffness, the length of edge on the waves, its forces where known."""

    K_N_mm: float
    contact_mm: float
    forces: Forces | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """What cuts.

    Attributes:
        words: what it is.
        tried: depth in mm -> the cut at that depth.
        depth_of: allowed stiffness in N/mm -> least depth that reaches it; None where none does.
        limit_of: stiffness and damping ratio -> depth for all speeds, reckoned sharply.
        rubbing: how strongly it rubs on waves.
        tool: as the mechanics sees it; None for a bare figure.
        work: what is cut; None for a bare figure.
        f_mm: feed; None for a bare figure.
        assumed: what was taken for granted.
        keys: sources.
    """

    words: str
    tried: Callable[[float], Tried]
    depth_of: Callable[[float], float | None]
    limit_of: Callable[[float, float], float | None]
    rubbing: Rubbing
    tool: CuttingTool | None = None
    work: Work | None = None
    f_mm: float | None = None
    assumed: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()


def straight_edge(Ks: str, system: str) -> Edge:
    """Give a straight edge of which only the cutting stiffness is told.

    Raises:
        InputError: it can't be read or can't be.
    """
    Ks_N_mm2 = sized(Ks, "cutting stiffness", Kind.PRESSURE, system) or 0.0
    return Edge(
        words=f"a straight edge, {show(Ks_N_mm2, Kind.PRESSURE, system)}",
        tried=lambda ap_mm: Tried(K_N_mm=Ks_N_mm2 * ap_mm, contact_mm=ap_mm, forces=None),
        depth_of=lambda allowed: allowed / Ks_N_mm2,
        limit_of=lambda k, damping: chatter.straight_limit(k, damping, Ks_N_mm2),
        rubbing=rubbing_of(HONED_UM, tables.rubbing()),
        assumed=("the cutting stiffness holds along the motion", f"edge honed {HONED_UM:g} µm"),
    )


def told_edge(*, material: str, feed: str, KAPR: str, RE: str, gives: Gives, system: str) -> Edge:
    """Give a plain tool told by material, feed, entering angle and nose.

    Raises:
        InputError: a figure can't be read or can't be.
        UnknownName: no such material.
        NotPossible: no cutting force is on record for it.
    """
    tool, work, f_mm, said = told_cut(material=material, feed=feed, KAPR=KAPR, RE=RE, system=system)
    words = f"KAPR {tool.KAPR_deg:g}°, nose {show(tool.RE_mm, Kind.LENGTH, system)}"
    return _edge(words, tool, work, f_mm, gives, said)


def told_cut(
    *, material: str, feed: str, KAPR: str, RE: str, system: str
) -> tuple[CuttingTool, Work, float, tuple[str, ...]]:
    """Give tool, work and feed of a cut told by its figures, and what was assumed.

    Raises:
        InputError: a figure can't be read or can't be.
        UnknownName: no such material.
        NotPossible: no cutting force is on record for it.
    """
    tool = from_codes(
        tables.tool_defaults(),
        KAPR_deg=sized(KAPR, "entering angle", Kind.ANGLE, system),
        RE_mm=read(RE, Kind.LENGTH, system).value if RE else None,
        AN_deg=0.0,
    )
    work, f_mm, said = _work(material, feed, system)
    return tool, work, f_mm, (*said, "a negative insert with a medium breaker", *tool.assumed)


def recorded_edge(
    reader: Reader,
    *,
    tool: str,
    insert: str,
    material: str,
    feed: str,
    operation: str,
    setup: Setup,
    overhang_mm: float | None,
    system: str,
) -> tuple[Edge, float]:
    """Give a tool on record, and the stiffness of set-up and bar or shank together in N/mm.

    Args:
        reader: the store.
        tool: tag of a holder, bar or bit.
        insert: tag of its insert; the first that fits, if not told.
        material: of the work.
        feed: per revolution.
        operation: turning, facing or boring.
        setup: how it is held.
        overhang_mm: how far the tool stands out; a bar its whole reach, if not told.
        system: units of bare numbers.

    Raises:
        InputError: a figure can't be read or can't be, or no insert fits.
        UnknownName: no such tool, insert or material.
    """
    tooling = reader.tooling()
    arms: tuple[HolderRow | BarRow | BitRow, ...] = (*tooling.holders, *tooling.bars, *tooling.bits)
    arm = _tagged(tool, arms, "holder, bar or bit")
    work, f_mm, said = _work(material, feed, system)
    if isinstance(arm, BitRow):
        pair = Pair(arm=arm, insert=None, KAPR_deg=arm.kapr_deg)
    else:
        row, chosen = _insert(arm, insert, tooling.inserts)
        said += chosen
        pair = Pair(arm=arm, insert=row, KAPR_deg=entering_angle(operation, arm, row))
    cutting_tool, _, assumed = tool_of(pair)
    k_N_mm, bar_said = stiffness_of(Springs(operation=operation, setup=setup, overhang_mm=overhang_mm), pair)
    tip = f" with {pair.insert.item.designation} ({pair.insert.item.tag})" if pair.insert else ""
    words = f"{arm.item.designation or arm.item.label} ({arm.item.tag}){tip}"
    told = (*said, *assumed, *bar_said, *cutting_tool.assumed)
    return _edge(words, cutting_tool, work, f_mm, setup.gives, told), k_N_mm


def _work(material: str, feed: str, system: str) -> tuple[Work, float, tuple[str, ...]]:
    f_mm = sized(feed, "feed", Kind.FEED, system)
    if not material or f_mm is None:
        raise InputError("how stiff the cut is hangs on material and feed", "--material 4140 --feed 0.2")
    found, _ = read_material(material)
    kc11, mc = found.kienzle()
    return Work(kc11_N_mm2=kc11, mc=mc, iso513=found.iso513), f_mm, found.assumed


def _tagged(tag: str, rows: Sequence[Row], what: str) -> Row:
    wanted = tag.strip().lower()
    for row in rows:
        if wanted in (row.item.tag.lower(), (row.item.designation or "").lower()):
            return row
    raise UnknownName(what, tag, [row.item.tag for row in rows][:8], "the tag of a tool on record")


def _insert(
    arm: HolderRow | BarRow, tag: str, inserts: Sequence[InsertRow]
) -> tuple[InsertRow, tuple[str, ...]]:
    fitting = inserts_of(arm, inserts)
    if not fitting:
        raise InputError(f"no insert on record fits {arm.item.tag}", "crib fit tells what would")
    if tag:
        row = _tagged(tag, inserts, "insert")
        if row not in fitting:
            tags = ", ".join(one.item.tag for one in fitting[:8])
            raise InputError(f"{row.item.tag} does not fit {arm.item.tag}", f"these do: {tags}")
        return row, ()
    others = f", of {len(fitting)} that fit" if len(fitting) > 1 else ""
    return fitting[0], (f"insert {fitting[0].item.tag} taken{others} (--insert TAG)",)


def _edge(
    words: str, tool: CuttingTool, work: Work, f_mm: float, gives: Gives, assumed: tuple[str, ...]
) -> Edge:
    model = tables.force_model()

    def tried(ap_mm: float) -> Tried:
        return Tried(
            K_N_mm=chatter.regenerative_stiffness(ap_mm, f_mm, tool, work, gives=gives, model=model),
            contact_mm=contact_mm(ap_mm, f_mm, tool, gives),
            forces=cutting_forces(ap_mm, f_mm, tool, work, model),
        )

    def limit_of(k_N_mm: float, damping_ratio: float) -> float | None:
        return chatter.limit_depth(
            f_mm,
            tool,
            work,
            gives=gives,
            k_N_mm=k_N_mm,
            damping_ratio=damping_ratio,
            model=model,
            ap_max_mm=DEEPEST_MM,
        )

    return Edge(
        words=words,
        tried=tried,
        depth_of=chatter.depths_of(f_mm, tool, work, gives=gives, model=model, ap_max_mm=DEEPEST_MM),
        limit_of=limit_of,
        rubbing=rubbing_of(tool.hone_um, tables.rubbing()),
        tool=tool,
        work=work,
        f_mm=f_mm,
        assumed=assumed,
    )

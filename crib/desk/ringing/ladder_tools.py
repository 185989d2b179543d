"""Changes of tool: another from stock, here or elsewhere; a bit to grind; an insert to buy."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from crib.desk import tables
from crib.desk.keeping.sources import cite
from crib.desk.picking.cut import Cut, drawbacks_of, work_out
from crib.desk.picking.job import Job
from crib.desk.picking.stock import Pair, away_of, whereabouts
from crib.desk.ringing.change import Change, effects_of
from crib.errors import CribError
from crib.store.rows import BitRow
from crib.trade.cutting.grind import grind_for
from crib.trade.rigidity.ladder import gain

MOST_TOOLS = 3
BIT_NOSE_mm, BIT_HONE_um = 0.4, 10.0  # as a keen bit comes off the stone (common practice)
NOSES_mm = (0.2, 0.4, 0.8, 1.2)  # of ISO 1832, position 7
GRINDING = "a starting point only; rest close to the wheel, eyes covered, local rules first"


def other_tools(job: Job, best: Cut, cuts: Sequence[Cut], *, on_hand: bool) -> Iterator[Change]:
    """Other tools that stay further from chatter, one line for each holder, and what is different in them."""
    seen: set[int] = set()
    for cut in sorted((cut for cut in cuts if cut is not best), key=lambda cut: -cut.margin):
        won = gain(best.margin, cut.margin)
        if won < tables.pick_rules().least_gain or len(seen) >= MOST_TOOLS:
            return
        if cut.pair.arm.item.id not in seen:
            seen.add(cut.pair.arm.item.id)
            kind, why = _different(best, cut)
            asked = "" if on_hand else _whom(job, cut.pair)
            effects = effects_of(job, best, cut)
            how = (_where(cut.pair), asked, why, *effects, *drawbacks_of(job, cut))
            verb = "put in" if on_hand else "fetch"
            yield Change(
                change=f"{verb} {_named(cut.pair)}",
                gain=won,
                how="; ".join(part for part in how if part),
                on_hand=on_hand,
                kind=kind,
                effects=effects,
                holds=cut.stable,
            )


def to_grind(job: Job, best: Cut, cuts: Sequence[Cut]) -> Iterator[Change]:
    """An HSS bit of those on hand, ground as is usual for the material."""
    grind = grind_for(job.material.name, job.material.iso513, tables.grinds())
    bits = [cut for cut in cuts if isinstance(cut.pair.arm, BitRow) and cut.data.tool_material == "HSS"]
    if grind is None or not bits:
        return
    bit = max(bits, key=lambda cut: cut.margin)
    keen = replace(
        bit.tool,
        rake_deg=grind.side_rake_deg[0],
        RE_mm=min(bit.tool.RE_mm, BIT_NOSE_mm),
        hone_um=BIT_HONE_um,
        KAPR_deg=90.0 if bit.tool.KAPR_deg < 90.0 else bit.tool.KAPR_deg,
        LAMS_deg=0.0,
    )
    if keen == bit.tool:
        return
    cut = work_out(job, bit.pair, best.ap_mm, tool=keen)
    won = gain(max(best.margin, bit.margin), cut.margin)
    if won >= tables.pick_rules().least_gain and cut.margin > best.margin:
        effects = effects_of(job, best, cut)
        how = (f"{grind.said}, nose {keen.RE_mm:g} mm", GRINDING, *effects, cite(grind.source))
        yield Change(
            change=f"grind an HSS bit keen ({bit.pair.arm.item.tag})",
            gain=gain(best.margin, cut.margin),
            how="; ".join(how),
            kind="bit",
            effects=effects,
            holds=cut.stable,
        )


def to_buy(job: Job, best: Cut, cuts: Sequence[Cut]) -> Iterator[Change]:
    """The same insert with the next smaller nose, where none on record has it."""
    insert = best.pair.insert
    if insert is None or insert.item.sc == "R":
        return
    smaller = [nose for nose in NOSES_mm if nose < best.tool.RE_mm - 0.05]
    if not smaller:
        return
    nose = max(smaller)
    arm = best.pair.arm.item.id
    if any(cut.pair.arm.item.id == arm and abs(cut.tool.RE_mm - nose) < 0.05 for cut in cuts):
        return
    try:
        cut = work_out(job, best.pair, best.ap_mm, tool=replace(best.tool, RE_mm=nose))
    except CribError:
        return
    won = gain(best.margin, cut.margin)
    if won >= tables.pick_rules().least_gain:
        effects = effects_of(job, best, cut)
        yield Change(
            change=f"the same insert with a {nose:g} mm nose",
            gain=won,
            how="; ".join(("none on record fits this holder: buy or borrow", *effects)),
            on_hand=False,
            kind="nose",
            effects=effects,
            holds=cut.stable,
        )


def _different(best: Cut, cut: Cut) -> tuple[str, str]:
    """Say what is different in a tool: the property that most likely makes it quieter, then all of them."""
    old, new, said, kind = best.tool, cut.tool, [], "tool"
    if new.RE_mm < old.RE_mm:
        said.append(f"nose {new.RE_mm:g} instead of {old.RE_mm:g} mm")
        kind = "nose"
    if abs(new.KAPR_deg - old.KAPR_deg) >= 1.0:
        said.append(f"entering angle {new.KAPR_deg:g}° instead of {old.KAPR_deg:g}°")
    if new.rake_deg > old.rake_deg or new.hone_um < old.hone_um:
        said.append("keener edge")
        kind = "edge" if kind == "tool" else kind
    if cut.k_N_mm > best.k_N_mm * 1.05:
        said.append(f"stiffer bar: {cut.k_N_mm / best.k_N_mm:.2g} times, with the work")
        kind = "bar"
    return kind, ", ".join(said)


def _whom(job: Job, pair: Pair) -> str:
    """Say whom to ask for what is not here."""
    people = dict.fromkeys(item.held_by or item.owner for item in away_of(job, pair))
    return f"ask {' and '.join(people)}"


def _named(pair: Pair) -> str:
    arm = pair.arm.item
    insert = f" with {pair.insert.item.designation} ({pair.insert.item.tag})" if pair.insert else ""
    return f"{arm.designation or arm.label} ({arm.tag}){insert}"


def _where(pair: Pair) -> str:
    parts = [pair.arm.item] + ([pair.insert.item] if pair.insert else [])
    return ", ".join(f"{item.tag} {whereabouts(item)} ({item.owner}'s)" for item in parts)

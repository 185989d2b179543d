"""What the logbook knows: the limit of a kept set-up from the cuts on it, and how a tool did before."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import inf

from crib.desk import tables
from crib.desk.picking.bar import stiffness_of
from crib.desk.picking.cut import tool_of
from crib.desk.picking.stock import ArmRow, Pair, Springs
from crib.desk.ringing.holding import Held, called
from crib.errors import CribError
from crib.store.rows import CutRow, InsertRow, Tooling
from crib.trade.cutting.force import Work
from crib.trade.cutting.materials import find_material
from crib.trade.rigidity.chatter import allowed_stiffness, regenerative_stiffness
from crib.trade.rigidity.learning import RESULTS, Limit, Trial, damping_for, learn
from crib.trade.rigidity.process_damping import contact_mm, quiet_speed, rubbing_of
from crib.trade.rigidity.setup import Setup
from crib.units import Kind, show, span

MOST_DAMPING = 0.9  # past it nothing rings, and no formula of ringing holds


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tried:
    """One logged cut as seen by the mechanics: its tool, its stiffness brought to the set-up's own spring."""

    row: CutRow
    K_N_mm: float
    quiet_m_min: float


def with_cuts(
    setup: Setup, held: Held, cuts: Sequence[CutRow], tooling: Tooling, system: str
) -> tuple[Setup, Held]:
    """Give a kept set-up with what the cuts on it taught of its limit, and in words what that is.

    The limit stands in the damping ratio, the figure of a set-up that is known least.

    Args:
        setup: as measured, at the point that is reckoned with.
        held: the kept set-up behind it.
        cuts: logged on it.
        tooling: all tools, those used up and away too.
        system: units of the user.
    """
    softest = held.points[0].name
    here = [cut for cut in cuts if (cut.setup_point or softest) == held.point and cut.result in RESULTS]
    tried = _tried(setup, here, tooling)
    slow = [one for one in tried if one.row.result == "clean" and (one.row.vc_m_min or inf) < one.quiet_m_min]
    counted = [one for one in tried if one not in slow]
    left_out = len(here) - len(tried)
    if not counted:
        return setup, replace(held, learned=_passed_over(len(slow), left_out))
    limit = learn(
        allowed_stiffness(setup.k_N_mm, setup.damping_ratio),
        [Trial(K_N_mm=one.K_N_mm, result=one.row.result) for one in counted],
        tables.learning_rules(),
        assumed=any("assumed" in line for line in setup.assumed),
    )
    damping_ratio = min(MOST_DAMPING, damping_for(limit.N_mm, setup.k_N_mm))
    words = (
        _in_words(called(held.name, held.point), limit, damping_ratio, setup.damping_ratio, system),
        *_passed_over(len(slow), left_out),
    )
    return replace(setup, damping_ratio=damping_ratio), replace(held, learned=words)


def stiffness_seen(K_N_mm: float, k_setup_N_mm: float, k_both_N_mm: float) -> float:
    """Give the stiffness of a cut as the set-up alone would have to bear it, in N/mm.

    Args:
        K_N_mm: regenerative stiffness of the cut.
        k_setup_N_mm: stiffness of the set-up.
        k_both_N_mm: of set-up and boring bar one behind the other.
    """
    return abs(K_N_mm) * k_setup_N_mm / k_both_N_mm


def history_of(cuts: Iterable[CutRow], pair: Pair, system: str) -> tuple[str, ...]:
    """Say how a holder with its insert, or a bit, did before in the material of the job.

    Args:
        cuts: logged in that material.
        pair: what cuts.
        system: units of the user.
    """
    insert_id = pair.insert.item.id if pair.insert else None
    mine = [cut for cut in cuts if (cut.arm_item_id, cut.insert_item_id) == (pair.arm.item.id, insert_id)]
    worn = [cut for cut in cuts if cut.result == "worn out" and cut.minutes]
    worn = [cut for cut in worn if cut.insert_item_id == insert_id and insert_id is not None]
    said = []
    if mine:
        counts = Counter(cut.result for cut in mine)
        results = ", ".join(f"{count} {result}" for result, count in counts.items())
        said.append(f"logged with this tool in this material: {results}{_speeds(mine, system)}")
    if worn and pair.insert:
        lives = ", ".join(f"{cut.minutes:.0f}" for cut in worn)
        said.append(
            f"logged: an edge of {pair.insert.item.tag} was worn out after {lives} min in the cut"
            f"{_speeds(worn, system)}"
        )
    return tuple(said)


def _speeds(cuts: Sequence[CutRow], system: str) -> str:
    found = [cut.vc_m_min for cut in cuts if cut.vc_m_min]
    if not found:
        return ""
    low, high = (show(value, Kind.SPEED, system, both=False) for value in (min(found), max(found)))
    return f", at {span(low, high)}"


# -- from the record to the mechanics ---------------------------------------------------------------------


def _tried(setup: Setup, cuts: Sequence[CutRow], tooling: Tooling) -> list[_Tried]:
    """Give the cuts of which tool, feed and depth are known."""
    if not cuts:
        return []
    rows: tuple[ArmRow, ...] = (*tooling.holders, *tooling.bars, *tooling.bits)
    arms = {arm.item.id: arm for arm in rows}
    inserts = {row.item.id: row for row in tooling.inserts}
    found = []
    for cut in cuts:
        try:
            one = _as_tried(setup, cut, arms, inserts)
        except CribError:
            continue  # a record that can't be: said as left out
        if one is not None:
            found.append(one)
    return found


def _as_tried(
    setup: Setup, cut: CutRow, arms: dict[int, ArmRow], inserts: dict[int, InsertRow]
) -> _Tried | None:
    arm, insert = arms.get(cut.arm_item_id or 0), inserts.get(cut.insert_item_id or 0)
    if arm is None or cut.f_mm is None or cut.ap_mm is None:
        return None
    pair = Pair(arm=arm, insert=insert, KAPR_deg=arm.kapr_deg)
    tool, gives = tool_of(pair)[0], setup.gives
    kc11, mc = (material := find_material(cut.material, tables.materials())).kienzle()
    work = Work(kc11_N_mm2=kc11, mc=mc, iso513=material.iso513)
    K = regenerative_stiffness(cut.ap_mm, cut.f_mm, tool, work, gives=gives, model=tables.force_model())
    k_both, _ = stiffness_of(Springs(operation=cut.operation, setup=setup, length_mm=cut.length_mm), pair)
    contact = contact_mm(cut.ap_mm, cut.f_mm, tool, gives)
    C_N_m = rubbing_of(tool.hone_um, tables.rubbing()).C_N_m
    own = cut.regenerative_n_mm or stiffness_seen(K, setup.k_N_mm, k_both)
    return _Tried(
        row=cut,
        K_N_mm=own,
        quiet_m_min=quiet_speed(K, contact, setup.frequency_hz, setup.damping_ratio, C_N_m),
    )


# -- in words ---------------------------------------------------------------------------------------------


def _in_words(name: str, limit: Limit, damping: float, before: float, system: str) -> str:
    """Say what the cuts taught, with the figures before."""

    def said(value: float) -> str:
        return show(value, Kind.STIFFNESS, system, both=False)

    parts = []
    if limit.clean_to_N_mm:
        parts.append(f"{_many(limit.clean, 'clean cut')} up to K = {said(limit.clean_to_N_mm)}")
    if limit.rang_from_N_mm:
        parts.append(f"chatter in {limit.rang} from {said(limit.rang_from_N_mm)}")
    if limit.marked:
        parts.append(f"marks in {limit.marked}")
    if limit.contradictory:
        parts.append("which contradict each other, so the band is wider")
    counts, told = f"{damping:.2g}", f"{before:.2g}"
    return (
        f"on the {name}, {', '.join(parts)}: its limit is taken as {said(limit.N_mm)} "
        f"({said(limit.low_N_mm)} to {said(limit.high_N_mm)}; reckoned {said(limit.reckoned_N_mm)}), "
        f"so its damping {f'stays {told}' if counts == told else f'counts as {counts} instead of {told}'}"
    )


def _passed_over(slow: int, left_out: int) -> tuple[str, ...]:
    said = []
    if slow:
        said.append(
            f"{_many(slow, 'clean cut')} left out: so slow that rubbing of the flank alone keeps it quiet"
        )
    if left_out:
        said.append(f"{_many(left_out, 'logged cut')} left out: tool, feed or depth not on record")
    return tuple(said)


def _many(count: int, what: str) -> str:
    return f"{count} {what}{'s' * (count != 1)}"

"""What follows from a speed, feed and depth: life of the edge, what pays, power, a drill's load, minutes."""

from dataclasses import dataclass

from crib.desk.starting.costs import Prices
from crib.desk.starting.cut_time import CutTime, time_of
from crib.desk.starting.life import LATHE, Economy, Life, economy_of, life_of
from crib.desk.starting.load import Drill, Power, drill_of, power_of, turning_power_kW
from crib.store.rows import MachineRow
from crib.trade.cutting.drilling import drilling_power_kW
from crib.trade.cutting.materials import Material


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """A cut as it would be done; None for what is not known.

    Attributes:
        operation: as the tables call it.
        cut: kind of cut; empty for drilling and the like.
        material: what is cut.
        hb: its hardness as told.
        tool: tool material.
        vc_m_min, n_rev_min, f_mm, ap_mm: how.
        d_mm: where it cuts.
        length_mm: of the cut.
        depth_mm: of the hole, the groove or the parting cut.
        passes: how many.
        vc_most_m_min: highest speed that the tables print for it.
    """

    operation: str
    cut: str
    material: Material
    hb: float | None
    tool: str
    vc_m_min: float
    n_rev_min: float | None
    f_mm: float | None
    ap_mm: float | None
    d_mm: float | None
    length_mm: float | None
    depth_mm: float | None
    passes: int
    vc_most_m_min: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Effects:
    """What follows from a speed, feed and depth.

    Attributes:
        life: how long an edge lasts.
        economy: at what speed it pays; None where no costs were told.
        power: at the edge, at the depth to start with; None where it can't be reckoned.
        drill: torque, thrust and power of a drill; None for anything else.
        time: minutes in the cut; None where its way is not known.
    """

    life: Life
    economy: Economy | None
    power: Power | None
    drill: Drill | None
    time: CutTime | None

    @property
    def sources(self) -> tuple[str, ...]:
        """Where all of it is from."""
        of_life = [text for one in self.life.lines for text in one.source] or self.life.n_source
        others = [one.source for one in (self.economy, self.power, self.drill, self.time) if one is not None]
        return (*of_life, *(text for source in others for text in source))


def effects_of(done: Done, machine: MachineRow | None, prices: Prices | None, system: str) -> Effects:
    """Give what follows from a cut.

    Args:
        done: the cut.
        machine: what is known of the machine.
        prices: what time and edges cost; None where nothing was told.
        system: units of the user, for the words.

    Raises:
        InputError: costs that can't be.
    """
    time = time_of(
        done.operation,
        length_mm=done.length_mm,
        d_mm=done.d_mm,
        depth_mm=done.depth_mm,
        f_mm=done.f_mm,
        n_rev_min=done.n_rev_min,
        passes=done.passes,
    )
    material, operation = done.material, done.operation
    life = life_of(material, done.tool, operation, done.vc_m_min, done.f_mm, done.ap_mm, system)
    economy = None
    if prices is not None:
        minutes = time.total_min if time else None
        economy = economy_of(
            material, done.tool, operation, life, prices, minutes, done.vc_most_m_min, system
        )
    drill = _drill(done, system) if operation == "drilling" else None
    needed = _needed_kW(done, drill)
    cut = done.cut if operation in LATHE else operation
    power = power_of(needed, material, cut, machine, system) if needed else None
    return Effects(life=life, economy=economy, power=power, drill=drill, time=time)


def _drill(done: Done, system: str) -> Drill | None:
    if done.f_mm is None or done.d_mm is None:
        return None
    return drill_of(done.material, done.hb, done.tool, done.d_mm, done.f_mm, done.n_rev_min, system)


def _needed_kW(done: Done, drill: Drill | None) -> float | None:
    """Give the power at the edge, sharp, by the specific cutting force."""
    if drill is not None:
        if drill.kienzle is None or done.n_rev_min is None:
            return None
        return drilling_power_kW(drill.kienzle.M_Nm, done.n_rev_min)
    if done.operation not in LATHE or done.f_mm is None or done.ap_mm is None:
        return None
    return turning_power_kW(done.material, done.vc_m_min, done.f_mm, done.ap_mm)

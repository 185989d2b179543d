"""What follows from a cut, in lines: life of the edge, what pays, power, a drill's load, minutes."""

from collections.abc import Iterable
from math import inf

from crib.desk.starting.effects import Effects
from crib.desk.starting.life import Economy, Life, LifeLine, in_time


def effect_lines(found: Effects) -> Iterable[str]:
    """Put what follows from a speed, feed and depth into lines."""
    if found.time is not None:
        time = found.time
        each = f"{time.each_min:.2g} min a pass, {time.passes} passes: " if time.passes > 1 else ""
        yield f"  {'time':6} {each}{time.total_min:.2g} min in the cut ({time.way_said})"
    if found.power is not None:
        yield f"  {'power':6} {found.power.said}"
    if found.drill is not None:
        yield from (f"  {'drill':6} {line}" for line in found.drill.said)
    yield from life_lines(found.life)
    if found.economy is not None:
        yield from economy_lines(found.economy)


def life_lines(life: Life) -> Iterable[str]:
    """Put the life of an edge into lines, one a law."""
    yield f"  {'life':6} {life.said}"
    for one in life.lines:
        minutes = in_time(inf if one.minutes is None else one.minutes)
        law = f"vc T^{one.n:g}{_at(one)} = {one.C_m_min:g}"
        yield f"  {'':6} {minutes} by {law}, drawn from {one.of} ({one.id})"
    yield from (f"  {'':6} {line}" for line in dict.fromkeys(line for one in life.lines for line in one.mind))


def _at(one: LifeLine) -> str:
    """Say at which feed and depth a law's constant holds, and how it goes with them."""
    parts = []
    for name, exponent, value in (("f", one.y, one.f_ref_mm), ("ap", one.x, one.ap_ref_mm)):
        if exponent:
            parts.append(f" × ({name} / {value or 1:g})^{exponent:g}")
    return "".join(parts)


def economy_lines(economy: Economy) -> Iterable[str]:
    """Put what pays into lines."""
    yield from (f"  {'pays':6} {line}" for line in economy.said)

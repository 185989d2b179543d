"""The one place where quantities are read and printed.

What people type becomes a `Quantity`: a plain float in the canonical unit of its kind. What is computed is
printed in both systems, the user's own first. Everything else in crib works in plain floats:

length mm · speed m/min · feed mm/rev · force N · stiffness N/mm · frequency Hz · power kW · angle degrees ·
temperature °C · rotation rev/min · time min · mass kg · pressure or stress N/mm² · torque N m ·
ratio a plain number
"""

from crib.units.kinds import Kind, System
from crib.units.printing import inch_fraction, show, span

TYPE_CHECKING = False
if TYPE_CHECKING:
    from crib.units.reading import Quantity, read, read_range

__all__ = ["Kind", "Quantity", "System", "inch_fraction", "read", "read_range", "show", "span"]


def __getattr__(name: str) -> object:
    """Load the reading half when it is first used: commands that only print start without it."""
    if name not in ("Quantity", "read", "read_range"):
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from crib.units import reading

    return getattr(reading, name)

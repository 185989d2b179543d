"""What tests of forces, pressure and chatter share: the tables once, and plain tools."""

from dataclasses import replace

from crib.trade import tables
from crib.trade.cutting.force import ForceModel, Work
from crib.trade.cutting.tool import CuttingTool, Defaults
from crib.trade.rigidity.pressure import Rules
from crib.trade.rigidity.setup import load_gives, load_setups

MODEL = ForceModel.load(tables.rows("force_model"))
DEFAULTS = Defaults.load(tables.rows("tool_defaults"), tables.rows("edge_preparation"))
RULES = Rules.load(tables.rows("rigidity_rules"))
GIVES = load_gives(tables.rows("gives"))
SETUPS = load_setups(tables.rows("setups"))

# 42CrMo4: Kienzle constants of the handbooks (Klocke/König, Fertigungsverfahren 1), recalled
STEEL = Work(kc11_N_mm2=2500.0, mc=0.26, iso513="P")


def tool(**changes: float) -> CuttingTool:
    """Give the plain reference insert with some of its figures changed."""
    return replace(RULES.reference, **changes)  # type: ignore[arg-type]

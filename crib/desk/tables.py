"""The trade's tables, each built once when first asked for: the desk brings tables and functions together."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import TYPE_CHECKING

from crib.desk.picking.rules import PickRules, StockingRules
from crib.trade import cautions as trade_cautions
from crib.trade.cutting.force import ForceModel
from crib.trade.cutting.grind import Grind, load_grinds
from crib.trade.cutting.materials import Materials
from crib.trade.cutting.speed_rows import Speeds
from crib.trade.cutting.tool import Defaults
from crib.trade.rigidity.bars import BarMaterial, Reach, load_bar_materials, load_reach
from crib.trade.rigidity.doubts import TrustRules
from crib.trade.rigidity.learning import LearningRules
from crib.trade.rigidity.measuring import MeasuringRules
from crib.trade.rigidity.pressure import Rules
from crib.trade.rigidity.process_damping import Rubbing, load_rubbing
from crib.trade.rigidity.setup import Gives, NamedSetup, load_gives, load_setups
from crib.trade.rigidity.supports import Support, load_supports
from crib.trade.tables import rows

if TYPE_CHECKING:
    from crib.trade.cutting.chip import ChipRules
    from crib.trade.cutting.force_factors import ForceFactors
    from crib.trade.cutting.operation_feeds import Forms


@cache
def materials() -> Materials:
    """Give the work materials."""
    return Materials.load(rows)


@cache
def speeds() -> Speeds:
    """Give the speed tables."""
    return Speeds.load(rows)


@cache
def speed_rows() -> Mapping[str, Mapping[str, str]]:
    """Give the rows of the speed tables by their id."""
    return {row["id"]: row for of_tool in speeds().by_tool.values() for row in of_tool}


@cache
def forms() -> "Forms":
    """Give the tables of parting, grooving, drilling, reaming and threading."""
    from crib.trade.cutting.operation_feeds import Forms  # the lathe's own work does without

    return Forms.load(rows)


@cache
def tool_defaults() -> Defaults:
    """Give what is assumed of a tool where codes and records are silent."""
    return Defaults.load(rows("tool_defaults"), rows("edge_preparation"))


@cache
def force_model() -> ForceModel:
    """Give the constants of the force model."""
    return ForceModel.load(rows("force_model"))


@cache
def force_factors() -> "ForceFactors":
    """Give the corrections of the cutting force."""
    from crib.trade.cutting.force_factors import ForceFactors  # only what stands beside an answer needs them

    return ForceFactors.load(rows("force_factors"))


@cache
def chip_rules() -> "ChipRules":
    """Give the limits of the chip's thickness."""
    from crib.trade.cutting.chip import ChipRules  # likewise

    return ChipRules.load(rows("chip_rules"))


@cache
def rigidity_rules() -> Rules:
    """Give the reference insert and the thresholds of the rigidity room."""
    return Rules.load(rows("rigidity_rules"))


@cache
def setups() -> Mapping[str, NamedSetup]:
    """Give the set-ups known by a word, with their assumed figures."""
    return load_setups(rows("setups"))


@cache
def directions() -> Mapping[str, Gives]:
    """Give the ways in which a set-up can give."""
    return load_gives(rows("gives"))


@cache
def bar_materials() -> Mapping[str, BarMaterial]:
    """Give what boring bars are made of."""
    return load_bar_materials(rows("bar_materials"))


@cache
def bar_reach() -> Mapping[str, Reach]:
    """Give how far bars may stand out, by material."""
    return load_reach(rows("bar_reach"))


@cache
def supports() -> tuple[Support, ...]:
    """Give what workholding props work."""
    return load_supports(rows("support_words"))


@cache
def trust_rules() -> TrustRules:
    """Give where a reckoned pressure is not to be trusted."""
    return TrustRules.load(rows("trust_rules"))


@cache
def measuring_rules() -> MeasuringRules:
    """Give how far measurements and clamps may be out."""
    return MeasuringRules.load(rows("measuring_rules"))


@cache
def learning_rules() -> LearningRules:
    """Give what is believed of a set-up's limit before any cut."""
    return LearningRules.load(rows("learning_rules"))


@cache
def grinds() -> tuple[Grind, ...]:
    """Give how HSS bits are usually ground."""
    return load_grinds(rows("bit_grind"))


@cache
def rubbing() -> tuple[Rubbing, ...]:
    """Give how strongly edges rub on waves."""
    return load_rubbing(rows("process_damping"))


@cache
def pick_rules() -> PickRules:
    """Give the judgements of the desk."""
    return PickRules.load(rows("pick_rules"))


@cache
def stocking_rules() -> StockingRules:
    """Give when use is enough to speak of a rate, and the like."""
    return StockingRules.load(rows("stocking_rules"))


def service_levels() -> Sequence[Mapping[str, str]]:
    """Give the service levels that a reorder point may be asked for."""
    return rows("service_level")


@cache
def cautions() -> tuple[trade_cautions.Caution, ...]:
    """Give the cautions."""
    return trade_cautions.load(rows("cautions"))

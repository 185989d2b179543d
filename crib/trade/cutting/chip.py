"""How thick the uncut chip is, and whether it is thick enough to be cut at all.

The feed is not the chip: an entering angle below 90° thins it, and so does a nose that the depth does not
leave. Below a part of the edge rounding no chip forms: the edge rubs, hardens the skin and pushes.

Source: h = f sin KAPR and b = ap / sin KAPR (ISO 3002-3); the equivalent chip thickness of Woxen, area over
engaged edge length; the least chip: table "chip_rules".
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import acos, isfinite, pi, radians, sin

from crib.errors import InputError, TableError
from crib.trade.cutting.edge import engage
from crib.trade.cutting.tool import CuttingTool

Row = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chip:
    """The uncut chip of one cut.

    Attributes:
        h_max_mm: greatest thickness, by the textbook: f sin of the entering angle where the edge leaves the
            work.
        h_mean_mm: exact cross-section over engaged edge length.
        he_mm: equivalent thickness (Woxen): feed times depth over engaged edge length.
        b_mm: engaged edge length.
        thinning: greatest thickness over feed.
        nose_only: the depth ends inside the nose: the entering angle has no say.
    """

    h_max_mm: float
    h_mean_mm: float
    he_mm: float
    b_mm: float
    thinning: float
    nose_only: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A limit with the band of its sources, in mm.

    Attributes:
        low_mm: by the boldest source.
        high_mm: by the most careful one.
        source: source keys.
    """

    low_mm: float
    high_mm: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChipFlag:
    """What speaks against a feed.

    Attributes:
        word: "rubs", "may rub", "land wider than feed" or "feed above half the nose".
        why: with figures.
        source: source keys.
    """

    word: str
    why: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ChipRules:
    """The table "chip_rules": low, high and source by name and ISO 513 letter ("*" for the others)."""

    bands: Mapping[tuple[str, str], tuple[float, float, str]]

    @classmethod
    def load(cls, rows: Iterable[Row]) -> "ChipRules":
        """Build from the rows of the table "chip_rules"."""
        return cls(
            bands={
                (row["name"], row["group"]): (float(row["low"]), float(row["high"]), row["source"])
                for row in rows
            }
        )

    def of(self, name: str, iso513: str = "*") -> tuple[float, float, str]:
        """Give low, high and source keys of a rule.

        Raises:
            TableError: the table has no such row.
        """
        found = self.bands.get((name, iso513[:1].upper())) or self.bands.get((name, "*"))
        if found is None:
            raise TableError(f"table chip_rules has no {name}")
        return found


def chip(ap_mm: float, f_mm: float, RE_mm: float, KAPR_deg: float) -> Chip:
    """Give the uncut chip of a cut.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        RE_mm: nose radius; half the diameter of a round insert.
        KAPR_deg: entering angle.

    Raises:
        InputError: a value that can't be.
    """
    edge = engage(ap_mm, f_mm, RE_mm, KAPR_deg)
    thinning = sin(_steepest(ap_mm, RE_mm, KAPR_deg))
    return Chip(
        h_max_mm=f_mm * thinning,
        h_mean_mm=edge.area_mm2 / edge.length_mm,
        he_mm=ap_mm * f_mm / edge.length_mm,
        b_mm=edge.length_mm,
        thinning=thinning,
        nose_only=edge.nose_only,
    )


def feed_for_chip_mm(h_mm: float, ap_mm: float, RE_mm: float, KAPR_deg: float) -> float:
    """Give the feed in mm/rev at which the chip has a wanted greatest thickness.

    Args:
        h_mm: wanted thickness.
        ap_mm: depth of cut.
        RE_mm: nose radius; half the diameter of a round insert.
        KAPR_deg: entering angle.

    Raises:
        InputError: a value that can't be.
    """
    for what, value in (("a chip thickness", h_mm), ("a depth of cut", ap_mm)):
        if not (value > 0.0 and isfinite(value)):
            raise InputError(f"{what} of {value:g} mm can't be", "it must be more than zero")
    if not (RE_mm >= 0.0 and 1.0 <= KAPR_deg <= 150.0):
        raise InputError(
            f"nose radius {RE_mm:g} mm and entering angle {KAPR_deg:g}° can't be",
            "give 0 or more, and 1° to 150°",
        )
    return h_mm / sin(_steepest(ap_mm, RE_mm, KAPR_deg))


def smallest_chip(hone_um: float, iso513: str, rules: ChipRules) -> Limit:
    """Give the thickness below which the edge rubs instead of cutting.

    Args:
        hone_um: rounding of the edge.
        iso513: ISO 513 group letter of the work.
        rules: the table.
    """
    low, high, source = rules.of("h_min_of_rounding", iso513)
    return Limit(low_mm=low * hone_um / 1000.0, high_mm=high * hone_um / 1000.0, source=source)


def least_feed(hone_um: float, ap_mm: float, RE_mm: float, KAPR_deg: float, rules: ChipRules) -> Limit:
    """Give the practical lower end of the feed, in mm/rev: chip as thick as the edge is round, and half more.

    A chip breaker may ask for more: its own least feed stands on the box.

    Args:
        hone_um: rounding of the edge.
        ap_mm: depth of cut.
        RE_mm: nose radius.
        KAPR_deg: entering angle.
        rules: the table.

    Raises:
        InputError: a value that can't be.
    """
    low, high, source = rules.of("feed_of_rounding")
    per_mm = feed_for_chip_mm(1.0, ap_mm, RE_mm, KAPR_deg) * hone_um / 1000.0
    return Limit(low_mm=low * per_mm, high_mm=high * per_mm, source=source)


def chip_flags(
    ap_mm: float, f_mm: float, tool: CuttingTool, iso513: str, rules: ChipRules
) -> tuple[ChipFlag, ...]:
    """Say what speaks against a feed: too fine for the edge or its land, or too coarse for the nose.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        tool: what cuts.
        iso513: ISO 513 group letter of the work.
        rules: the table.

    Raises:
        InputError: a value that can't be.
    """
    h_mm = chip(ap_mm, f_mm, tool.RE_mm, tool.KAPR_deg).h_max_mm
    least = smallest_chip(tool.hone_um, iso513, rules)
    found = []
    if h_mm < least.high_mm:
        why = (
            f"the chip is {1000.0 * h_mm:.3g} µm at its thickest; an edge rounded {tool.hone_um:g} µm "
            f"wants {1000.0 * least.low_mm:.3g} to {1000.0 * least.high_mm:.3g} µm to cut at all"
        )
        found.append(
            ChipFlag(word="rubs" if h_mm < least.low_mm else "may rub", why=why, source=least.source)
        )
    if tool.land_mm > f_mm:
        why = f"the land is {tool.land_mm:.3g} mm wide, the feed {f_mm:.3g} mm: the land cuts, not the face"
        found.append(ChipFlag(word="land wider than feed", why=why, source=rules.of("land_of_feed")[2]))
    part, _, source = rules.of("feed_of_nose")
    if f_mm > part * tool.RE_mm > 0.0:
        why = (
            f"the feed is {f_mm / tool.RE_mm:.0%} of the {tool.RE_mm:.3g} mm nose: ridges, and a weak corner"
        )
        found.append(ChipFlag(word="feed above half the nose", why=why, source=source))
    return tuple(found)


def _steepest(ap_mm: float, RE_mm: float, KAPR_deg: float) -> float:
    """Give the engaged entering angle, in radians, at which the chip is thickest: at most 90°."""
    kappa = radians(KAPR_deg)
    if RE_mm <= 0.0:
        return kappa
    top = acos(max(-1.0, 1.0 - ap_mm / RE_mm))
    return min(kappa, top, pi / 2.0)

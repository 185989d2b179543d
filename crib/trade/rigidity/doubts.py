"""Where a reckoned pressure is not to be trusted, and why: chip, work, edge, or what is assumed."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from crib.errors import TableError
from crib.trade.cutting.edge import engage
from crib.trade.cutting.force import Work
from crib.trade.cutting.tool import CuttingTool

WORN, WIPER, INTERRUPTED, HAND_GROUND = "worn", "wiper", "interrupted", "hand ground"


@dataclass(frozen=True, slots=True, kw_only=True)
class TrustRules:
    """One attribute a row of the table "trust_rules"; what each means stands there, with its source."""

    thin_chip_of_hone: float
    built_up_vc_m_min: float
    hard_hb: float
    steep_inclination_deg: float
    feed_of_nose: float

    @classmethod
    def load(cls, rows: Iterable[Mapping[str, str]]) -> "TrustRules":
        """Build from the rows of the table.

        Raises:
            TableError: a row is missing, or one too many.
        """
        try:
            return cls(**{row["name"]: float(row["value"]) for row in rows})
        except TypeError as error:
            raise TableError(f"table trust_rules: {error}") from error


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """One reason to doubt a reckoned pressure: a word for programs, and why."""

    name: str
    why: str


def doubts(
    ap_mm: float,
    f_mm: float,
    tool: CuttingTool,
    work: Work,
    *,
    rules: TrustRules,
    vc_m_min: float | None = None,
    hb: float | None = None,
    conditions: Collection[str] = (),
) -> tuple[Doubt, ...]:
    """Say where the reckoned pressure of a cut is not to be trusted.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        tool: what cuts.
        work: what is cut.
        rules: thresholds.
        vc_m_min: cutting speed, where it is known.
        hb: Brinell hardness of the work, where it is known.
        conditions: of WORN, WIPER, INTERRUPTED, HAND_GROUND those that hold.

    Raises:
        InputError: a depth, feed, nose or entering angle that can't be.
    """
    edge = engage(ap_mm, f_mm, tool.RE_mm, tool.KAPR_deg)
    mean_um = 1000.0 * edge.area_mm2 / edge.length_mm
    group = work.iso513[:1].upper()
    slow = vc_m_min is not None and vc_m_min < rules.built_up_vc_m_min
    hard = group == "H" or (hb is not None and hb > rules.hard_hb)
    checks = (
        (
            "thin chip",
            mean_um < rules.thin_chip_of_hone * tool.hone_um,
            f"the chip is {mean_um:.0f} µm on the mean, the edge is rounded {tool.hone_um:g} µm: "
            "it ploughs more than it cuts, and pushes harder than reckoned",
        ),
        (
            "built-up edge",
            slow and group in ("P", "N") and not hard,
            f"below {rules.built_up_vc_m_min:g} m/min the edge builds up: it pushes less, or in jerks",
        ),
        ("hard work", hard, "hardened work pushes harder than it cuts; the model knows soft work"),
        (
            "inside the nose",
            edge.nose_only,
            "the depth ends inside the nose: nearly all the push is away, whatever the entering angle",
        ),
        (
            "coarse feed",
            0.0 < rules.feed_of_nose * tool.RE_mm < f_mm,
            "the feed is large for the nose: the stiffness of the cut is overstated, to the safe side",
        ),
        ("assumed rake", tool.rake_assumed, "the breaker's rake is assumed: 5° is a fifth of the push"),
        (
            "inclination",
            abs(tool.LAMS_deg) >= rules.steep_inclination_deg,
            f"inclination {tool.LAMS_deg:g}°: sources differ five times over on what it does",
        ),
        (WORN, WORN in conditions, "a worn edge pushes up to half as hard again, and rings less"),
        (WIPER, WIPER in conditions, "a wiper corner rubs a flat: its push may be off by two fifths"),
        (
            INTERRUPTED,
            INTERRUPTED in conditions,
            "an interrupted cut strikes: the figures are those of a steady one",
        ),
        (
            HAND_GROUND,
            HAND_GROUND in conditions,
            "ground by hand: rake and keenness are as the last grinding left them",
        ),
    )
    return tuple(Doubt(name=name, why=why) for name, holds, why in checks if holds)

"""Corrections to Kienzle's force, each named, sourced and taken only when asked for.

The force model (crib.trade.cutting.force) reckons a sharp edge, external turning, dry, with the rake and the
edge of the tool itself. What else moves the force stands here: wear, cutting speed, kind of operation, fluid,
tool material. Each is applied once: a table of specific force that was taken with fluid, or a rake already
reckoned, must not be corrected again.

Source: table "force_factors".
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from crib.errors import InputError, TableError, UnknownName

Row = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class ForceFactor:
    """One correction, with the band of its source.

    Attributes:
        name: what is corrected for: "wear", "cutting speed", "operation", "fluid" or "tool material".
        case: which case of it.
        low, high: factor on the specific cutting force; the same where one figure is printed.
        source: source keys.
        note: where it holds, and what to know; may be empty.
    """

    name: str
    case: str
    low: float
    high: float
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpeedLaw:
    """K_v = (reference / vc)^exponent between two speeds in m/min."""

    reference_m_min: float
    exponent: float
    low_m_min: float
    high_m_min: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ForceFactors:
    """The table "force_factors": factors by (name, case), and the law of cutting speed."""

    factors: Mapping[tuple[str, str], ForceFactor]
    speed: SpeedLaw

    @classmethod
    def load(cls, rows: Iterable[Row]) -> "ForceFactors":
        """Build from the rows of the table "force_factors".

        Raises:
            TableError: the law of cutting speed is missing.
        """
        factors: dict[tuple[str, str], ForceFactor] = {}
        law: dict[str, float] = {}
        source = ""
        for row in rows:
            if row["name"] == "speed law":
                law[row["case"]], source = float(row["low"]), row["source"]
                continue
            factors[row["name"], row["case"]] = ForceFactor(
                name=row["name"],
                case=row["case"],
                low=float(row["low"]),
                high=float(row["high"]),
                source=row["source"],
                note=row["note"],
            )
        try:
            return cls(factors=factors, speed=SpeedLaw(source=source, **law))
        except TypeError as error:
            raise TableError(f"table force_factors: {error}") from error

    def of(self, name: str, case: str) -> ForceFactor:
        """Give one correction.

        Raises:
            UnknownName: no such correction or case.
        """
        found = self.factors.get((name, case))
        if found is None:
            cases = [known for of, known in self.factors if of == name]
            raise UnknownName(f"case of {name}", case, cases or sorted({of for of, _ in self.factors}))
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """Several corrections at once: their product, from the low ends and from the high ends."""

    low: float
    high: float
    sources: tuple[str, ...]
    words: tuple[str, ...]


def speed_factor(vc_m_min: float, factors: ForceFactors) -> ForceFactor:
    """Give the correction for cutting speed with carbide; outside the printed range its end is held.

    Args:
        vc_m_min: cutting speed.
        factors: the table.

    Raises:
        InputError: a speed that isn't positive.
    """
    if not vc_m_min > 0.0:
        raise InputError(f"a cutting speed of {vc_m_min:g} can't be", "it must be more than zero")
    law = factors.speed
    held = min(max(vc_m_min, law.low_m_min), law.high_m_min)
    note = ""
    if held != vc_m_min:
        note = f"printed for {law.low_m_min:g} to {law.high_m_min:g} m/min: held at {held:g} m/min"
    value = float((law.reference_m_min / held) ** law.exponent)
    return ForceFactor(
        name="cutting speed", case=f"{vc_m_min:g} m/min", low=value, high=value, source=law.source, note=note
    )


def combine(*factors: ForceFactor) -> Correction:
    """Multiply corrections.

    Raises:
        InputError: the same kind of correction twice.
    """
    low = high = 1.0
    seen: set[str] = set()
    words = []
    for factor in factors:
        if factor.name in seen:
            raise InputError(f"the force is corrected for {factor.name} twice", "name each correction once")
        seen.add(factor.name)
        low, high = low * factor.low, high * factor.high
        band = f"{factor.low:.3g}" + (f" to {factor.high:.3g}" if factor.high != factor.low else "")
        words.append(f"{factor.name} ({factor.case}): × {band}" + (f"; {factor.note}" if factor.note else ""))
    keys = dict.fromkeys(key for factor in factors for key in factor.source.split())
    return Correction(low=low, high=high, sources=tuple(keys), words=tuple(words))

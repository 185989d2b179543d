"""What the mechanics needs to know of a tool, and what is assumed where a code does not say.

Codes name clearance, kind of face and edge letter; the mechanics wants rake, inclination, edge rounding
and land in figures. Every figure that is not read from the code or the record comes from the tables
"tool_defaults" and "edge_preparation", and is said so in `assumed`.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from crib.errors import InputError, TableError

_PLAIN_FACES = frozenset("NAWQBC")  # ISO 1832 position 4: no chip breaker on either face
_MOULDED = frozenset("MNU")  # ISO 1832 position 3: sintered to size; the other classes are ground
_HARD = frozenset(("ceramic", "cbn", "pcd"))  # brittle: their edges are chamfered as a rule
_ROUNDED = re.compile(r"E(\d{3})")
_CHAMFERED = re.compile(r"([TSKP])(\d{3})(\d{2})")


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingTool:
    """A tool as the mechanics sees it.

    Attributes:
        KAPR_deg: entering angle.
        RE_mm: nose radius.
        rake_deg: normal rake of the face, in the cut.
        LAMS_deg: inclination; negative pushes tool and work apart.
        hone_um: edge rounding.
        land_mm: width of a land or chamfer behind the edge; 0 for none.
        land_rake_deg: rake of that land, in the cut.
        SC: ISO 1832 shape letter, or "" for a bit.
        AN_deg: clearance angle, None where it is not known.
        L_mm: cutting edge length, None where it is not known.
        rake_assumed: the rake comes from a default.
        edge_assumed: the edge rounding comes from a default.
        assumed: every default used, in words.
    """

    KAPR_deg: float
    RE_mm: float
    rake_deg: float
    LAMS_deg: float
    hone_um: float
    land_mm: float = 0.0
    land_rake_deg: float = 0.0
    SC: str = ""
    AN_deg: float | None = None
    L_mm: float | None = None
    rake_assumed: bool = False
    edge_assumed: bool = False
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Default:
    """One default figure: its value, and the words that tell the machinist."""

    value: float
    words: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeForm:
    """One edge preparation: rounding in µm, land width in mm, land angle below the face in degrees."""

    hone_um: float
    land_mm: float
    land_angle_deg: float
    words: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Defaults:
    """All defaults: figures by (field, case), edge preparations by (letter, case)."""

    figures: Mapping[tuple[str, str], Default]
    edges: Mapping[tuple[str, str], EdgeForm]

    @classmethod
    def load(cls, figures: Iterable[Mapping[str, str]], edges: Iterable[Mapping[str, str]]) -> "Defaults":
        """Build from the rows of the tables "tool_defaults" and "edge_preparation"."""
        return cls(
            figures={
                (row["field"], row["case"]): Default(
                    value=float(row["value"]), words=row["words"], source=row["source"]
                )
                for row in figures
            },
            edges={
                (row["code"], row["case"]): EdgeForm(
                    hone_um=float(row["hone_um"]),
                    land_mm=float(row["land_mm"]),
                    land_angle_deg=float(row["land_angle_deg"]),
                    words=row["words"],
                    source=row["source"],
                )
                for row in edges
            },
        )

    def figure(self, field: str, case: str) -> Default:
        """Give one default figure.

        Raises:
            TableError: the table has no such row.
        """
        try:
            return self.figures[field, case]
        except KeyError:
            raise TableError(f"table tool_defaults has no {field} for {case}") from None

    def taken(self, given: float | None, field: str, case: str, said: list[str]) -> float:
        """Give a figure as known; else the default, and add its words to what was said.

        Raises:
            TableError: the table has no such row.
        """
        if given is not None:
            return given
        default = self.figure(field, case)
        said.append(default.words)
        return default.value

    def edge(self, code: str, case: str) -> EdgeForm:
        """Give one edge preparation.

        Raises:
            TableError: the table has no such row.
        """
        try:
            return self.edges[code, case]
        except KeyError:
            raise TableError(f"table edge_preparation has no {code} for {case}") from None


def from_codes(
    defaults: Defaults,
    *,
    SC: str = "",
    AN_deg: float | None = None,
    type_letter: str = "",
    tolerance: str = "",
    edge_condition: str | None = None,
    KAPR_deg: float | None = None,
    RE_mm: float | None = None,
    rake_deg: float | None = None,
    LAMS_deg: float | None = None,
    hone_um: float | None = None,
    L_mm: float | None = None,
    tool_material: str = "carbide",
    coated: bool | None = None,
    chipbreaker_use: str | None = None,
    kind: str = "holder",
) -> CuttingTool:
    """Put together what the mechanics needs from what codes and records say.

    Args:
        defaults: figures for what they don't say.
        SC: ISO 1832 shape letter.
        AN_deg: clearance angle of the insert.
        type_letter: ISO 1832 position 4 (fixing and chip breaker).
        tolerance: ISO 1832 position 3, one letter.
        edge_condition: ISO 1832 position 8, with figures if any ("F", "E", "E004", "S01325").
        KAPR_deg: entering angle of the holder.
        RE_mm: nose radius.
        rake_deg: rake as ground or measured.
        LAMS_deg: inclination if on record.
        hone_um: edge rounding if on record.
        L_mm: cutting edge length.
        tool_material: carbide, cermet, hss, ceramic, cbn or pcd.
        coated: whether coated; None where not known.
        chipbreaker_use: finishing, medium, roughing, sharp or polished; None where not known.
        kind: holder, bar or bit.

    Raises:
        InputError: an edge letter that is not in the standard.
        TableError: a default is missing.
    """
    said: list[str] = []
    if AN_deg is None and kind != "bit":
        said.append("clearance not known: reckoned as a negative insert")
    if KAPR_deg is None:
        shape = SC if ("KAPR_deg", SC) in defaults.figures else "other"
        KAPR_deg = defaults.taken(None, "KAPR_deg", shape, said)
    if RE_mm is None:
        RE_mm = defaults.taken(None, "RE_mm", "bit" if kind == "bit" else "insert", said)
    face = _face(
        defaults, AN_deg, type_letter, tolerance, edge_condition, rake_deg, LAMS_deg, hone_um,
        tool_material, coated, chipbreaker_use, kind,
    )  # fmt: skip
    return CuttingTool(
        KAPR_deg=KAPR_deg,
        RE_mm=RE_mm,
        rake_deg=face.rake_deg,
        LAMS_deg=face.LAMS_deg,
        hone_um=face.hone_um,
        land_mm=face.land_mm,
        land_rake_deg=face.land_rake_deg,
        SC=SC,
        AN_deg=AN_deg,
        L_mm=L_mm,
        rake_assumed=rake_deg is None,
        edge_assumed=face.edge_assumed,
        assumed=(*said, *face.said),
    )


class _Face(NamedTuple):
    """Rake face and edge of an insert or bit, whatever its nose and entering angle, and what was assumed."""

    rake_deg: float
    LAMS_deg: float
    hone_um: float
    land_mm: float
    land_rake_deg: float
    edge_assumed: bool
    said: tuple[str, ...]


@lru_cache(maxsize=1024)
def _face(
    defaults: Defaults,
    AN_deg: float | None,
    type_letter: str,
    tolerance: str,
    edge_condition: str | None,
    rake_deg: float | None,
    LAMS_deg: float | None,
    hone_um: float | None,
    tool_material: str,
    coated: bool | None,
    chipbreaker_use: str | None,
    kind: str,
) -> _Face:
    """Give rake, inclination and edge; boxes of the same make share it."""
    said: list[str] = []
    positive = bool(AN_deg) or kind == "bit"
    ground = bool(tolerance) and tolerance not in _MOULDED
    face = _face_case(AN_deg, type_letter, chipbreaker_use, tool_material, kind, ground)
    seat = 0.0 if positive else defaults.figure("rake_deg", "negative_plain").value
    rake = defaults.taken(rake_deg, "rake_deg", face, said)
    inclination = defaults.taken(LAMS_deg, "LAMS_deg", _seat_case(positive, kind), said)
    edge, sure = _edge(
        defaults, edge_condition, _edge_case(face, chipbreaker_use), tool_material, coated, ground
    )
    land, land_rake = edge.land_mm, seat - edge.land_angle_deg
    if land <= 0.0 and face == "negative_roughing":
        land = defaults.taken(None, "land_mm", face, said)
        land_rake = defaults.figure("land_rake_deg", face).value
    edge_assumed = hone_um is None and not sure
    if edge_assumed:
        said.append(edge.words)
    return _Face(
        rake_deg=rake,
        LAMS_deg=inclination,
        hone_um=edge.hone_um if hone_um is None else hone_um,
        land_mm=land,
        land_rake_deg=land_rake if land > 0.0 else 0.0,
        edge_assumed=edge_assumed,
        said=tuple(said),
    )


def _seat_case(positive: bool, kind: str) -> str:
    if kind == "bit":
        return "bit"
    if positive:
        return "positive"
    return "bar_negative" if kind == "bar" else "negative"


def _face_case(
    AN_deg: float | None, type_letter: str, use: str | None, tool_material: str, kind: str, ground: bool
) -> str:
    """Name the rake face in the words of the table."""
    if kind == "bit":
        return "bit_hss" if tool_material == "hss" else "bit_brazed"
    plain = type_letter in _PLAIN_FACES if type_letter else False
    if not AN_deg:
        return "negative_plain" if plain else "negative_" + _use_class(use)
    if plain:
        return "positive_plain"
    if use == "polished":
        return "positive_polished"
    if AN_deg >= 15.0:
        return "positive_15" if AN_deg < 20.0 else "positive_20"
    return "positive_ground" if ground else "positive_moulded"


def _use_class(use: str | None) -> str:
    """Give the class of a breaker: sharp and polished ones are finishing, unknown ones medium."""
    if use in ("finishing", "sharp", "polished"):
        return "finishing"
    return "roughing" if use == "roughing" else "medium"


def _edge_case(face: str, use: str | None) -> str:
    """Name how strongly a honed edge of this face is honed."""
    if use in ("sharp", "polished"):
        return use
    return "positive" if face.startswith("positive") else _use_class(use)


def _edge(
    defaults: Defaults, code: str | None, case: str, tool_material: str, coated: bool | None, ground: bool
) -> tuple[EdgeForm, bool]:
    """Give the edge preparation, and whether the code gave it in figures."""
    text = (code or "").upper().replace("-", "")
    hard = "hard" if tool_material in _HARD else "carbide"
    if match := _ROUNDED.fullmatch(text):
        figures = EdgeForm(
            hone_um=10.0 * int(match[1]), land_mm=0.0, land_angle_deg=0.0, words="", source="rig_edge_code"
        )
        return figures, True
    if match := _CHAMFERED.fullmatch(text):
        like = defaults.edge(match[1], hard)
        return EdgeForm(
            hone_um=like.hone_um,
            land_mm=int(match[2]) / 100.0,
            land_angle_deg=float(match[3]),
            words=f"edge rounding {like.hone_um:g} µm on the chamfer",
            source="rig_edge_code",
        ), False
    letter = text or _usual_edge(tool_material, coated, ground)
    if letter == "E":
        thin = case == "polished" or (case == "positive" and ground and coated)
        return defaults.edge("E", "sharp" if thin else case), False
    if letter == "F":
        return defaults.edge("F", "polished" if case == "polished" else "plain"), False
    if letter in ("T", "S", "K", "P"):
        return defaults.edge(letter, hard), False
    raise InputError(f"no edge condition {code!r}", "F, E, T, S, K or P, with figures as E004 or S01325")


def _usual_edge(tool_material: str, coated: bool | None, ground: bool) -> str:
    """Give the edge letter to expect when the code has none: coated carbide is honed as supplied."""
    if tool_material == "hss":
        return "F"
    if tool_material in ("ceramic", "cbn"):
        return "T"
    if tool_material == "pcd" or (ground and not coated):
        return "F"
    return "E"

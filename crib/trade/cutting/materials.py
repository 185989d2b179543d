"""Work materials: what they are called in the shop, and what a cut in them needs to be known.

Two tables meet here: materials (names, condition, hardness, VDI 3323 group) and specific_force (kc1.1
and mc over several sources). Sources disagree about the force of one steel by 40 % and more, so a
material carries a value and a band.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from math import inf

from crib.errors import NotPossible, TableError, UnknownName
from crib.trade.cutting.force_hardness import HardForce, force_at

Row = Mapping[str, str]

H_COMPARED_MM = 0.2
"""Chip thickness at which the sources of kc are compared: a common finishing to medium chip (assumption)."""

_FILLERS = frozenset(
    ("aisi", "sae", "astm", "uns", "din", "en", "wnr", "werkstoff", "no", "nr", "type", "material")
)
_SPELLINGS = (("gray", "grey"), ("aluminum", "aluminium"), ("normalized", "normalised"), ("mold", "mould"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One work material in one condition.

    Attributes:
        id: its key in materials.csv.
        name: what it is.
        iso513: application letter (P M K N S H).
        vdi3323: material group, None for what the guideline leaves out.
        condition: as delivered.
        us: US designation; may be empty.
        en: European designation and number; may be empty.
        names: what it is called in the shop.
        hb_min: Brinell hardness, low end; None where it is not given in HB.
        hb_max: Brinell hardness, high end.
        hrc_min: Rockwell C hardness, low end; None where it is not given in HRC.
        hrc_max: Rockwell C hardness, high end.
        kc11_N_mm2: specific cutting force at h = b = 1 mm; None where no source gives one.
        mc: exponent of kc = kc1.1 h^-mc; None likewise.
        kc_low_N_mm2: lowest of the sources, brought to h = 1 mm from h = 0.2 mm by mc.
        kc_high_N_mm2: highest of the sources, likewise.
        kc_source: source keys of kc11_N_mm2 and mc, separated by blanks.
        kc_band_source: source keys of the band.
        source: source keys of the rest.
        note: what to know about it.
        hard: what a hardness that was told makes of the force; None where none was told, or none is printed.
        implies: conditions that it brings by itself, as a flame-cut edge does.
        assumed: what was taken for granted in reading its name.
    """

    id: str
    name: str
    iso513: str
    vdi3323: int | None
    condition: str
    us: str
    en: str
    names: tuple[str, ...]
    hb_min: float | None
    hb_max: float | None
    hrc_min: float | None
    hrc_max: float | None
    kc11_N_mm2: float | None
    mc: float | None
    kc_low_N_mm2: float | None
    kc_high_N_mm2: float | None
    kc_source: str
    kc_band_source: str
    source: str
    note: str
    hard: HardForce | None = None
    implies: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()

    @property
    def label(self) -> str:
        """The material in a few words, as shown beside an answer."""
        return _label(self.us, self.name, self.condition)

    def kienzle(self) -> tuple[float, float]:
        """Give kc1.1 in N/mm2 and mc.

        Raises:
            NotPossible: no source on record gives a cutting force for this material.
        """
        if self.kc11_N_mm2 is None or self.mc is None:
            raise NotPossible(
                f"no cutting force is on record for {self.label}",
                "force, power and pressure can't be computed for it; speed and feed can",
                material=self.id,
            )
        return self.kc11_N_mm2, self.mc


@dataclass(frozen=True, slots=True)
class Materials:
    """The tables of materials, indexed by every name; build it with Materials.load(tables.rows)."""

    rows: tuple[Row, ...]
    force_rows: Mapping[str, Row]
    by_name: Mapping[str, tuple[int, ...]]
    defaults: Mapping[str, int]
    spelled: Mapping[str, str]

    @classmethod
    def load(cls, rows: Callable[[str], tuple[Row, ...]]) -> "Materials":
        """Index the tables "materials" and "specific_force".

        Args:
            rows: reader of one table by name.
        """
        table = rows("materials")
        by_name: dict[str, list[int]] = {}
        defaults: dict[str, int] = {}
        spelled: dict[str, str] = {}
        for index, row in enumerate(table):
            for word in _split(row["default_for"]):
                defaults[name_key(word)] = index
            for word in _aliases(row):
                key = name_key(word)
                spelled.setdefault(key, word)
                known = by_name.setdefault(key, [])
                if index not in known:
                    known.append(index)
        forces = {row["id"]: row for row in rows("specific_force")}
        return cls(table, forces, {key: tuple(found) for key, found in by_name.items()}, defaults, spelled)

    def material(self, index: int, hb: float | None = None) -> Material:
        """Build the material of one row of materials.csv, with its cutting force, at a hardness if told."""
        row = self.rows[index]
        force = _force(row, self.force_rows, hb)
        return Material(
            id=row["id"],
            name=row["name"],
            iso513=row["iso513"],
            vdi3323=int(row["vdi3323"]) if row["vdi3323"] else None,
            condition=row["condition"],
            us=row["us"],
            en=row["en"],
            names=tuple(_split(row["names"])),
            hb_min=_number(row["hb_min"]),
            hb_max=_number(row["hb_max"]),
            hrc_min=_number(row["hrc_min"]),
            hrc_max=_number(row["hrc_max"]),
            kc11_N_mm2=force.kc11,
            mc=force.mc,
            kc_low_N_mm2=force.low,
            kc_high_N_mm2=force.high,
            kc_source=force.source,
            kc_band_source=force.band_source,
            source=row["source"],
            note=row["note"],
            hard=force.hard,
            implies=tuple(_split(row["implies"])),
            assumed=_hardness_said(row, force, hb),
        )

    def all(self) -> tuple[Material, ...]:
        """Give every material on record."""
        return tuple(self.material(index) for index in range(len(self.rows)))

    def label(self, index: int) -> str:
        """Give the label of one row without building the material."""
        row = self.rows[index]
        return _label(row["us"], row["name"], row["condition"])


def find_material(name: str, materials: Materials, hb: float | None = None) -> Material:
    """Find a material by any name it goes by in the shop.

    Case, blanks, dots and hyphens don't matter. A word that fits several materials gives the stated default
    of the table, said in `assumed`; where there is none the choices are listed.

    Args:
        name: as typed: "4140", "42CrMo4", "1.7225", "hot rolled", "cast iron", "316L".
        materials: the indexed tables.
        hb: measured Brinell hardness: of a material in several conditions, takes those nearest to it, and
            the cutting force goes with it where a source says how.

    Raises:
        UnknownName: nothing on record goes by that name, or several do and none is the usual one.
    """
    typed = name.strip()
    if not typed:
        raise UnknownName("material", name, hint="name the work material, for example 4140, A36 or cast iron")
    words = [word for word in _words(typed) if word not in _FILLERS]
    for key in dict.fromkeys((name_key(typed), "".join(words))):
        if key in materials.by_name:
            return _choose(typed, key, _so_hard(materials.by_name[key], materials, hb), materials, hb=hb)
    matching = tuple(
        index for index, row in enumerate(materials.rows) if words and _bag(row).issuperset(words)
    )
    if matching:
        return _choose(typed, "", _so_hard(matching, materials, hb), materials, words, hb)
    raise UnknownName("material", typed, _nearest(name_key(typed), materials))


def _so_hard(found: tuple[int, ...], materials: Materials, hb: float | None) -> tuple[int, ...]:
    """Keep the rows whose hardness band comes nearest to the measured one; all where none is measured."""
    if hb is None:
        return found

    def off(index: int) -> float:
        row = materials.rows[index]
        return max(float(row["hb_min"]) - hb, hb - float(row["hb_max"]), 0.0) if row["hb_min"] else inf

    nearest = min(off(index) for index in found)
    return tuple(index for index in found if off(index) == nearest)


def name_key(text: str) -> str:
    """Reduce a name to what is compared: small letters and digits only, one spelling."""
    key = "".join(character for character in text.casefold() if character.isalnum())
    for variant, ours in _SPELLINGS:
        key = key.replace(variant, ours)
    return key


def _choose(
    typed: str,
    key: str,
    found: tuple[int, ...],
    materials: Materials,
    words: Iterable[str] = (),
    hb: float | None = None,
) -> Material:
    """Take the only one, or the stated default, or list the choices."""
    usual = {materials.defaults[word] for word in (key, *words) if word in materials.defaults}
    preferred = [index for index in found if index in usual]
    if len(preferred) == 1 or len(found) == 1:
        index = preferred[0] if len(preferred) == 1 else found[0]
        material = materials.material(index, hb)
        if len(found) == 1 and materials.defaults.get(key) != index:
            return material
        others = ", ".join(materials.label(other) for other in found if other != index)
        also = f"; it could also be {others}" if others else ""
        return replace(material, assumed=(f"{typed!r} taken as {material.label}{also}", *material.assumed))
    labels = [materials.label(index) for index in found]
    shown = labels[:6]
    raise UnknownName(
        "single material", typed, shown, hint=f"{typed!r} fits several: say which, " + " or ".join(shown)
    )


def _nearest(key: str, materials: Materials) -> list[str]:
    from difflib import get_close_matches  # only a mistyped name needs it

    close = get_close_matches(key, list(materials.by_name), n=4, cutoff=0.6)
    return [materials.spelled[found] for found in close]


def _split(text: str) -> list[str]:
    return [word.strip() for word in text.split(";") if word.strip()]


def _words(text: str) -> list[str]:
    """Split a name into its runs of letters and digits, in one spelling."""
    return [name_key(word) for word in re.findall(r"[^\W_]+(?:[.-]\d+)*", text)]


def _aliases(row: Row) -> list[str]:
    """Give every name of a row: shop names, designations, and each number inside a designation."""
    designations = [part.strip() for part in re.split(r"[/,]", row["us"]) + row["en"].split("/")]
    numbers = [word for part in designations for word in part.split() if len(word) > 2 and _has_digit(word)]
    return [
        word
        for word in (row["id"], *_split(row["names"]), *_split(row["default_for"]), *designations, *numbers)
        if word
    ]


def _has_digit(word: str) -> bool:
    return any(character.isdigit() for character in word)


def _bag(row: Row) -> set[str]:
    """Give every single word that may describe the material of a row."""
    text = " ".join(row[column] for column in ("name", "condition", "us", "en", "names", "default_for"))
    return set(_words(text)) | {name_key(word) for word in re.findall(r"[^\W_]+", text)}


def _label(us: str, name: str, condition: str) -> str:
    return " ".join(part for part in (us, name) if part) + (f" ({condition})" if condition else "")


def _number(text: str) -> float | None:
    return float(text) if text else None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Force:
    kc11: float | None
    mc: float | None
    low: float | None
    high: float | None
    source: str
    band_source: str
    hard: HardForce | None = None


def _force(row: Row, force_rows: Mapping[str, Row], hb: float | None = None) -> _Force:
    """Take the force of the material's own row, and the band of all that speak for it.

    The group value leads because it was read and covers every group; the handbook constants of single steels
    widen the band. Rows are compared at a chip of 0.2 mm because their exponents differ.

    At a hardness that was told all of them rise together as printed power constants do; the band also holds
    what is printed for that hardness itself, and the group value as it stands.
    """
    if not row["kc_row"]:
        return _Force(kc11=None, mc=None, low=None, high=None, source="", band_source="")
    try:
        main = force_rows[row["kc_row"]]
    except KeyError as error:
        raise TableError(
            f"specific_force.csv has no row {row['kc_row']!r}, asked by {row['id']!r}"
        ) from error
    mc = float(main["mc"])
    hard = _hard(row, force_rows, hb)
    factor = hard.factor if hard else 1.0
    band = [main] + [other for other in force_rows.values() if _speaks_for(other, row, hb if hard else None)]
    levels = [_level(other, mc) * (1.0 if other["hb_min"] else factor) for other in band]
    levels += [_level(main, mc)] * (hard is not None)
    sources = dict.fromkeys(word for other in band for word in other["source"].split())
    return _Force(
        kc11=float(main["kc_N_mm2"]) * factor,
        mc=mc,
        low=min(levels),
        high=max(levels),
        source=" ".join(dict.fromkeys((main["source"], *([hard.source] if hard else [])))),
        band_source=" ".join(sources),
        hard=hard,
    )


def _hard(row: Row, force_rows: Mapping[str, Row], hb: float | None) -> HardForce | None:
    """Give what a hardness makes of the force; None where none is told, or nothing is printed for it."""
    if hb is None or not row["hb_min"]:
        return None
    printed = [
        other for other in force_rows.values() if other["hb_min"] and row["id"] in other["materials"].split()
    ]
    return force_at(hb, (float(row["hb_min"]) + float(row["hb_max"])) / 2.0, printed)


def _hardness_said(row: Row, force: _Force, hb: float | None) -> tuple[str, ...]:
    """Say what a hardness that was told does to the force, or that nothing on record tells."""
    if hb is None or force.kc11 is None:
        return ()
    if force.hard is not None:
        return (force.hard.said,)
    if row["hb_min"] and float(row["hb_min"]) <= hb <= float(row["hb_max"]):
        return ()
    usual = f" of {float(row['hb_min']):g} to {float(row['hb_max']):g} HB" if row["hb_min"] else ""
    return (
        f"{hb:.0f} HB: nothing on record tells how the cutting force of this material goes with hardness: "
        f"it stays that{usual or ' of the usual hardness'}",
    )


def _speaks_for(force_row: Row, row: Row, hb: float | None) -> bool:
    """Tell whether a row speaks for a material in its usual hardness, or in the one that was told."""
    if force_row["kind"] == "group":
        return bool(row["vdi3323"]) and force_row["vdi3323"] == row["vdi3323"]
    if row["id"] not in force_row["materials"].split():
        return False
    if not force_row["hb_min"] or not row["hb_min"]:
        return True
    if hb is not None:
        return float(force_row["hb_min"]) <= hb <= float(force_row["hb_max"])
    return float(force_row["hb_min"]) < float(row["hb_max"]) and float(force_row["hb_max"]) > float(
        row["hb_min"]
    )


def _level(force_row: Row, mc: float) -> float:
    """Give a row's kc1.1 as it is compared: at a chip of 0.2 mm, brought to 1 mm."""
    return _kc_compared(force_row, mc) * float(H_COMPARED_MM**mc)


def _kc_compared(force_row: Row, mc: float) -> float:
    own = float(force_row["mc"]) if force_row["mc"] else mc
    thinner = H_COMPARED_MM / float(force_row["h_mm"])
    return float(force_row["kc_N_mm2"]) * float(thinner**-own)

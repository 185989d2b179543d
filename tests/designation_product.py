"""Every code that the tables of the designation standards can make, read and written back.

    python -m tests.designation_product [--every N] [FAMILY …]

walks the whole cross product of each family's tables (some 10^12 inserts), or each N-th code of it; the suite
takes a sample in which every value of every position occurs and meets those of the others, as far as
SAMPLE_OF_PAIR goes. What a code must say is taken from the rows of the tables, not from the reader's indexes.
"""

import argparse
import itertools
import math
import random
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from crib.errors import CribError
from crib.trade import tables
from crib.trade.designation import Letters, Reading, read
from crib.trade.designation.encode import write
from crib.trade.designation.resolve import EITHER
from crib.trade.designation.spec import spec_of

LETTERS = Letters(tables.rows)
SAMPLE_OF_PAIR = 300
CORNERS = ("RE_mm", "wiper_angle_deg", "wiper_clearance_deg")
WRITTEN_AS = {"CS4": "C03", "WS3": "WL3", "T55": "T54", "V55": "V54"}  # several codes for one circle


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One value of one axis: how it is written, and what it must say (field -> value)."""

    text: str
    says: tuple[tuple[str, object], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """A kind of code: its axes, and how parts make a code."""

    name: str
    kind: str
    system: str
    axes: tuple[tuple[Part, ...], ...]
    compose: Callable[[Sequence[Part]], tuple[str, str] | None]
    """Give the code, and the code that writing must give back; None if the parts can't stand together."""

    @property
    def size(self) -> int:
        return math.prod(len(axis) for axis in self.axes)

    def at(self, index: int) -> list[Part]:
        parts = []
        for axis in self.axes:
            index, step = divmod(index, len(axis))
            parts.append(axis[step])
        return parts

    def pairs(self, seed: int) -> Iterator[list[Part]]:
        """Give combinations in which every value occurs, and of every two axes every pair or a sample."""
        chance = random.Random(seed)
        for axis, values in enumerate(self.axes):
            for value in values:
                parts = [chance.choice(others) for others in self.axes]
                parts[axis] = value
                yield parts
        for one, other in itertools.combinations(range(len(self.axes)), 2):
            both = list(itertools.product(self.axes[one], self.axes[other]))
            if len(both) > SAMPLE_OF_PAIR:
                both = chance.sample(both, SAMPLE_OF_PAIR)
            for first, second in both:
                parts = [chance.choice(axis) for axis in self.axes]
                parts[one], parts[other] = first, second
                yield parts


def fault(family: Family, parts: Sequence[Part]) -> str | None:
    """Read one code, write it back and read that; say what does not agree."""
    composed = family.compose(parts)
    if composed is None:
        return None
    code, wanted = composed
    try:
        reading = read(code, LETTERS)
        if EITHER in reading.notes and reading.system != family.system:
            return None  # the text makes sense in both systems, and the reading says so
        if (reading.kind, reading.system) != (family.kind, family.system):
            return f"{code}: read as {reading.system} {reading.kind}"
        said = differs(reading, parts)
        if said is not None:
            return f"{code}: {said}"
        written = write(spec_of(reading), LETTERS)
    except CribError as error:
        return f"{code}: {error}"
    if written.designation != wanted:
        return f"{code}: written back as {written.designation}, not {wanted}"
    if not all(written.exact.values()):
        return f"{code}: written back as only near: {written.notes}"
    return None if wanted != code or read(wanted, LETTERS) == reading else f"{code}: reads differently again"


def differs(reading: Reading, parts: Sequence[Part]) -> str | None:
    """Compare a reading with what its parts must say."""
    for field, value in (said for part in parts for said in part.says):
        if field in CORNERS and reading.SC == "R":
            continue  # its radius is half its diameter, whatever the corner field says
        found = getattr(reading, field)
        alike = found == value
        if isinstance(value, float) and isinstance(found, float):
            alike = math.isclose(found, value, abs_tol=1e-6)
        if not alike:
            return f"{field} is {found!r}, not {value!r}"
    return None


# The axes, from the rows ---------------------------------------------------------------------------------

NOTHING = (Part(text=""),)


def number(text: str) -> float | None:
    return float(text) if text else None


def plain(
    table: str, field: str, *columns: tuple[str, str], system: str = "", none: bool = False
) -> tuple[Part, ...]:
    """Give the symbols of a table; `columns` pairs a field of the reading with a column of numbers."""
    return (NOTHING if none else ()) + tuple(
        Part(text=row["code"], says=(
            *(((field, row["code"]),) if field else ()),
            *((name, number(row[column])) for name, column in columns),
        ))
        for row in tables.rows(table)
        if not system or row["system"] in ("both", system)
    )  # fmt: skip


def shapes(*forms: str) -> list[str]:
    return [row["code"] for row in tables.rows("insert_shape") if row["form"] in forms]


def wipers() -> list[Part]:
    kinds: dict[str, list[tables.Row]] = {"angle": [], "clearance": []}
    for row in tables.rows("insert_wiper"):
        kinds[row["which"]].append(row)
    return [
        Part(text=a["code"] + c["code"], says=(
            ("wiper_angle_deg", number(a["angle_deg"])), ("wiper_clearance_deg", number(c["angle_deg"])),
        ))
        for a, c in itertools.product(kinds["angle"], kinds["clearance"])
    ]  # fmt: skip


def ends(edge: Part, hand: Part, chamfer: Part) -> str:
    """A chamfer stands only after a chamfered edge."""
    chamfered = {row["code"] for row in tables.rows("insert_edge") if row["chamfered"] == "yes"}
    return edge.text + hand.text + (chamfer.text if edge.text in chamfered else "")


EDGES = plain("insert_edge", "edge_condition", none=True)
HANDS = plain("insert_hand", "HAND", none=True)
CHAMFERS = (*NOTHING, Part(text="01020"), Part(text="00815"), Part(text="25030"))
SUFFIXES = (*NOTHING, Part(text="-XY7"))


def metric_inserts() -> Family:
    sizes = [
        Part(text=row["shape"] + row["code"], says=(("SC", row["shape"]), ("IC_mm", float(row["IC_mm"]))))
        for row in tables.rows("insert_size")
    ]
    sizes += [
        Part(text=f"R{row['code']}{row['corner']}", says=(("SC", "R"), ("IC_mm", float(row["IC_mm"]))))
        for row in tables.rows("insert_round")
    ]
    sizes += [
        Part(text=f"{shape}{size:02d}", says=(("SC", shape), ("IC_mm", None)))
        for shape in shapes("parallelogram", "rectangle")
        for size in range(1, 100)
    ]
    corners = [
        Part(text=row["code"], says=(("RE_mm", float(row["RE_mm"])),)) for row in tables.rows("insert_corner")
    ]
    corners.append(Part(text="07", says=(("RE_mm", 0.7),)))  # any radius may stand there, not only the usual

    def compose(parts: Sequence[Part]) -> tuple[str, str]:
        size, clearance, class_, type_, thick, corner, edge, hand, chamfer, suffix = parts
        corner_text = size.text[3:] or corner.text
        tail = thick.text + corner_text + ends(edge, hand, chamfer) + suffix.text
        head = clearance.text + class_.text + type_.text
        usual = WRITTEN_AS.get(size.text, size.text)
        return size.text[0] + head + size.text[1:3] + tail, usual[0] + head + usual[1:3] + tail

    return Family(
        name="metric inserts", kind="insert", system="metric", compose=compose,
        axes=(
            tuple(sizes), plain("insert_clearance", "", ("AN_deg", "AN_deg"), system="metric"),
            plain("insert_tolerance", "", system="metric"), plain("insert_type", "", system="metric"),
            plain("insert_thickness", "", ("S_mm", "S_mm")), (*corners, *wipers()), EDGES, HANDS, CHAMFERS,
            SUFFIXES,
        ),
    )  # fmt: skip


def inch_inserts() -> Family:
    codes = tables.rows("inch_size")
    sizes = [
        Part(text=f"{shape}{row['code']}", says=(("SC", shape), ("IC_mm", float(row["IC_mm"]))))
        for shape in shapes("regular", "rhombic", "trigon", "round")
        for row in codes
    ]
    sizes += [
        Part(
            text=f"{shape}{width}{length}", says=(("SC", shape), ("W1_mm", width * 25.4 / 8), ("IC_mm", None))
        )
        for shape in shapes("parallelogram", "rectangle")
        for width in range(1, 10)
        for length in range(1, 10)
    ]
    thick = [
        Part(text=row["inch_code"], says=(("S_mm", float(row["S_mm"])),))
        for row in tables.rows("insert_thickness")
        if row["inch_code"]
    ]
    corners = [
        Part(text=row["inch_code"], says=(("RE_mm", float(row["RE_inch_mm"])),))
        for row in tables.rows("insert_corner")
        if row["inch_code"]
    ]
    corners += [Part(text=row["code"], says=(("RE_mm", None),)) for row in tables.rows("inch_corner")]
    # the older letters D and E turn 5, 6 and 7 into thirty-seconds: they have their own tests
    types = [part for part in plain("insert_type", "", system="inch") if part.text not in "DE"]

    second = {row["code"] for row in tables.rows("insert_wiper") if row["which"] == "clearance"}

    def compose(parts: Sequence[Part]) -> tuple[str, str] | None:
        size, clearance, class_, type_, thickness, corner, edge, hand, facet, condition, suffix = parts
        corner_text = "" if size.text[0] == "R" else corner.text
        tail = size.text[1:] + thickness.text + corner_text + edge.text + hand.text
        tail += facet.text if hand.text else ""
        tail += condition.text if not edge.text + facet.text else ""
        follows = (edge.text + hand.text + condition.text)[:1]
        if len(corner_text) == 1 and corner_text.isalpha() and follows in second:
            return None  # reads as the two letters of a wiper, which a note tells
        if "10" in size.text[1:] + thickness.text + corner_text:
            return None  # 1|0 is another way to split the digits, and 10 may be metric; notes tell
        code = size.text[0] + clearance.text + class_.text + type_.text + tail + suffix.text
        return code, code

    return Family(
        name="inch inserts", kind="insert", system="inch", compose=compose,
        axes=(
            tuple(sizes), plain("insert_clearance", "", ("AN_deg", "AN_deg"), system="inch"),
            plain("insert_tolerance", "", system="inch"), tuple(types), tuple(thick), (*corners, *wipers()),
            EDGES, HANDS, plain("inch_facet", "", none=True), plain("inch_condition", "", none=True),
            SUFFIXES,
        ),
    )  # fmt: skip


def seat_sizes() -> tuple[Part, ...]:
    """Give shape and insert size as holders write them."""
    found = [Part(text=row["shape"] + row["code"]) for row in tables.rows("insert_size")]
    found += [
        Part(text=f"R{code}") for code in dict.fromkeys(row["code"] for row in tables.rows("insert_round"))
    ]
    found += [
        Part(text=f"{shape}{size:02d}")
        for shape in shapes("parallelogram", "rectangle")
        for size in (5, 16, 99)
    ]
    return tuple(found)


CLAMPS = plain("holder_clamping", "clamping")
STYLES = plain("holder_style", "style", ("KAPR_deg", "KAPR_deg"))
SEAT_CLEARANCES = plain("insert_clearance", "", ("AN_deg", "AN_deg"), system="metric")
SEAT_HANDS = plain("insert_hand", "HAND")
SHANKS = tuple(Part(text=f"{n:02d}") for n in (1, 8, 10, 12, 16, 20, 25, 32, 40, 50, 63, 99))


def metric_holders() -> Family:
    def compose(parts: Sequence[Part]) -> tuple[str, str]:
        clamp, size, style, clearance, hand, H, B, length, tolerance, suffix = parts
        head = clamp.text + size.text[0] + style.text + clearance.text + hand.text
        code = f"{head}{H.text}{B.text}{length.text}{size.text[1:]}{tolerance.text}{suffix.text}"
        return code, code

    lengths = (*plain("holder_length", "", ("LF_mm", "LF_mm")), Part(text="-"))
    return Family(
        name="metric holders", kind="holder", system="metric", compose=compose,
        axes=(
            CLAMPS, seat_sizes(), STYLES, SEAT_CLEARANCES, SEAT_HANDS, SHANKS, SHANKS, lengths,
            plain("holder_tolerance", "qualified", none=True), SUFFIXES,
        ),
    )  # fmt: skip


def cartridges_and_modular_heads() -> Family:
    places = [Part(text=f"{H.text}CA") for H in SHANKS]
    places += [
        Part(text=f"{'HSK-' if row['kind'] == 'hollow taper' else ''}{row['code']}|{middle}",
             says=(("coupling_mm", float(row["flange_mm"])),))
        for row in tables.rows("holder_coupling")
        for middle in ("", "35060", "17100")
    ]  # fmt: skip

    def compose(parts: Sequence[Part]) -> tuple[str, str]:
        clamp, size, style, clearance, hand, place, suffix = parts
        head = clamp.text + size.text[0] + style.text + clearance.text + hand.text
        if "|" not in place.text:
            code = f"{head}{place.text}-{size.text[1:]}"
        else:
            shank, middle = place.text.split("|")
            code = "-".join(part for part in (shank, head, middle, size.text[1:]) if part)
        return code + suffix.text, code + suffix.text

    return Family(
        name="cartridges and modular heads", kind="holder", system="metric", compose=compose,
        axes=(CLAMPS, seat_sizes(), STYLES, SEAT_CLEARANCES, SEAT_HANDS, tuple(places), SUFFIXES),
    )  # fmt: skip


def inch_seats() -> tuple[Part, ...]:
    every = shapes("regular", "rhombic", "trigon", "round", "parallelogram", "rectangle")
    return tuple(Part(text=shape + row["code"]) for shape in every for row in tables.rows("inch_size"))


def inch_holders() -> Family:
    def compose(parts: Sequence[Part]) -> tuple[str, str]:
        clamp, size, style, clearance, hand, shank, length, suffix = parts
        head = clamp.text + size.text[0] + style.text + clearance.text + hand.text
        code = f"{head}{shank.text}-{size.text[1:]}{length.text}{suffix.text}"
        return code, code

    return Family(
        name="inch holders", kind="holder", system="inch", compose=compose,
        axes=(
            CLAMPS, inch_seats(), STYLES, SEAT_CLEARANCES, SEAT_HANDS,
            plain("inch_shank", "", ("H_mm", "H_mm"), ("B_mm", "B_mm")),
            plain("inch_length", "qualified", ("LF_mm", "LF_mm")), SUFFIXES,
        ),
    )  # fmt: skip


def bars(system: str) -> Family:
    def compose(parts: Sequence[Part]) -> tuple[str, str]:
        kind, diameter, length, clamp, size, style, clearance, hand, suffix = parts
        head = clamp.text + size.text[0] + style.text + clearance.text + hand.text
        code = f"{kind.text}{diameter.text}{length.text}-{head}{size.text[1:]}{suffix.text}"
        return code, code

    step_mm = 25.4 / 16.0 if system == "inch" else 1.0
    diameters = tuple(Part(text=f"{n:02d}", says=(("DCON_mm", n * step_mm),)) for n in range(1, 100))
    seats = seat_sizes()
    if system == "inch":  # two digits are taken as metric, and bars for oblong inserts are metric only
        oblong = shapes("parallelogram", "rectangle")
        seats = tuple(seat for seat in inch_seats() if seat.text[1:] != "10" and seat.text[0] not in oblong)
    table = "inch_bar_length" if system == "inch" else "holder_length"
    return Family(
        name=f"{system} bars", kind="bar", system=system, compose=compose,
        axes=(
            plain("bar_type", "shank_type"), diameters, plain(table, "", ("LF_mm", "LF_mm")), CLAMPS,
            seats, STYLES, SEAT_CLEARANCES,
            tuple(part for part in SEAT_HANDS if part.text != "N"), SUFFIXES,
        ),
    )  # fmt: skip


def families() -> list[Family]:
    return [
        metric_inserts(), inch_inserts(), metric_holders(), cartridges_and_modular_heads(), inch_holders(),
        bars("metric"), bars("inch"),
    ]  # fmt: skip


def main(arguments: Sequence[str]) -> int:
    """Walk the product; print how many codes were tried and the first that fail."""
    parser = argparse.ArgumentParser(prog="python -m tests.designation_product", description=__doc__)
    parser.add_argument("--every", type=int, default=1, help="take each N-th code only")
    parser.add_argument("families", nargs="*", help="some of: " + ", ".join(f.name for f in families()))
    asked = parser.parse_args(arguments)
    failed = 0
    for family in families():
        if asked.families and family.name not in asked.families:
            continue
        begun, tried, wrong = time.monotonic(), 0, 0
        # a step with no divisor in common with the size of the product meets every value of every axis
        step = asked.every
        while math.gcd(step, family.size) > 1:
            step += 1
        for index in range(0, family.size, step):
            tried += 1
            said = fault(family, family.at(index))
            if said is not None:
                wrong += 1
                if wrong <= 10:
                    print(f"  {said}")  # noqa: T201
        took_s = time.monotonic() - begun
        print(f"{family.name}: {tried} of {family.size}, {wrong} wrong, {took_s:.0f} s", flush=True)  # noqa: T201
        failed += wrong
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

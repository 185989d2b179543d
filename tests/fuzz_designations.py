"""A million and more hostile texts for the reader of designations.

    python -m tests.fuzz_designations N [--seed S]

Half of the texts are valid codes with slips (signs changed, left out, put in, doubled, swapped, cut, in other
case, full-width or of other alphabets), a quarter are jumbles of the signs that codes hold, a quarter is any
Unicode at all. Reading must raise BadDesignation and nothing else; what does read must have a normal form
that reads equal. Every EVERY-th text also goes through ISO 513, and through writing.
"""

import argparse
import csv
import random
import sys
import time
import traceback
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from crib.errors import BadDesignation
from crib.trade import tables
from crib.trade.designation import Letters, Reading, read
from crib.trade.designation.encode import write
from crib.trade.designation.iso513 import Applications, read_application
from crib.trade.designation.spec import spec_of

LETTERS = Letters(tables.rows)
APPLICATIONS = Applications.load(tables.rows)
STANDARDS = Path(__file__).parent / "standards" / "designations.csv"
MORE = ["C5-PCLNR-35060-12", "HSK-T63-DDUNR-45065-15", "PSKNR 16CA-12", "SPGD632", "MTANR-246Z (6.500)",
        "CNGA120408S01020-BL", "WNMGL30204", "S16T-SCLCR3", "CCMT32.51", "LNU3432",
        "SEKN1203AFTN1"]  # fmt: skip
SIGNS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 -./"
FOREIGN = "АВЕКМНОРСТУХЅІЈЗΑΒΕΖΗΙΚΜΝΟΡΤΥΧØ０１２ＣＮ–—\u00a0\u200b\u202eß\x00\x1b\ud800ſıĸ①½²"
EVERY = 10
PROGRESS = 100_000


def known() -> list[str]:
    """Give valid codes to start from."""
    rows = csv.DictReader(STANDARDS.read_text(encoding="utf-8").splitlines())
    return [row["designation"] for row in rows if row["valid"] == "yes"] + MORE


def slipped(code: str, chance: random.Random) -> str:
    """Give a code with one to four slips."""
    for _ in range(chance.choice((1, 1, 1, 2, 2, 3, 4))):
        at = chance.randrange(len(code) + 1)
        sign = chance.choice(SIGNS if chance.random() < 0.8 else FOREIGN)
        match chance.randrange(8):
            case 0:
                code = code[:at] + sign + code[at + 1 :]
            case 1:
                code = code[:at] + code[at + 1 :]
            case 2:
                code = code[:at] + sign + code[at:]
            case 3:
                code = code[:at] + code[at : at + 1] * 2 + code[at + 1 :]
            case 4:
                code = code[:at] + code[at : at + 2][::-1] + code[at + 2 :]
            case 5:
                code = code[:at]
            case 6:
                code = code.lower() if chance.random() < 0.5 else code.title()
            case _:
                code = code[:at] + chance.choice((" ", "-", " - ", "  ", "/", "(")) + code[at:]
    return code


def any_text(chance: random.Random) -> str:
    """Give any Unicode text; surrogates too, as they come out of broken files."""
    span = chance.choice((0x7F, 0x24F, 0x52F, 0xFFFF, 0x10FFFF))
    return "".join(chr(chance.randint(0, span)) for _ in range(chance.randrange(24)))


def text_of(codes: Sequence[str], chance: random.Random) -> str:
    """Give the next text."""
    kind = chance.random()
    if kind < 0.5:
        return slipped(chance.choice(codes), chance)
    if kind < 0.75:
        return "".join(chance.choices(SIGNS, k=chance.randrange(1, 18)))
    return any_text(chance)


def check(text: str, *, more: bool) -> str:
    """Read one text; give what became of it.

    Raises:
        AssertionError: a promise is broken.
    """
    if more:
        check_application(text)
    try:
        reading = read(text, LETTERS)
    except BadDesignation as error:
        assert error.message and error.hint and error.expected
        assert error.message.isprintable() and error.found.isprintable()
        return "refused"
    again = read(reading.designation, LETTERS)
    assert bare(again) == bare(reading), f"reads differently again: {reading.designation}"
    if more:
        try:
            written = write(spec_of(reading), LETTERS)
        except BadDesignation as error:
            assert error.details["field"]
        else:
            assert read(written.designation, LETTERS).designation == written.designation
    return reading.kind


def check_application(text: str) -> None:
    """Read one text by ISO 513."""
    try:
        reading = read_application(text, APPLICATIONS)
    except BadDesignation as error:
        assert error.hint
    else:
        assert read_application(reading.designation, APPLICATIONS) == reading


def bare(reading: Reading) -> list[object]:
    """Give all that a reading says but its notes, which may tell how the text was mended."""
    return [getattr(reading, name) for name in reading.__dataclass_fields__ if name != "notes"]


def main(arguments: Sequence[str]) -> int:
    """Run; print what was tried, and the first text that breaks a promise."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz_designations", description=__doc__)
    parser.add_argument("count", type=int)
    parser.add_argument("--seed", type=int, default=1832)
    asked = parser.parse_args(arguments)
    chance, codes = random.Random(asked.seed), known()
    seen: Counter[str] = Counter()
    begun = time.monotonic()
    for number in range(1, asked.count + 1):
        text = text_of(codes, chance)
        try:
            seen[check(text, more=number % EVERY == 0)] += 1
        except Exception:
            print(f"text {number} of seed {asked.seed}: {text!r}", file=sys.stderr)  # noqa: T201
            traceback.print_exc()
            return 1
        if number % PROGRESS == 0:
            print(f"  {number} {time.monotonic() - begun:.0f} s", file=sys.stderr)  # noqa: T201
    told = ", ".join(f"{kind} {count}" for kind, count in sorted(seen.items()))
    took_s = time.monotonic() - begun
    print(f"{asked.count} texts, seed {asked.seed}, {took_s:.0f} s: no fault; {told}")  # noqa: T201
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

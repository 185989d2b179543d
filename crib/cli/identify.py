"""crib identify: what is this? A worn code, or a part without one."""

from collections.abc import Iterable

import click

from crib.cli.find import item_lines
from crib.cli.output import Output, with_output, with_store
from crib.desk.asking.identify import Candidate, Identified, identify_code
from crib.errors import InputError
from crib.trade.designation.worn import Choice

STATUS_NOTHING = 1
MOST_OPTIONS = 24


@click.command()
@click.argument("code", nargs=-1)
@click.option(
    "--shape", default="", help="80 degree diamond, triangle, square, round, trigon …, or a letter."
)
@click.option("--angle", default="", help="Included angle of the corner, measured.")
@click.option("--ic", default="", help="Inscribed circle: across parallel sides, or the diameter.")
@click.option("--edge", default="", help="Edge length, over the rounded corners.")
@click.option("--thickness", default="", help="From the seat to the cutting edge.")
@click.option("--nose", default="", help="Corner radius.")
@click.option("--clearance", default="", help="Clearance angle of the side face.")
@click.option("--hole/--no-hole", default=None, help="It has a hole, or none.")
@click.option("--error", default="", help="What a length may be off by (else 0.1 mm is assumed).")
@click.option("--nose-error", default="", help="What the nose may be off by (else 0.2 mm is assumed).")
@click.option("--shank", default="", help="Of a holder 25x25 (height x width), of a bar 25.")
@click.option("--length", default="", help="Length of a holder or bar.")
@click.option("--hand", default="", help="Of a holder or bar: right, left or neutral.")
@click.option("--entering", default="", help="Entering angle of a holder or bar.")
@click.option("--insert", default="", help="Code of the insert that a holder takes.")
@click.option("--limit", default=20, type=click.IntRange(1, 10_000), help="How many codes to print.")
@with_store
@with_output
def command(code: tuple[str, ...], out: Output, db: str, limit: int, hole: bool | None, **sizes: str) -> int:
    """What is this? A worn code (? for what can't be read, * for a gap), or a part by its sizes."""
    typed = " ".join(code)
    measured = hole is not None or any(sizes.values())
    if bool(typed.strip()) == measured:
        raise InputError(
            "a code or sizes are wanted, " + ("not both" if measured else "and there is neither"),
            "crib identify 'CNM? 12?4 08', or crib identify --shape trigon --ic '1/2 in' --thickness 4.8",
        )
    found = identify_code(db, typed, limit=limit) if typed.strip() else _by_sizes(db, sizes, hole, limit)
    out.give(found, lambda: lines(found))
    return 0 if found.total else STATUS_NOTHING


def _by_sizes(db: str, sizes: dict[str, str], hole: bool | None, limit: int) -> Identified:
    """Ask by measurement."""
    from crib.desk.asking.identify_measured import Sizes, identify_sizes  # a worn code starts without it

    return identify_sizes(db, Sizes(hole=hole, **sizes), limit=limit)


def lines(found: Identified) -> Iterable[str]:
    """Put an answer into lines: what it is, what of it is on hand, the codes, what stays open."""
    yield found.verdict
    yield found.detail
    yield ""
    for title, items in (("On site:", found.on_site), ("Elsewhere:", found.elsewhere)):
        if items:
            yield title
            for item in items:
                yield from item_lines(item)
    if found.candidates:
        yield "Codes:" if found.total else "Nearest:"
        yield from (_line(one) for one in found.candidates)
        if found.total > len(found.candidates):
            more = found.total - len(found.candidates)
            yield f"  … and {'' if found.complete else 'at least '}{more} more (--limit)"
    yield from (line for choice in found.positions for line in _position(choice))
    yield from (f"To tell: {line}" for line in found.tells_apart)
    yield from (f"Assumed: {line}" for line in found.assumed)
    yield from (f"note: {note}" for note in found.notes)
    yield f"Next: {found.next_step}"


def _line(one: Candidate) -> str:
    """Put one code into a line."""
    other = f" = {one.equivalent}" if one.equivalent else ""
    have = f"  [{one.have}]" if one.have else ""
    off = "" if one.misfit is None else f"  misfit {one.misfit:.2f}"
    return f"  {one.code + other:28} {one.label}{off}{have}{'  (a guess)' if one.guessed else ''}"


def _position(choice: Choice) -> Iterable[str]:
    """Put one position into a line, where something is open."""
    if len(choice.options) > 1:
        codes = [option.code or "(none)" for option in choice.options]
        more = f" … {len(codes)} in all" if len(codes) > MOST_OPTIONS else ""
        where = f"{choice.kind}, {choice.system}, position {choice.position}"
        yield f"  {where}: {' '.join(codes[:MOST_OPTIONS])}{more}"

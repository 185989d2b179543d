"""Does this insert go into that holder, field by field; and what on hand goes with either?"""

from collections.abc import Sequence
from dataclasses import dataclass

from crib.desk.asking.ask import Asker, Found, find
from crib.desk.asking.codes import decode
from crib.desk.asking.identify import NO_STORE
from crib.desk.asking.talk import is_tag
from crib.errors import BadDesignation, InputError, StoreMissing
from crib.store.filters import Filters
from crib.store.read import Reader, reading
from crib.store.rows import BarRow, HolderRow
from crib.store.search import compact
from crib.trade.designation.fit import Check, fits
from crib.trade.designation.reading import BarReading, HolderReading, InsertReading, Reading
from crib.units import Kind, show

MOST = 20
SHORTEST_CODE = 7  # characters; makers' own symbols are shorter
WORDS = {
    "SC": "shape",
    "AN_deg": "clearance",
    "IC_mm": "inscribed circle",
    "L_mm": "edge length",
    "size": "size",
    "hole": "hole and clamping",
    "HAND": "hand",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Bore:
    """The smallest bore of one bar on hand; None where it is not recorded."""

    tag: str
    place: str
    dmin_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FitAnswer:
    """Whether an insert goes into a holder, or what on hand goes with one code.

    Attributes:
        verdict: the answer in one line.
        detail: the first thing that fails, or what the codes can't tell.
        next_step: what to do now.
        ok: it fits; for one code: something on hand does.
        tool: code of the holder or bar; None where only an insert was asked.
        insert: code of the insert; None where only a holder was asked.
        checks: field by field; empty for one code.
        stock_known: False when there is no store to look in.
        bores: smallest bore of each such bar (or holder with one recorded) on record.
        partners: what on record goes with the one code, or with the holder where the insert does not.
    """

    verdict: str
    detail: str
    next_step: str
    ok: bool
    tool: str | None
    insert: str | None
    checks: tuple[Check, ...]
    stock_known: bool
    bores: tuple[Bore, ...]
    partners: Found | None


def fitting(address: str, words: Sequence[str]) -> FitAnswer:
    """Say whether an insert goes into a holder or bar; for one code, what on hand goes with it.

    Args:
        address: the store; it need not exist.
        words: one code, or a holder and an insert in either order; codes may hold blanks, and the tag of a
            tool on record stands for its code.

    Raises:
        BadDesignation: a code that can't be read.
        InputError: two inserts, or two holders.
        StoreError: the store is there, but can't be used.
    """
    tool, insert = _sorted(_codes([_code_of_tag(address, word) for word in words]))
    if tool is None or insert is None:
        return _alone(address, tool, insert)
    return _pair(address, tool, insert)


Tool = HolderReading | BarReading


def _code_of_tag(address: str, word: str) -> str:
    """Give the code of the tool with this tag; the word itself where it is no tag on record."""
    if not is_tag(word):
        return word
    try:
        with reading(address) as reader:
            found = Asker(reader).tagged(word)
    except StoreMissing:
        return word
    return found[1] if found else word


def _codes(words: Sequence[str]) -> tuple[Reading, ...]:
    """Read one code or two, wherever the first ends."""
    if not " ".join(words).strip():
        raise InputError("no code was given", "crib fit MWLNL2525M08 WNMG080408")
    wrong: list[BadDesignation] = []
    for split in (*range(1, len(words)), len(words)):
        parts = [" ".join(part) for part in (words[:split], words[split:]) if part]
        try:
            codes = tuple(decode(part) for part in parts)
        except BadDesignation as error:
            wrong.append(error)
            continue
        suffix = codes[0].maker_suffix
        if len(codes) == 1 and len(words) > 1 and suffix and len(suffix) >= SHORTEST_CODE:
            break  # a second code that can't be read, not a maker's own symbol
        return codes
    raise max(wrong, key=lambda error: error.position)


def _sorted(codes: tuple[Reading, ...]) -> tuple[Tool | None, InsertReading | None]:
    """Tell the holder from the insert."""
    inserts = [code for code in codes if isinstance(code, InsertReading)]
    tools = [code for code in codes if not isinstance(code, InsertReading)]
    if len(inserts) > 1 or len(tools) > 1:
        both = " and ".join(code.designation for code in codes)
        kind = "inserts" if inserts else "holders or bars"
        raise InputError(f"{both} are both {kind}", "one holder or bar, and one insert")
    return (tools[0] if tools else None), (inserts[0] if inserts else None)


def _pair(address: str, tool: Tool, insert: InsertReading) -> FitAnswer:
    """Answer for a holder and an insert."""
    fit = fits(tool.seat(), insert.shape())
    failed = next((check for check in fit.checks if not check.ok), None)
    verdict = f"{insert.designation} {'goes' if fit.ok else 'does not go'} into {tool.designation}"
    if failed is not None:
        verdict += f": {WORDS[failed.field]} {failed.found}, where it takes {failed.wanted}"
    bores = _bores(address, tool)
    partners = None if fit.ok else _partners(address, tool)
    step = "crib show TAG tells all about a tool on hand."
    if not fit.ok:
        there = partners.total if partners else 0
        step = (
            f"crib fit {tool.designation} lists the {there} on record that go in."
            if there
            else "Another insert."
        )
    return FitAnswer(
        verdict=verdict + ".",
        detail=(f"{fit.why[0].upper()}{fit.why[1:]}." if fit.ok else _failures(fit.checks))
        + _bore(tool, bores),
        next_step=step,
        ok=fit.ok,
        tool=tool.designation,
        insert=insert.designation,
        checks=fit.checks,
        stock_known=bores is not None,
        bores=bores or (),
        partners=partners,
    )


def _failures(checks: tuple[Check, ...]) -> str:
    """Say how much more fails after the first."""
    failed = [WORDS[check.field] for check in checks if not check.ok]
    return "Nothing else speaks against it." if len(failed) == 1 else f"Also wrong: {', '.join(failed[1:])}."


def _bore(tool: Tool, bores: tuple[Bore, ...] | None) -> str:
    """Say how small a bore a bar goes into."""
    if not isinstance(tool, BarReading):
        return ""
    if bores is None:
        return f" Its smallest bore does not stand in the code. {NO_STORE}"
    known = sorted({bore.dmin_mm for bore in bores if bore.dmin_mm is not None})
    if known:
        said = " or ".join(show(size, Kind.LENGTH) for size in known)
        return f" Smallest bore as recorded: {said}."
    where = "is not recorded" if bores else "is not known: none like it is on record"
    return f" Its smallest bore {where}; the code does not tell it."


def _bores(address: str, tool: Tool) -> tuple[Bore, ...] | None:
    """Give the smallest bores of the tools on record that have this code; None without a store."""
    try:
        with reading(address) as reader:
            return tuple(_bores_of(reader, tool))
    except StoreMissing:
        return None


def _bores_of(reader: Reader, tool: Tool) -> list[Bore]:
    rows = reader.find_items(Filters(codes=(compact(tool.designation),), kinds=(tool.kind,), limit=MOST)).rows
    found = []
    for row in rows:
        detail = reader.detail(row.id)
        if isinstance(detail, BarRow) or (isinstance(detail, HolderRow) and detail.dmin_mm is not None):
            found.append(Bore(tag=row.tag, place=row.place, dmin_mm=detail.dmin_mm))
    return found


def _partners(address: str, code: Reading) -> Found | None:
    """Give what on record goes with a code; None without a store."""
    try:
        return find(address, "", fits=code.designation, limit=MOST)
    except StoreMissing:
        return None


def _alone(address: str, tool: Tool | None, insert: InsertReading | None) -> FitAnswer:
    """Answer for one code: what on hand goes with it."""
    code: Reading | None = tool or insert
    assert code is not None  # _codes gave at least one
    partners = _partners(address, code)
    what = "take" if tool is None else "go into"
    things = "holders and bars" if tool is None else "inserts"
    if partners is None:
        verdict, detail = f"Which {things} {what} {code.designation} can't be told.", NO_STORE
    else:
        here = sum(item.on_site for item in partners.items)
        verdict = (
            f"{partners.total} {things} on record {what} {code.designation}, {here} of those shown on site."
        )
        detail = partners.detail
    bores = _bores(address, tool) if tool is not None else ()
    if tool is not None and partners is not None:
        detail += _bore(tool, bores)
    return FitAnswer(
        verdict=verdict,
        detail=detail,
        next_step=f"crib decode {code.designation} tells what it takes."
        if tool
        else "crib fit HOLDER INSERT",
        ok=bool(partners and partners.total),
        tool=tool.designation if tool else None,
        insert=insert.designation if insert else None,
        checks=(),
        stock_known=partners is not None,
        bores=bores or (),
        partners=partners,
    )

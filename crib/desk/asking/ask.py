"""What have we got, whose is it, where is it, what state is it in?"""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from crib.desk.asking.found import Found as Found
from crib.desk.asking.found import FoundItem as FoundItem
from crib.desk.asking.found import (
    answer_lines,
    book_lines,
    elsewhere_lines,
    not_understood_lines,
    nothing_lines,
    others_lines,
    used_up_lines,
    without_lines,
)
from crib.desk.asking.talk import Names, Wanted, book_asked, nearest, understand, vocabulary
from crib.desk.intake.scanned import scanned
from crib.errors import NotPossible
from crib.store.filters import Filters, Range
from crib.store.read import Reader, reading
from crib.store.rows import ItemRow
from crib.store.search import compact, query_tokens
from crib.trade import tables
from crib.units import Kind, show
from crib.units.spoken import figures

if TYPE_CHECKING:
    from crib.trade.designation.reading import Reading

# crib.desk.asking.codes is imported where a code is read: 10 ms, and many questions and answers hold none
_WORD = re.compile(r"\w")
MOST_ELSEWHERE = 10
MOST_FOR_SLIPS = 2000
SAME_SIZE_MM = 0.05  # an inch bar is asked for as 25.4 mm, and 25 mm is not that


# -- find -------------------------------------------------------------------------------------------------


def find(
    address: str,
    question: str,
    *,
    at: str = "",
    owner: str = "",
    hand: str = "",
    kind: str = "",
    fits: str = "",
    condition: str = "",
    limit: int = 50,
    offset: int = 0,
) -> Found:
    """Answer a question about what there is.

    Args:
        address: the store.
        question: shop talk, or field=value, or both.
        at: a place, a site, or "here", "home", "out", "overdue".
        owner: a name, "me" or "company".
        hand: left, right or neutral.
        kind: kind of tool.
        fits: code of what it must go with.
        condition: new, good, worn, damaged, scrap.
        limit: how many to give.
        offset: how many to pass over.

    Raises:
        InputError: a field or value that does not exist.
        StoreError: the store can't be used.
    """
    flags = {"at": at, "owner": owner, "hand": hand, "kind": kind, "fits": fits, "condition": condition}
    question = figures(question)
    asked = " ".join([scanned(question), *(f'{name}="{value}"' for name, value in flags.items() if value)])
    with reading(address) as reader:
        desk = Asker(reader)
        talk = tables.rows("shop_words")
        if command := book_asked(question, talk):
            return _found(Wanted(), book_lines(command), book=command)
        wanted = understand(asked, desk.names(), vocabulary(talk), kind_of_code)
        # filler words alone ("what have we got?") ask for everything; signs alone ask for nothing
        if wanted == Wanted(said=wanted.said) and asked.strip() and (wanted.said or not _WORD.search(asked)):
            return _found(wanted, not_understood_lines())
        return desk.answer(wanted, limit, offset)


def kind_of_code(text: str) -> str | None:
    """Say whether a text is a code: "insert", "holder", "bar", or None."""
    from crib.desk.asking.codes import readable

    read = readable(text)
    return read.kind if read else None


class Asker:
    """Answers one question on one open reader."""

    def __init__(self, reader: Reader) -> None:
        self.reader = reader
        self.settings = reader.settings()
        self.places = reader.places()
        self.parties = reader.parties()
        self.site_id = self.here()

    def names(self) -> Names:
        """Give what the store calls people and places."""
        me = self.settings.get("me", "").lower()
        parties = {party.mark.lower(): party.id for party in self.parties if party.mark}
        firsts = [party.name.lower().split()[0] for party in self.parties]
        often = Counter(firsts)
        parties |= {
            first: party.id for first, party in zip(firsts, self.parties, strict=True) if often[first] == 1
        }
        parties |= {party.name.lower(): party.id for party in self.parties}  # a whole name beats a mark
        named = Counter(place.name.lower() for place in self.places)
        return Names(
            parties=parties,
            sites={place.name.lower(): place.id for place in self.places if place.kind == "site"},
            places={place.name.lower(): place.path for place in self.places if named[place.name.lower()] == 1}
            | {place.path.lower(): place.path for place in self.places},
            me=parties.get(me),
            companies=tuple(party.id for party in self.parties if party.kind == "company"),
            crowded={
                name: [place.path for place in self.places if place.name.lower() == name]
                for name, count in named.items()
                if count > 1
            },
            tagged=self.tagged,
        )

    def tagged(self, tag: str) -> tuple[str, str] | None:
        """Give the kind and code of the tool with a tag; None where there is none that reads."""
        for row in self.reader.find_items(Filters(tag=tag, limit=1)).rows:
            if row.designation and kind_of_code(row.designation):
                return row.kind, row.designation
        return None

    def here(self) -> int | None:
        """Give the site that we are at: the setting, or the only site there is."""
        sites = [place for place in self.places if place.kind == "site"]
        wanted = self.settings.get("site", "").lower()
        for site in sites:
            if site.name.lower() == wanted or len(sites) == 1:
                return site.id
        return None

    def here_or_refuse(self) -> int:
        """Give the site that we are at.

        Raises:
            NotPossible: it is not set.
        """
        if self.site_id is None:
            raise NotPossible("which site you are at is not set", "crib setting site NAME")
        return self.site_id

    # -- from question to rows ----------------------------------------------------------------------------

    def answer(self, wanted: Wanted, limit: int, offset: int) -> Found:
        """Answer what is wanted; look elsewhere when it is not here, and for slips when it is nowhere."""
        items, total = self.rows(wanted, limit, offset)
        if not total and wanted.tokens and (mended := self.mend_slips(wanted)):
            wanted = mended
            items, total = self.rows(wanted, limit, offset)
        if not total:
            return self.near_misses(wanted)
        found = tuple(self.shown(row) for row in items)
        return _found(wanted, answer_lines(wanted, found, total), items=found, total=total)

    def near_misses(self, wanted: Wanted) -> Found:
        """Answer what is nowhere as asked: elsewhere, somebody else's, or without a word that nothing has."""
        anywhere = wanted._replace(where=None, site_id=None, place=None, held_by_id=None)
        if anywhere != wanted:
            rows, _ = self.rows(anywhere, MOST_ELSEWHERE, 0)
            if others := tuple(self.shown(row) for row in rows):
                return _found(wanted, elsewhere_lines(wanted, others), elsewhere=others)
        if wanted.owner_ids:
            rows, _ = self.rows(anywhere._replace(owner_ids=()), MOST_ELSEWHERE, 0)
            if others := tuple(self.shown(row) for row in rows):
                return _found(wanted, others_lines(wanted, others), elsewhere=others)
        wordless = wanted._replace(tokens=())
        if wanted.tokens and wordless != Wanted(said=wanted.said):
            rows, total = self.rows(wordless, MOST_ELSEWHERE, 0)
            if others := tuple(self.shown(row) for row in rows):
                word = " ".join(wanted.tokens)
                return _found(wanted, without_lines(word, wanted, others, total), elsewhere=others)
        rows, _ = self.rows(wanted, MOST_ELSEWHERE, 0, emptied=True)
        if gone := tuple(self.shown(row) for row in rows):
            return _found(wanted, used_up_lines(wanted, gone), elsewhere=gone)
        return _found(wanted, nothing_lines(wanted))

    def rows(
        self, wanted: Wanted, limit: int, offset: int, *, emptied: bool = False
    ) -> tuple[Sequence[ItemRow], int]:
        """Give a page of rows, and how many there are in all; those without a piece by their tag only."""
        filters = self.filters(wanted)._replace(emptied=emptied or bool(wanted.tag))
        if wanted.fits is None:
            found = self.reader.find_items(filters._replace(limit=limit, offset=offset))
            return found.rows, found.total
        from crib.desk.asking.codes import decode

        partner = decode(wanted.fits)
        filters = _beside(filters, partner)
        # the seat narrows in the store; the other fields of a fit are compared once for each code on record
        fitting = [compact(code) for code in _going_with(self.reader.codes(filters), partner)]
        if not fitting:
            return (), 0
        found = self.reader.find_items(filters._replace(codes=tuple(fitting), limit=limit, offset=offset))
        return found.rows, found.total

    def filters(self, wanted: Wanted) -> Filters:
        """Put what is wanted as the store asks it."""
        code = compact(wanted.code) if wanted.code else ""
        return Filters(
            tokens=tuple(token for text in wanted.tokens for token in query_tokens(text)),
            beginnings=True,
            exact=code or compact(" ".join(wanted.tokens)),
            code_starts=self.codes(wanted.code) if wanted.code else (),  # makers put own signs behind
            kinds=(wanted.kind,) if wanted.kind else (),
            hands=(wanted.hand,) if wanted.hand else (),
            conditions=(wanted.condition,) if wanted.condition else (),
            owner_ids=wanted.owner_ids,
            held_by_id=wanted.held_by_id,
            site_id=self.here_or_refuse() if wanted.where == "here" else wanted.site_id,
            not_site_id=self.here_or_refuse() if wanted.where == "home" else None,
            lent={"here": False, "out": True, "overdue": True}.get(wanted.where or ""),
            due_before=_today() if wanted.where == "overdue" else None,
            place=wanted.place or "",
            tag=wanted.tag or "",
            ranges=_ranges(wanted),
        )

    def codes(self, typed: str) -> tuple[str, ...]:
        """Give the forms under which a code may be on record: as typed, normalised, in the other system."""
        from crib.desk.asking.codes import readable

        forms = {compact(typed)}
        if read := readable(typed):
            forms |= {compact(code) for code in (read.designation, read.equivalent) if code}
        return tuple(sorted(forms))

    def mend_slips(self, wanted: Wanted) -> Wanted | None:
        """Replace words that no record holds by the nearest that one does."""
        filters = self.filters(wanted._replace(tokens=()))
        letters = "".join(typed[0].lower() for typed in wanted.tokens)
        known = self.reader.words(filters._replace(limit=MOST_FOR_SLIPS), letters)
        tokens, said = [], list(wanted.said)
        for typed in wanted.tokens:
            near = nearest(typed.lower(), known) if typed.lower() not in known else None
            tokens.append(near or typed)
            if near:
                said = [one._replace(value=near) if one.from_ == typed else one for one in said]
        mended = tuple(tokens)
        return wanted._replace(tokens=mended, said=tuple(said)) if mended != wanted.tokens else None

    def shown(self, row: ItemRow) -> FoundItem:
        """Give a row as answers show it."""
        return FoundItem(
            id=row.id,
            tag=row.tag,
            kind=row.kind,
            label=row.label,
            designation=row.designation,
            HAND=row.hand,
            owner=row.owner,
            place=row.place,
            site=row.site,
            on_site=row.site_id == self.site_id and row.held_by is None,
            is_own=row.owner.lower() == self.settings.get("me", "").lower(),
            held_by=row.held_by,
            due_back=row.due_back.isoformat() if row.due_back else None,
            condition=row.condition,
            quantity=row.quantity,
            edges_left=row.edges_left,
            mark=row.mark,
            serial=row.serial,
            note=row.note,
            takes=_takes(row),
            overdue=row.due_back is not None and row.due_back < _today(),
            lacks=row.lacks,
        )


def _found(
    wanted: Wanted,
    lines: tuple[str, str, str],
    *,
    items: tuple[FoundItem, ...] = (),
    total: int = 0,
    elsewhere: tuple[FoundItem, ...] = (),
    book: str = "",
) -> Found:
    verdict, detail, next_step = lines
    return Found(
        understood=wanted.said,
        verdict=verdict,
        detail=detail,
        next_step=next_step,
        items=items,
        total=total,
        elsewhere=elsewhere,
        book=book or None,
    )


def _today() -> date:
    from crib.desk.dates import today  # few questions are about days, and start-up is waited for

    return today()


def _ranges(wanted: Wanted) -> tuple[Range, ...]:
    """Put a size as the store asks it; where nothing says what it measures it can't narrow anything."""
    if wanted.size_mm is None or not wanted.size_field:
        return ()
    low, high = wanted.size_mm
    if wanted.size_field == "covers_mm":
        return (Range(wanted.size_field, low, high),)
    return (Range(wanted.size_field, low - SAME_SIZE_MM, high + SAME_SIZE_MM),)


def _beside(filters: Filters, partner: "Reading") -> Filters:
    """Narrow by the seat that goes with a code: holders and bars for an insert, inserts for the others."""
    kinds = ("holder", "bar") if partner.kind == "insert" else ("insert",)
    wanted = tuple(kind for kind in kinds if not filters.kinds or kind in filters.kinds)
    return filters._replace(kinds=wanted or kinds, sc=partner.SC, ic_mm=partner.IC_mm, an_deg=partner.AN_deg)


def _going_with(designations: Iterable[str], partner: "Reading") -> Iterator[str]:
    """Give the recorded codes that go together with the asked one, field by field."""
    from crib.desk.asking.codes import readable
    from crib.trade.designation.fit import fits
    from crib.trade.designation.reading import InsertReading

    shape = partner.shape() if isinstance(partner, InsertReading) else None
    seat = None if isinstance(partner, InsertReading) else partner.seat()
    for designation in designations:
        other = readable(designation)
        if other is None:
            continue  # recorded as typed, its geometry unknown
        if isinstance(other, InsertReading):
            if seat is not None and fits(seat, other.shape()).ok:
                yield designation
        elif shape is not None and fits(other.seat(), shape).ok:
            yield designation


def _takes(row: ItemRow) -> str | None:
    if row.kind not in ("holder", "bar"):
        return None
    from crib.desk.asking.codes import readable
    from crib.trade.designation.reading import InsertReading

    read = readable(row.designation)
    if read is None or isinstance(read, InsertReading):
        return None
    return (
        read.insert_seat if read.IC_mm is None else f"{read.insert_seat}, IC {show(read.IC_mm, Kind.LENGTH)}"
    )

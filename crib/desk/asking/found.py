"""What a search gives: the tools, and the answer in three lines."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from crib.desk.asking.talk import Said, Wanted
from crib.desk.hands import HAND_WORDS
from crib.units.counts import many

KIND_WORDS = {
    "insert": ("insert", "inserts"),
    "holder": ("holder", "holders"),
    "bar": ("boring bar", "boring bars"),
    "bit": ("bit", "bits"),
    "rotary": ("drill, reamer, tap or mill", "drills, reamers, taps or mills"),
    "gauge": ("gauge", "gauges"),
    "workholding": ("piece of workholding", "pieces of workholding"),
    "spare": ("spare", "spares"),
    "other": ("other thing", "other things"),
    None: ("tool", "tools"),
}


class FoundItem(NamedTuple):
    """One tool or batch as shown.

    Attributes:
        takes: what a holder or bar takes.
        is_own: it is mine.
        overdue: lent, and it should be back.
        lacks: a recorded part of it that is gone.
    """

    id: int
    tag: str
    kind: str
    label: str
    designation: str | None
    HAND: str | None
    owner: str
    place: str
    site: str
    on_site: bool
    is_own: bool
    held_by: str | None
    due_back: str | None
    condition: str
    quantity: int
    edges_left: int | None
    mark: str | None
    note: str | None
    takes: str | None
    serial: str | None = None
    overdue: bool = False
    lacks: str | None = None

    @property
    def loan(self) -> str:
        """Who has it and until when; empty where it is not lent."""
        if not self.held_by:
            return ""
        due = f" until {self.due_back}" if self.due_back else ""
        return f"lent to {self.held_by}{due}" + (", OVERDUE" if self.overdue else "")

    @property
    def gap(self) -> str:
        """What is missing of it, where its note does not tell that already; else empty."""
        told = self.note and "missing" in self.note.lower()
        return f"{self.lacks} missing" if self.lacks and not told else ""


class Found(NamedTuple):
    """The answer to a question.

    Attributes:
        understood: what the words were taken to mean.
        verdict: the answer in one line.
        detail: how sure, and why.
        next_step: what to do now.
        items: what was asked for, a page of it.
        total: how many there are.
        elsewhere: the same at home or lent out, when it was asked for here and is not.
        book: the command whose book answers the question, where it is not about the tools themselves.
    """

    understood: tuple[Said, ...]
    verdict: str
    detail: str
    next_step: str
    items: tuple[FoundItem, ...]
    total: int
    elsewhere: tuple[FoundItem, ...] = ()
    book: str | None = None


def answer_lines(wanted: Wanted, items: Sequence[FoundItem], total: int) -> tuple[str, str, str]:
    """Put an answer that found something into three lines: the answer, how sure and why, what next."""
    thing = _thing(wanted, total)
    verdict, cares = f"Yes, {total} {thing} {_where(wanted)}.", _cares(items)
    if total == 1 and wanted.where in ("out", "overdue"):
        verdict = f"{items[0].tag} is {items[0].loan}."
        cares = _cares([items[0]._replace(held_by=None)])  # that it is lent need not be told twice
    if wanted.where is None:
        here = sum(item.on_site for item in items)
        on_site = f"{here} of those shown on site" if here else "none on site"
        verdict = f"{total} {thing} on record, {on_site}{_edges(items, total)}."
    step = "crib show TAG tells all about one." if total > 1 else f"crib show {items[0].tag}"
    if total == 1 and items[0].held_by:
        step = f"crib return {items[0].tag} when it is back; crib out {items[0].tag} tells who had it before."
    return verdict, cares, step


def elsewhere_lines(wanted: Wanted, elsewhere: Sequence[FoundItem]) -> tuple[str, str, str]:
    """Put an answer into three lines where there is none as asked, but elsewhere."""
    asked = {"here": "here", "home": "at home", "out": "lent out", "overdue": "overdue"}.get(
        wanted.where or "", "there"
    )
    verdict = f"None {asked}, but {_places(elsewhere)}."
    detail = "On record, just not as asked: " + "; ".join(_whereabouts(item) for item in elsewhere[:3]) + "."
    first = elsewhere[0]
    if first.held_by:
        return verdict, detail, f"Ask {first.held_by} for it."
    if first.on_site:
        return verdict, detail, f"crib show {first.tag} tells all about it."
    return verdict, detail, f"Ask for it, or crib bring {first.tag} when it is here."


def others_lines(wanted: Wanted, theirs: Sequence[FoundItem]) -> tuple[str, str, str]:
    """Put an answer into three lines where none has that owner, but somebody else has one."""
    first = theirs[0]
    return (
        f"No {_thing(wanted, 0)} of that owner, but {len(theirs)} of others'.",
        f"{first.tag} is {first.owner}'s; {_whereabouts(first)}.",
        f"Ask {first.held_by or first.owner} for it.",
    )


def without_lines(word: str, wanted: Wanted, near: Sequence[FoundItem], total: int) -> tuple[str, str, str]:
    """Put an answer into three lines where a word keeps everything out."""
    return (
        f"Nothing on record says {word!r}; without that word, {total} {_thing(wanted, total)}.",
        "; ".join(_whereabouts(item) for item in near[:3]) + ".",
        "Ask again without it, or enter what is missing: crib intake FILE.",
    )


def used_up_lines(wanted: Wanted, gone: Sequence[FoundItem]) -> tuple[str, str, str]:
    """Put an answer into three lines where there were some, and no piece of them is left."""
    first = gone[0]
    return (
        f"None left: {len(gone)} {_thing(wanted, len(gone))} on record, without a piece.",
        "; ".join(f"{item.tag}, last at {item.place}" for item in gone[:3]) + ".",
        f"crib show {first.tag} tells where they went; crib count {first.tag} N if there are some.",
    )


def book_lines(command: str) -> tuple[str, str, str]:
    """Put into three lines that a book answers the question."""
    return (
        "That stands in the crib's books.",
        "Find tells what there is, whose and where; what is owed, due or running out is kept there.",
        f"crib {command}",
    )


def nothing_lines(wanted: Wanted) -> tuple[str, str, str]:
    """Put an answer into three lines where nothing comes near."""
    return (
        f"No {_thing(wanted, 0)} on record.",
        "Nothing recorded matches; what was never entered is not known here.",
        "Ask with fewer words, or enter it: crib intake FILE.",
    )


def not_understood_lines() -> tuple[str, str, str]:
    """Put an answer into three lines where no word says what is looked for."""
    return (
        "Nothing in that says what to look for.",
        "A kind, a hand, a code, a size, a name or any word on record will do.",
        "For example: left-hand holder on site.",
    )


def _edges(items: Sequence[FoundItem], total: int) -> str:
    """Say how many edges are left in all, where every box is shown and counted."""
    left = [item.edges_left for item in items if item.edges_left is not None]
    return f"; {many(sum(left), 'edge')} left in all" if len(left) == total > 1 else ""


def _where(wanted: Wanted) -> str:
    named = {"here": "on site", "home": "at home or another site", "out": "lent out", "overdue": "overdue"}
    return named.get(wanted.where or "", "there" if wanted.place or wanted.site_id else "on record")


def _thing(wanted: Wanted, total: int) -> str:
    one, many = KIND_WORDS[wanted.kind]
    hand = HAND_WORDS[wanted.hand] + " " if wanted.hand else ""
    partner = f" for {wanted.fits.upper()}" if wanted.fits else ""
    return f"{hand}{one if total == 1 else many}{partner}"


def _cares(items: Iterable[FoundItem]) -> str:
    """Say what must not be overlooked about the items shown: damaged, empty, lent, noted."""
    lines = []
    for item in items:
        if item.condition in ("damaged", "scrap"):
            lines.append(f"{item.tag} is {item.condition}")
        elif item.edges_left == 0 or item.quantity == 0:
            lines.append(f"{item.tag} is used up")
        elif item.held_by:
            lines.append(f"{item.tag} is {item.loan}")
        elif item.note and "missing" in item.note.lower():
            lines.append(f"{item.tag}: {item.note}")
        elif item.gap:
            lines.append(f"{item.tag}: {item.gap}")
    return (
        "Mind: " + "; ".join(lines[:3]) + "."
        if lines
        else "From the records; nothing noted against those shown."
    )


def _places(items: Sequence[FoundItem]) -> str:
    lent = sum(item.held_by is not None for item in items)
    here = sum(item.on_site for item in items)
    counted = ((here, "on site"), (len(items) - lent - here, "at home or another site"), (lent, "lent out"))
    return " and ".join(f"{count} {where}" for count, where in counted if count)


def _whereabouts(item: FoundItem) -> str:
    return f"{item.tag} {item.loan or f'at {item.place}'}"

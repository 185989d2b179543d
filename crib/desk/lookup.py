"""From what people type to the one item, party or place that is meant, or a refusal that names the choices.

Nothing here mends slips by itself: what is written to the ledger must be what was said.
"""

import re
from collections.abc import Callable, Iterable, Sequence
from difflib import get_close_matches

from crib.desk.asking.ask import MOST_FOR_SLIPS, Asker, kind_of_code
from crib.desk.asking.talk import Wanted, is_tag, understand, vocabulary
from crib.desk.intake.scanned import scanned
from crib.errors import InputError, NotPossible, UnknownName
from crib.store.filters import Filters
from crib.store.read import Reader
from crib.store.rows import ItemRow, PartyRow, PlaceRow
from crib.store.search import compact, query_tokens
from crib.store.words import PATH_JOINT
from crib.trade import tables

MOST_NAMED = 6  # choices named in a refusal
_MOST_WITH_MARK = 50


def item(reader: Reader, typed: str) -> ItemRow:
    """Give the item with this tag, mark or serial, or the only one that these words describe.

    Args:
        reader: of the store.
        typed: "H03", "T.A 3", "my 25 mm bar", "telescopes".

    Raises:
        UnknownName: nothing on record is called so.
        InputError: several are; the hint names them.
    """
    typed = scanned(typed)
    if not compact(typed):
        raise UnknownName("tool", typed, hint="say its tag, mark, or words for it")
    for row in reader.find_items(Filters(tag=typed, limit=1)).rows:
        return row
    if found := _marked(reader, typed):
        return _only(found, f"{len(found)} tools are marked {typed!r}")
    if typed.strip() and not is_tag(typed.strip()):
        asker = Asker(reader)
        wanted = understand(typed, asker.names(), vocabulary(tables.rows("shop_words")), kind_of_code)
        if wanted != Wanted(said=wanted.said):
            rows, total = asker.rows(wanted, MOST_NAMED, 0)
            if rows:
                return _only(rows, f"{total} tools on record answer to {typed!r}")
    tags = [row.tag for row in reader.find_items(Filters(limit=MOST_FOR_SLIPS)).rows]
    raise UnknownName("tag", typed, get_close_matches(typed.upper(), tags, n=3))


def items(reader: Reader, typed: Iterable[str]) -> list[ItemRow]:
    """Give the items called so, each once, in the order in which they were named."""
    return list({row.id: row for row in (item(reader, name) for name in typed)}.values())


def party(reader: Reader, typed: str) -> PartyRow:
    """Give the person or company of this name, mark, first or last name; "me" is who asks.

    Raises:
        UnknownName: nobody on record is called so.
        InputError: several are; the hint names them.
        NotPossible: "me" was said, and who that is is not set.
    """
    asked = " ".join(typed.lower().split())
    if asked in ("me", "myself", "i"):
        return me_or_refuse(reader)
    known = reader.parties()
    tiers: tuple[Callable[[PartyRow], bool], ...] = (
        lambda one: one.name.lower() == asked,
        lambda one: (one.mark or "").lower() == asked,
        lambda one: asked in one.name.lower().split(),
        lambda one: asked == "company" and one.kind == "company",
    )
    for is_called_so in tiers:
        if found := [one for one in known if asked and is_called_so(one)]:
            if len(found) > 1:
                names = "; ".join(one.name for one in found[:MOST_NAMED])
                raise InputError(f"{len(found)} on record are called {typed!r}", f"say which: {names}")
            return found[0]
    words = {word: one.name for one in known for word in (one.name.lower(), *one.name.lower().split())}
    near = list(dict.fromkeys(words[word] for word in get_close_matches(asked, words, n=3)))
    names = ", ".join(one.name for one in known[:MOST_NAMED])
    hint = "" if near or not known else f"on record: {names}; somebody new: F9, or crib party NAME --add"
    raise UnknownName("person", typed, near, hint)


def place(reader: Reader, typed: str, *, site_id: int | None = None) -> PlaceRow:
    """Give the place of this path, name, or end of a path.

    Args:
        reader: of the store.
        typed: "mill rack", "insert cabinet / drawer 2", "works / tool room".
        site_id: where several are called so, the one on this site.

    Raises:
        UnknownName: none on record is called so, or several are; the hint names them.
    """
    steps = [" ".join(step.split()) for step in re.split(r"[/>]", typed.lower()) if step.strip()]
    known = reader.places()
    paths = [(one, one.path.lower().split(PATH_JOINT)) for one in known]
    found = [one for one, path in paths if path == steps] or [
        one for one, path in paths if steps and path[-len(steps) :] == steps
    ]
    if len(found) > 1:
        found = [one for one in found if one.site_id == site_id] or found
    if len(found) == 1:
        return found[0]
    near = [one.path for one in found]
    if not near:
        names = {one.name.lower(): one.path for one in known}
        near = [one.path for one in known if typed.strip() and typed.strip().lower() in one.path.lower()]
        near += [names[name] for name in get_close_matches(typed.lower(), names, n=3)]
    raise UnknownName("place", typed, list(dict.fromkeys(near))[:MOST_NAMED])


def me(reader: Reader) -> PartyRow | None:
    """Give who works here, by the setting; None where it is not set."""
    name = reader.settings().get("me", "").lower()
    return next((one for one in reader.parties() if one.name.lower() == name), None)


def my_id(reader: Reader) -> int | None:
    """Give the number of who works here; None where it is not set."""
    found = me(reader)
    return found.id if found else None


def me_or_refuse(reader: Reader) -> PartyRow:
    """Give who works here.

    Raises:
        NotPossible: it is not set.
    """
    if (found := me(reader)) is None:
        raise NotPossible("who you are is not set", "crib setting me NAME")
    return found


def _marked(reader: Reader, typed: str) -> Sequence[ItemRow]:
    """Give the items with this mark or serial number: letter for letter, else but for dots and dashes."""
    tokens = query_tokens(typed)
    if not tokens:
        return ()
    rows = reader.find_items(Filters(tokens=tuple(tokens), limit=_MOST_WITH_MARK)).rows
    plain = _plain(typed)
    exact = [row for row in rows if plain in (_plain(row.mark), _plain(row.serial))]
    return exact or [row for row in rows if row.mark and compact(row.mark) == compact(typed)]


def _plain(text: str | None) -> str:
    return "".join((text or "").lower().split())


def _only(rows: Sequence[ItemRow], several: str) -> ItemRow:
    if len(rows) > 1:
        named = "; ".join(f"{row.tag} {row.label} ({row.owner})" for row in rows[:MOST_NAMED])
        raise InputError(several, f"say which tag: {named}")
    return rows[0]

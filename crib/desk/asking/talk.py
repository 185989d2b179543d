"""Shop talk: what a question's words ask for, and which word said so."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from crib.desk.hands import hand_of
from crib.errors import BadQuantity, InputError, UnknownName
from crib.store.words import CONDITIONS, ITEM_KINDS
from crib.units import Kind

ReadCode = Callable[[str], str | None]
FIELDS = ("kind", "hand", "owner", "at", "condition", "fits", "code", "tag")
LONGEST_PHRASE = 6
MOST_CODE_WORDS = 5  # "CNMG 12 04 08 AB"
MOST_SIZE_WORDS = 7  # "16 3/8 to 16 1/2 in"
_NUMBER = r"\d+(?:[.,]\d+)?(?:[ -]?\d+/\d+)?|\d+/\d+"
_UNIT = r"\s*(?:mm|inches|inch|in|\"|″)"
# These are texts, made into patterns when a question first needs one: start-up is waited for.
# a size has a unit, or stands before the word for what it measures
SIZE = rf"(?i)(?:⌀|ø)?\s*(?:{_NUMBER})(?:{_UNIT})?(?:\s*(?:to|-|–|\.\.)\s*(?:{_NUMBER}))?{_UNIT}"
BARE_SIZE = rf"(?i)(?:⌀|ø)?\s*(?:{_NUMBER})(?:{_UNIT})?"
STARTS_A_SIZE = "⌀ø0123456789"
TAG = r"[A-Za-z]{1,4}[ -]?\d{1,6}"
SQUARE = r"(?i)(\d+)x\1"  # a square shank in mm: 25x25
# what a size means, by the kind of tool that is asked for, when no word says what it measures
SIZE_OF_KIND = {
    "bar": "dcon_mm",
    "holder": "h_mm",
    "bit": "shank_mm",
    "rotary": "dc_mm",
    "gauge": "covers_mm",
}
OF_ONE_TOOL = ("mine", "worth", "labels")  # commands that take a tag
LIKE_A_CODE = r"[A-Za-z].*\d"
# Words of three letters and fewer differ by one letter from half the vocabulary: they must be typed right.
SHORTEST_SLIP = 4
CLOSE = 0.8


class Word(NamedTuple):
    """One phrase of the bench: the field it sets, the value, and text to look for besides."""

    field: str
    value: str
    text: str


class Names(NamedTuple):
    """What the store calls people and places; each maps a name in lower case to an id.

    Attributes:
        parties: names and marks of people and the company.
        sites: names of sites.
        places: names and full paths of all places, mapped to the full path.
        me: the party that asks, if it is known.
        companies: ids of parties that are companies.
        crowded: names that several places share, with their full paths.
        tagged: gives the kind and code of the tool with a tag; None where there is none.
    """

    parties: Mapping[str, int] = {}
    sites: Mapping[str, int] = {}
    places: Mapping[str, str] = {}
    me: int | None = None
    companies: tuple[int, ...] = ()
    crowded: Mapping[str, Sequence[str]] = {}
    tagged: Callable[[str], tuple[str, str] | None] = lambda _tag: None


class Said(NamedTuple):
    """One thing understood: the field, its value, and the words it came from."""

    field: str
    value: str
    from_: str


class Wanted(NamedTuple):
    """What a question asks for; empty fields do not narrow the answer.

    Attributes:
        kind: one of ITEM_KINDS.
        hand: R, L or N.
        owner_ids: any of these owners.
        held_by_id: lent to this person.
        where: "here", "home" (somewhere else), "out" (lent) or "overdue" (lent, and should be back).
        site_id: a named site.
        place: a place's full path.
        condition: one of CONDITIONS.
        fits: the code of the insert, holder or bar that it must go with.
        code: a whole code that it must have, as typed.
        tag: the shop's own number.
        size_mm: a size that it must have, low and high.
        size_of: what that size measures; empty for what the kind of tool is told by.
        tokens: words that its record must hold.
        said: what was understood, in the order of the question.
    """

    kind: str | None = None
    hand: str | None = None
    owner_ids: tuple[int, ...] = ()
    held_by_id: int | None = None
    where: str | None = None
    site_id: int | None = None
    place: str | None = None
    condition: str | None = None
    fits: str | None = None
    code: str | None = None
    tag: str | None = None
    size_mm: tuple[float, float] | None = None
    size_of: str = ""
    tokens: tuple[str, ...] = ()
    said: tuple[Said, ...] = ()

    @property
    def size_field(self) -> str:
        """The field that the size is looked for in; empty where nothing says what it measures."""
        if self.size_of == "shank":
            return SIZE_OF_KIND.get(self.kind or "holder", "")
        return self.size_of or SIZE_OF_KIND.get(self.kind or "", "")


def vocabulary(rows: Sequence[Mapping[str, str]]) -> dict[str, Word]:
    """Build the bench vocabulary from its table."""
    return {
        row["phrase"]: Word(row["field"], row["value"], row["text"]) for row in rows if row["field"] != "book"
    }


def book_asked(question: str, rows: Sequence[Mapping[str, str]]) -> str:
    """Give the command whose book answers a question; empty where it is about the tools themselves.

    Args:
        question: as typed, for example "what do I need to order before Monday?".
        rows: the table of the bench vocabulary.

    Returns:
        The command, with the tag that the question names behind it: "restock", "worth B03".
    """
    words = re.findall(r"[^\s,;.?!]+", _plain(question))
    said = f" {' '.join(words)} "
    for row in rows:
        if row["field"] == "book" and f" {row['phrase']} " in said:
            tags = [word.upper() for word in words if is_tag(word)] if row["value"] in OF_ONE_TOOL else []
            return " ".join([row["value"], *tags])
    return ""


def understand(question: str, names: Names, words: Mapping[str, Word], read_code: ReadCode) -> Wanted:
    """Read a question in shop talk.

    Args:
        question: as typed, for example "left hand holder for a WNMG 080408 here" or "kind=bar owner=mine".
        names: what the store calls people and places.
        words: the bench vocabulary.
        read_code: gives "insert", "holder" or "bar" for a code that reads, None for any other text.

    Returns:
        What is wanted, with every word that was used in `said`; words that mean nothing here become tokens.

    Raises:
        InputError: a field=value names a field that does not exist, or a value that it can't have.
        UnknownName: field=value names a person or place that is not on record.
    """
    return _Listener(names, words, read_code).listen(question)


class _Listener:
    """Walks over a question once, from left to right, taking the longest phrase that means something."""

    def __init__(self, names: Names, words: Mapping[str, Word], read_code: ReadCode) -> None:
        self.names = names
        self.words = words
        self.read_code = read_code
        self.wanted = Wanted()
        self.codes: list[tuple[str, str, bool]] = []  # kind, as typed, stood behind "for" or "fits"
        self.linked = False
        self.lent_to = False

    def listen(self, question: str) -> Wanted:
        typed = [
            word.rstrip(".") or word
            for word in re.findall(r'[^\s,;?!"=]+="[^"]*"|(?:[^\s,;?!]|(?<=\d),(?=\d))+', question)
        ]
        at = 0
        while at < len(typed):
            at += self.step(typed[at:])
        self.settle_codes()
        if self.wanted.size_mm and not self.wanted.size_field:
            self.put("", "passed over", "the size: say of what (bar, holder, drill, gauge …)")
        return self.wanted

    def step(self, rest: Sequence[str]) -> int:
        """Take what stands at the front; give how many words it took."""
        if "=" in rest[0]:
            self.take_field(*rest[0].split("=", 1))
            return 1
        # two words typed nearly right ("on sight") come before one word typed right ("on")
        taken = (
            self.take_code(rest)
            or self.take_tag(rest[0])
            or self.take_size(rest)
            or self.take_phrase(rest, 2)
            or self.take_name(rest)
            or self.take_near(rest, 2)
            or self.take_phrase(rest, 1)
            or self.take_near(rest, 1)
        )
        if taken:
            return taken
        self.take_text(rest[0])
        return 1

    # -- what a front can be ------------------------------------------------------------------------------

    def take_code(self, rest: Sequence[str]) -> int:
        # the fewest words that read: whatever stands behind a code would pass for a maker's own symbol
        for count in range(1, min(MOST_CODE_WORDS, len(rest)) + 1):
            typed = " ".join(rest[:count])
            if (
                re.search(LIKE_A_CODE, typed)
                and rest[0].lower() not in self.words
                and (kind := self.read_code(typed))
            ):
                self.codes.append((kind, typed, self.linked))
                self.linked = False
                return count
        return 0

    def take_tag(self, typed: str) -> int:
        """Take the tag of a tool behind "for" or "fits": its code is what is meant."""
        if self.linked and is_tag(typed) and (found := self.names.tagged(typed)):
            self.codes.append((*found, True))
            self.linked = False
            return 1
        return 0

    def take_size(self, rest: Sequence[str]) -> int:
        """Take a size, and the word for what it measures if that stands behind it: "1 in shank"."""
        if rest[0][0] not in STARTS_A_SIZE:
            return 0
        from crib.units import read_range  # 4 ms, and few questions name a size

        if square := re.fullmatch(SQUARE, rest[0]):
            side = float(square[1])
            self.put(rest[0], "size", f"{side:g} mm shank", size_mm=(side, side), size_of="shank")
            return 1
        for count in range(min(MOST_SIZE_WORDS, len(rest)), 0, -1):
            typed = " ".join(rest[:count])
            measure = self.words.get(_plain(rest[count])) if len(rest) > count else None
            measured = measure is not None and measure.field == "measure"
            if not (re.fullmatch(SIZE, typed) or (measured and re.fullmatch(BARE_SIZE, typed))):
                continue
            try:
                low, high = read_range(typed, Kind.LENGTH)
            except BadQuantity:
                continue
            said = f"{low.value:g} mm" if low.value == high.value else f"{low.value:g} to {high.value:g} mm"
            of = measure.value if measure is not None and measured else ""
            self.put(typed, "size", f"{said} {of}".strip(), size_mm=(low.value, high.value), size_of=of)
            return count + measured
        return 0

    def take_phrase(self, rest: Sequence[str], shortest: int) -> int:
        for count in range(min(LONGEST_PHRASE, len(rest)), shortest - 1, -1):
            typed = " ".join(rest[:count])
            if word := self.words.get(_plain(typed)):
                self.take_word(word, typed)
                return count
        return 0

    def take_name(self, rest: Sequence[str]) -> int:
        for count in range(min(LONGEST_PHRASE, len(rest)), 0, -1):
            typed = " ".join(rest[:count])
            if self.take_owner_or_place(_plain(typed), typed):
                return count
        return 0

    def take_owner_or_place(self, plain: str, typed: str) -> bool:
        owner = re.sub(r"'s$|s'$", "", plain)
        if (party := self.names.parties.get(owner)) is not None:
            if self.lent_to:
                self.put(typed, "lent to", owner, held_by_id=party)
            else:
                self.put(typed, "owner", owner, owner_ids=(party,))
        elif paths := self.names.crowded.get(plain):
            raise InputError(f"several places are called {plain!r}", "say which: " + "; ".join(paths[:4]))
        elif (site := self.names.sites.get(plain)) is not None:
            self.put(typed, "site", plain, site_id=site)
        elif (place := self.names.places.get(plain)) is not None:
            self.put(typed, "place", place, place=place)
        else:
            return False
        return True

    def take_near(self, rest: Sequence[str], count: int) -> int:
        """Take a phrase of `count` words with a typing slip in it."""
        typed = " ".join(rest[:count])
        plain = _plain(typed)
        if len(rest) < count or len(plain) < SHORTEST_SLIP * count or any(ch.isdigit() for ch in plain):
            return 0
        known = (*self.words, *self.names.parties, *self.names.sites, *self.names.places)
        near = nearest(plain, [name for name in known if name.count(" ") == count - 1])
        if near is None:
            return 0
        if word := self.words.get(near):
            self.take_word(word, typed)
        else:
            self.take_owner_or_place(near, typed)
        return count

    def take_text(self, typed: str) -> None:
        self.linked = False
        if any(sign.isalnum() for sign in typed):
            self.put(typed, "text", typed, tokens=(*self.wanted.tokens, typed))
        else:
            self.put(typed, "passed over", "nothing to look for")

    # -- what a phrase does -------------------------------------------------------------------------------

    def take_word(self, word: Word, typed: str) -> None:
        if word.field in ("filler", "ask"):
            return
        if word.field == "measure":
            self.put(typed, "passed over", f"{typed}: no size stands before it")
            return
        if word.field == "lent":
            self.lent_to = True
            self.put(typed, "where", "out", where="out")
        elif word.field == "link":
            self.linked = True
        elif word.field == "owner":
            self.take_own(word.value, typed)
        elif word.field == "kind" and self.wanted.kind not in (None, word.value):
            self.put(typed, "passed over", f"{word.value}: already looking for a {self.wanted.kind}")
        elif word.field == "kind":
            tokens = (*self.wanted.tokens, *word.text.split())
            self.put(typed, "kind", word.value, kind=word.value, tokens=tokens)
        elif word.field == "hand":
            self.put(typed, "hand", word.value, hand=word.value)
        elif word.field == "condition":
            self.put(typed, "condition", word.value, condition=word.value)
        else:
            self.put(typed, "where", word.value, where=word.value)

    def take_own(self, whose: str, typed: str) -> None:
        if whose == "company":
            self.put(typed, "owner", "the company", owner_ids=self.names.companies)
        elif self.names.me is None:
            self.put(typed, "passed over", "me: who you are is not set (crib setting me NAME)")
        else:
            self.put(typed, "owner", "me", owner_ids=(self.names.me,))

    def take_field(self, name: str, value: str) -> None:
        """Take one field=value."""
        value = value.strip('"')
        typed = f"{name}={value}"
        plain = _plain(value)
        match name.lower():
            case "kind":
                self.put(typed, "kind", self.one_of("kind", plain, ITEM_KINDS), kind=plain)
            case "condition":
                self.put(typed, "condition", self.one_of("condition", plain, CONDITIONS), condition=plain)
            case "hand":
                hand = hand_of(plain)
                self.put(typed, "hand", hand, hand=hand)
            case "owner":
                self.take_owner_field(plain, value, typed)
            case "at":
                self.take_at(plain, value, typed)
            case "fits":
                self.put(typed, "fits", value, fits=value)
            case "code":
                self.put(typed, "code", value, code=value)
            case "tag":
                self.put(typed, "tag", value, tag=value)
            case _:
                raise InputError(f"there is no field {name!r} to look by", "fields: " + ", ".join(FIELDS))

    def one_of(self, name: str, value: str, allowed: Sequence[str]) -> str:
        if value not in allowed:
            raise InputError(f"{value!r} is not a {name}", f"a {name} is one of: " + ", ".join(allowed))
        return value

    def take_owner_field(self, plain: str, value: str, typed: str) -> None:
        if plain in ("me", "mine"):
            self.take_own("me", typed)
        elif plain == "company":
            self.take_own("company", typed)
        elif (party := self.names.parties.get(plain)) is not None:
            self.put(typed, "owner", value, owner_ids=(party,))
        else:
            raise UnknownName("person", value, close_matches(plain, self.names.parties, n=3))

    def take_at(self, plain: str, value: str, typed: str) -> None:
        word = self.words.get(plain)
        if word and word.field == "where":
            self.put(typed, "where", word.value, where=word.value)
        elif not self.take_owner_or_place(plain, typed) or self.wanted.said[-1].field == "owner":
            raise UnknownName(
                "place", value, close_matches(plain, [*self.names.sites, *self.names.places], n=3)
            )

    # -- codes, once the whole question is known ----------------------------------------------------------

    def settle_codes(self) -> None:
        """Decide for each code whether the tool is it, or must go with it."""
        for kind, typed, linked in self.codes:
            wants_partner = self.wanted.kind not in (None, kind) or (linked and self.wanted.kind != kind)
            if wants_partner and self.wanted.fits is None:
                self.put(typed, "fits", typed, fits=typed)
            elif self.wanted.code is None:
                self.put(typed, "code", typed, code=typed)
            else:
                self.put(typed, "passed over", "one code at a time")

    def put(self, typed: str, name: str, value: str, **narrow: Any) -> None:
        """Note what was said and narrow the search by it."""
        said = (*self.wanted.said, Said(field=name, value=value, from_=typed))
        self.wanted = self.wanted._replace(said=said, **narrow)


def nearest(plain: str, names: Iterable[str]) -> str | None:
    """Give the name that differs from the text by a typing slip only; the first letter is seldom the slip."""
    alike = [
        name
        for name in names
        if len(name) >= SHORTEST_SLIP and name[0] == plain[0] and _shared(name, plain) >= CLOSE
    ]
    for name in alike:
        if sorted(name) == sorted(plain):  # letters swapped
            return name
    return next(iter(close_matches(plain, alike, n=1, cutoff=CLOSE)), None) if alike else None


def _shared(one: str, other: str) -> float:
    """Give the share of letters that two texts have in common: no closeness is above it, and it is quick."""
    return 2.0 * sum(min(one.count(ch), other.count(ch)) for ch in set(one)) / (len(one) + len(other))


def is_tag(text: str) -> bool:
    """Whether a text is written as the shop's own number of a tool."""
    return re.fullmatch(TAG, text) is not None


def close_matches(plain: str, names: Iterable[str], *, n: int = 3, cutoff: float = 0.6) -> list[str]:
    """Give names like a text, the nearest first."""
    from difflib import get_close_matches  # 1 ms, and most questions are typed right

    return get_close_matches(plain, list(names), n=n, cutoff=cutoff)


def _plain(text: str) -> str:
    return text.lower().replace("’", "'").strip()

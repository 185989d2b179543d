"""A code as far as it can be read: known characters, unreadable ones, and gaps of unknown length."""

from dataclasses import dataclass
from functools import cached_property

from crib.errors import BadDesignation
from crib.trade.designation.normalise import LONGEST, LOOK_ALIKE, SEPARATORS, plain

ONE = "?"  # one unreadable character
SOME = "*"  # any number of them, also none
MARKS = str.maketrans({"_": ONE, "\ufffd": ONE, "\u25a1": ONE})
ALIKE = {"0": "0O", "O": "O0", "1": "1I", "I": "I1"}
LEAST_KNOWN = 3


@dataclass(frozen=True)
class Pattern:
    """What can be read of a code.

    Attributes:
        signs: A-Z, 0-9, the point, ONE and SOME; no separators.
        breaks: where separators stood: index in `signs` to "-" or " ".
    """

    signs: str
    breaks: dict[int, str]

    @cached_property
    def known(self) -> int:
        """How many characters can be read."""
        return sum(sign not in (ONE, SOME) for sign in self.signs)

    @cached_property
    def first_gap(self) -> int:
        """Where the first gap of unknown length is; the end where there is none."""
        at = self.signs.find(SOME)
        return len(self.signs) if at < 0 else at

    def unknown(self, at: int) -> bool:
        """Tell whether an unreadable character stands at `at`."""
        return self.signs[at : at + 1] in (ONE, SOME)

    def trails(self, at: int) -> bool:
        """Tell whether nothing follows but gaps of unknown length."""
        return self.signs[at : at + 1] == SOME and not self.signs[at:].strip(SOME)

    def gaps(self, at: int, long: int) -> bool:
        """Tell whether some of these places can't be read."""
        return any(sign in (ONE, SOME) for sign in self.signs[at : at + long])

    def blank(self, at: int, long: int) -> bool:
        """Tell whether nothing can be read at `at` and the places after it."""
        return not self.signs[at : at + long].strip(ONE + SOME)

    def dashed(self, at: int) -> bool:
        """Tell whether a dash stands before `at`."""
        return self.breaks.get(at) == "-"

    def broken(self, at: int) -> bool:
        """Tell whether a separator stands before `at`."""
        return at in self.breaks

    def choices(self, at: int, signs: str) -> str:
        """Give which of some characters may stand at `at`; a gap of unknown length gives none."""
        sign = self.signs[at : at + 1]
        if sign == ONE:
            return signs
        return "".join(s for s in signs if s in ALIKE.get(sign, sign)) if sign else ""

    def digits(self, at: int, long: int) -> str:
        """Give the digits that can be read in full at `at`; empty otherwise."""
        found = [self.choices(at + n, "0123456789") for n in range(long)]
        code = "".join(found)
        return code if all(len(one) == 1 for one in found) and code.strip("0") else ""

    def after(self, at: int, code: str) -> tuple[int, ...]:
        """Give the places at which the pattern may go on when `code` stands at `at`; none if it can't."""
        if code == "-" and self.dashed(at):
            return (at,)
        end = at + len(code)
        if end <= self.first_gap:
            signs = self.signs
            for index, sign in enumerate(code, at):
                seen = signs[index]
                if seen not in (sign, ONE) and sign not in ALIKE.get(seen, ""):
                    return ()
            return (end,)
        return self._over_gaps(at, code)

    def _over_gaps(self, at: int, code: str) -> tuple[int, ...]:
        """As `after`, where gaps of unknown length may swallow characters."""
        places = self._past({at})
        for sign in code:
            reached = set()
            for place in places:
                seen = self.signs[place : place + 1]
                if seen == SOME:
                    reached.add(place)
                elif seen and (seen in (sign, ONE) or sign in ALIKE.get(seen, "")):
                    reached.add(place + 1)
            places = self._past(reached)
        return tuple(sorted(places))

    def _past(self, places: set[int]) -> set[int]:
        """Add the places behind gaps, which may be empty."""
        found = set(places)
        for place in places:
            while self.signs[place : place + 1] == SOME:
                place += 1
                found.add(place)
        return found

    def maker(self, at: int, told: bool, guess: bool) -> str | None:
        """Give the maker's own symbol that begins at `at`: "" for the end, None where none may begin.

        Args:
            at: index.
            told: an edge condition or a hand stands before: digits behind it may be the maker's.
            guess: let it begin without a dash: at a blank, at an unreadable dash, or where `told`.
        """
        rest = self.signs[at:]
        if not rest.strip(SOME):
            return ""
        if self.dashed(at):
            return self._shown(at)
        if guess and (self.broken(at) or (told and rest[0].isdigit())):
            return self._shown(at)
        if guess and (rest[0] == SOME or (rest[0] == ONE and len(rest) > 1)):
            return self._shown(at + 1)
        return None

    def _shown(self, at: int) -> str:
        """Give the signs from `at` with their separators."""
        parts = [self.breaks.get(n, "") * (n > at) + self.signs[n] for n in range(at, len(self.signs))]
        return "".join(parts)

    def fits(self, code: str) -> bool:
        """Tell whether a whole code, as recorded, can be what the pattern shows.

        Args:
            code: in its normal form; its dashes may be missing in the pattern or be unreadable there.
        """
        places = self._past({0})
        for sign in code.upper():
            reached = set(places) if sign in "- " else set()
            for place in places:
                seen = self.signs[place : place + 1]
                if seen == SOME:
                    reached.add(place)
                elif seen and (seen in (sign, ONE) or sign in ALIKE.get(seen, "")):
                    reached.add(place + 1)
            places = self._past(reached)
        return len(self.signs) in places


def pattern_of(text: str, *, points: bool, least: int = LEAST_KNOWN) -> Pattern:
    """Take a worn code apart.

    Args:
        text: as typed; `?`, `_` (and `.` unless it can be a decimal point) for one unreadable character,
            `*` for any number.
        points: take a point between digits for a decimal point.
        least: how many characters must be readable.

    Raises:
        BadDesignation: a character that no code holds, too long, or too little that can be read.
    """
    if len(text) > LONGEST:
        raise BadDesignation(
            f"{len(text)} characters are too many for a designation",
            position=0, found=plain(text[:12]) + "…", expected=[f"at most {LONGEST} characters"],
            hint="type one code at a time",
        )  # fmt: skip
    signs = ""
    breaks: dict[int, str] = {}
    folded = _folded(text)
    for index, sign in enumerate(folded):
        if sign in " -":
            if signs and (sign == "-" or len(signs) not in breaks):
                breaks[len(signs)] = sign
        elif sign == ".":
            between = folded[index - 1 : index].isdigit() and folded[index + 1 : index + 2].isdigit()
            signs += "." if points and between else ONE
        elif sign in (ONE, SOME) or (sign.isascii() and sign.isalnum()):
            signs += sign
        else:
            raise BadDesignation(
                f"{plain(sign)!r} does not occur in a designation",
                position=0, found=plain(sign), expected=("A-Z", "0-9", ".", "?", "*"),
                hint="type ? for a character that can't be read",
            )  # fmt: skip
    breaks.pop(len(signs), None)
    pattern = Pattern(signs, breaks)
    return pattern if pattern.known >= least else _too_little(pattern, text)


def _folded(text: str) -> str:
    """Fold case, full-width and look-alike characters; separators become blanks and dashes."""
    import unicodedata

    upper = unicodedata.normalize("NFKC", text.replace("…", SOME).upper()).upper().translate(LOOK_ALIKE)
    marked = upper.translate(MARKS)
    return "".join(sign if sign == SOME else sign.translate(SEPARATORS) for sign in marked)


def _too_little(pattern: Pattern, text: str) -> Pattern:
    """Refuse a pattern that says too little."""
    seen = {0: "nothing", 1: "one character", 2: "two characters"}[pattern.known]
    raise BadDesignation(
        f"{plain(text.strip())!r}: {seen} can be read: too little to go by",
        position=0, found=plain(text.strip()), expected=[f"{LEAST_KNOWN} readable characters"],
        hint="clean the stamp and try oblique light or a rubbing; or measure it: "
        "crib identify --shape … --ic … --thickness … --nose …",
    )  # fmt: skip

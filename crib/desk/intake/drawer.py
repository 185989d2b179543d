"""A drawer of tools taken in line by line: each kept at once, what can't be read said and asked again."""

import re
from dataclasses import dataclass

from crib.desk.doings.doing import Done
from crib.desk.doings.undo import undo
from crib.desk.intake.scanned import scanned
from crib.desk.intake.take_in import Added, Understood, keep, read_line, understand, whose_and_where
from crib.errors import NotPossible, UnknownName

_ALONE = re.compile(r"(owner|at|place)=([^=\"]* [^=\"]*)$", re.IGNORECASE)  # a name with blanks, unquoted
LASTING = ("owner", "place")  # said alone on a line, they hold for the lines that follow
AGAIN = ("again", "+")
TAKE_BACK = ("undo", "-")


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """What became of one line: kept, taken back, or what holds from now on."""

    says: str
    added: Added | None = None
    taken_back: Done | None = None


class Drawer:
    """Takes lines for one place.

    Args:
        address: the store.
        at: the place; the site we are at if not told.
        owner: whose the tools are where a line doesn't say; the setting `me` if not told.
        system: "metric" or "inch": what bare numbers mean; else the setting.
    """

    def __init__(self, address: str, *, at: str = "", owner: str = "", system: str = "") -> None:
        self.address = address
        self.at, self.owner, self.system = at, owner, system
        self.kept: list[Added] = []
        self.last = ""

    def understand(self, text: str) -> Understood:
        """Say what a line would be kept as; nothing is written."""
        text = self.last if scanned(text).lower() in AGAIN and self.last else text
        return understand(self.address, text, owner=self.owner, at=self.at, system=self.system)

    def take(self, text: str) -> Line:
        """Do what a line says.

        Raises:
            CribError: it can't be done; the lines before it are kept all the same.
        """
        word = scanned(text).lower()
        if word in TAKE_BACK:
            return self.take_back()
        if word in AGAIN and not self.last:
            raise NotPossible("there is no line to repeat", "type a code first")
        if word not in AGAIN and (held := self._holds(text)):
            return held
        line = self.understand(text)
        added = keep(self.address, line)
        self.kept.append(added)
        self.last = line.text
        return Line(says=f"{added.tag}: {added.says}", added=added)

    def take_back(self) -> Line:
        """Take the last line back by correcting lines.

        Raises:
            NotPossible: there is none, or others stand on it.
        """
        if not self.kept:
            raise NotPossible("there is no line to take back", "nothing was taken in here yet")
        done = undo(self.address, self.kept[-1].done.act)
        self.kept.pop()
        return Line(says=done.verdict, taken_back=done)

    def _holds(self, text: str) -> Line | None:
        """Let an owner or place that stands alone hold for the lines that follow."""
        if "=" not in text:
            return None
        if alone := _ALONE.match(scanned(text)):
            said = {"owner" if alone[1].lower() == "owner" else "at": alone[2]}
            try:
                return self.hold(**said)
            except UnknownName:
                pass  # then the first word is the name, and a code follows
        values = read_line(text, self.system or "metric")
        if not values or set(values) - set(LASTING):
            return None
        return self.hold(owner=values.get("owner", ""), at=values.get("place", ""))

    def hold(self, *, owner: str = "", at: str = "") -> Line:
        """Let an owner or a place hold for the lines that follow.

        Raises:
            CribError: nobody, or no place, is called so.
        """
        whose, where = whose_and_where(self.address, owner or self.owner, at or self.at)
        self.owner, self.at = whose.name, where.path
        return Line(says=f"From here on: {self.owner}'s, at {self.at}.")

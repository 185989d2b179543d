"""The desk as the screens see it: one method a question, bound to one store.

The desk's modules are imported by the first call, in a worker thread: the first paint waits for none of them.
Tests hand the app an object of their own with the same methods.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from crib.desk.asking.ask import Found
    from crib.desk.asking.story import ItemStory
    from crib.desk.doings.doing import Done
    from crib.desk.picking.pick import Choices, PickAnswer, PickRequest
    from crib.desk.ringing.logbook import Logged, LogRequest
    from crib.desk.starting.machines import Machines, Saved
    from crib.desk.why.chain import Chain
    from crib.trade.designation.reading import Reading

MOST_FITTING = 500  # as many tools as go with one code are looked at


class Desk(Protocol):
    """What the screens ask; every method may raise CribError."""

    def find(self, question: str, *, limit: int, offset: int) -> "Found":
        """Look tools up by shop talk."""

    def show(self, tag: str) -> "ItemStory":
        """Tell everything on record about one tool."""

    def decode(self, text: str) -> "Reading":
        """Read a code."""

    def fitting(self, text: str) -> "Found":
        """Give the tools on hand that go with a code."""

    def bring_in(self, tags: Sequence[str]) -> "Done":
        """Record tools as brought in."""

    def pick(self, request: "PickRequest") -> "PickAnswer":
        """Rank the tools on hand for a cut."""

    def why(self, request: "PickRequest", place: int) -> "Chain":
        """Give the chain behind the candidate of that rank."""

    def log_cut(self, answer: "PickAnswer", place: int, request: "LogRequest") -> "Logged":
        """Record how the candidate of that rank cut."""

    def choices(self) -> "Choices":
        """Give the names that a cut may use, and the user's units."""

    def machines(self) -> "Machines":
        """Give all machines on record."""

    def save_machine(self, name: str, changes: Mapping[str, str], *, new: bool) -> "Saved":
        """Enter a machine, or change fields of one."""


class StoreDesk:
    """The desk's own functions, on one store.

    Args:
        address: a file, or postgresql://…
    """

    def __init__(self, address: str) -> None:
        self.address = address

    def find(self, question: str, *, limit: int, offset: int) -> "Found":
        """Look tools up by shop talk."""
        from crib.desk.asking import ask

        return ask.find(self.address, question, limit=limit, offset=offset)

    def show(self, tag: str) -> "ItemStory":
        """Tell everything on record about one tool."""
        from crib.desk.asking import story

        return story.story(self.address, tag)

    def decode(self, text: str) -> "Reading":
        """Read a code."""
        from crib.desk.asking import codes

        return codes.decode(text)

    def fitting(self, text: str) -> "Found":
        """Give the tools on hand that go with a code."""
        from crib.desk.asking import ask

        return ask.find(self.address, "", fits=text, limit=MOST_FITTING)

    def bring_in(self, tags: Sequence[str]) -> "Done":
        """Record tools as brought in."""
        from crib.desk.doings import bring_in

        return bring_in.bring_in(self.address, tags)

    def pick(self, request: "PickRequest") -> "PickAnswer":
        """Rank the tools on hand for a cut."""
        from crib.desk.picking import pick

        return pick.pick(self.address, request)

    def why(self, request: "PickRequest", place: int) -> "Chain":
        """Give the chain behind the candidate of that rank."""
        from crib.desk.picking import pick
        from crib.desk.why import chain

        return chain.explain(pick.rank(self.address, request), place)

    def log_cut(self, answer: "PickAnswer", place: int, request: "LogRequest") -> "Logged":
        """Record how the candidate of that rank cut."""
        from crib.desk.ringing import logbook, offered

        of = offered.offered(answer.job, answer.candidates[place - 1])
        return logbook.log_cut(self.address, request, of)

    def choices(self) -> "Choices":
        """Give the names that a cut may use, and the user's units."""
        from crib.desk.picking import pick

        return pick.choices(self.address)

    def machines(self) -> "Machines":
        """Give all machines on record."""
        from crib.desk.starting import machines

        return machines.machines(self.address)

    def save_machine(self, name: str, changes: Mapping[str, str], *, new: bool) -> "Saved":
        """Enter a machine, or change fields of one."""
        from crib.desk.starting import machines

        return machines.save_machine(self.address, name, changes, new=new)

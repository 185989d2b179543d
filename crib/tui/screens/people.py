"""People and places: who and what is on record, somebody new, a new place, who has left."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.screens.listed import ListedScreen, said
from crib.tui.widgets.plain_form import Entry
from crib.tui.widgets.row_list import Heading
from crib.tui.wording import PATH_JOINT, Column
from crib.units.counts import many

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.people import Person
    from crib.desk.places import Place

BY_NAME = "by its name"


class OnRecord(NamedTuple):
    """Who and what is on record."""

    people: "tuple[Person, ...]"
    places: "tuple[Place, ...]"


class PeopleScreen(ListedScreen):
    """Everybody, then every place."""

    AREA = "people"
    BINDINGS = bindings("people")
    COLUMNS = (
        Column(title="Who, and where", least=24, most=70, share=3),
        Column(title="Kind", least=8, most=8),
        Column(title="Mark", least=6, most=10),
        Column(title="Has of others", least=14, most=40, rank=1, share=2),
    )
    EMPTY = "Nobody and nothing yet: n adds a person or company, p a place."
    NEXT = "n adds a person or company, p a place; g: the marked one left, or is back."

    def read(self) -> OnRecord:
        """Ask who and what is on record."""
        from crib.desk.people import people
        from crib.desk.places import places

        return OnRecord(people(self.crib.address), places(self.crib.address))

    def rows(self, found: OnRecord) -> Sequence[object]:
        """Give people, then places."""
        groups = (("People and companies", found.people), ("Places", found.places))
        return [row for name, some in groups if some for row in (Heading(name), *some)]

    def cells(self, row: Any) -> Sequence[object]:
        """Give the cells of a person or a place."""
        if hasattr(row, "path"):
            return (row.path, row.kind, "", "")
        left = f" (left {row.gone_on})" if row.gone_on else ""
        return (row.name + left, row.kind, row.mark or "", ", ".join(row.has))

    def words(self, row: Any) -> Sequence[str]:
        """Say a person or a place in words."""
        if hasattr(row, "path"):
            return [f"{row.path}: {row.kind}."]
        mark = f", marks tools {row.mark}" if row.mark else ""
        told = [f"{row.name}, {row.kind}{mark}" + (f"; left on {row.gone_on}" if row.gone_on else "") + "."]
        if row.note:
            told.append(row.note)
        if row.has:
            told.append(f"Has of others: {', '.join(row.has)}.")
        return told

    def answer(self, found: OnRecord) -> tuple[str, str, str]:
        """Say how many there are."""
        return (
            f"{len(found.people)} people and companies, {many(len(found.places), 'place')} on record.",
            "Machines are entered with F7; whole lists are taken in by Take a list in.",
            self.NEXT,
        )

    def can(self, name: str) -> bool:
        """Offer to let go only people."""
        if name == "gone":
            return getattr(self.marked, "kind", "") == "person"
        return super().can(name)

    def action_new(self) -> None:
        """Put somebody on record."""
        self.fill_in(PersonScreen(then=self.wrote))

    def action_place(self) -> None:
        """Put a place on record; one within the marked place is offered."""
        marked = self.marked
        inside = marked.path + PATH_JOINT if hasattr(marked, "path") else ""
        self.fill_in(NewPlaceScreen({"path": inside} if inside else None, then=self.wrote))

    def action_gone(self) -> None:
        """Record that the marked person left, or is here again."""
        address, name = self.crib.address, self.marked.name
        if not self.marked.gone_on:
            self.fill_in(GoneScreen({"name": name}, then=self.wrote))
            return

        def write() -> "Done":
            from crib.desk.people import came_back

            return said(f"Back: {came_back(address, name).name}.")

        self.call("write", write, self.wrote)


class PersonScreen(DoingScreen):
    """The form of a person or company."""

    AREA = "person"
    BINDINGS = bindings("person")
    ASKS = "Who is new?"
    FIELDS = (
        Entry(name="name", label="Name", hint="In full, as the others call them."),
        Entry(
            name="kind",
            label="Kind",
            hint="← → choose. A company owns tools, or takes them for regrind.",
            words=("person", "company"),
        ),
        Entry(name="mark", label="Mark", hint="What is engraved on their tools; may stay empty."),
        Entry(name="note", label="Note", hint="Anything; may stay empty."),
    )
    NEEDED = ("name",)

    def write(self, values: Mapping[str, str]) -> "Done":
        """Put them on record."""
        from crib.desk.people import add

        company = values["kind"] == "company"
        one = add(
            self.crib.address, values["name"], mark=values["mark"], company=company, note=values["note"]
        )
        return said(f"On record: {one.name}, {one.kind}.")


class NewPlaceScreen(DoingScreen):
    """The form of a place."""

    AREA = "new_place"
    BINDINGS = bindings("new_place")
    ASKS = "Which place is new?"
    FIELDS = (
        Entry(
            name="path",
            label="Place",
            hint="From its site down: works / tool room / drawer 1. Steps that are new are made too.",
        ),
        Entry(
            name="kind",
            label="Kind",
            hint="← → choose. By its name: a drawer is called drawer, a cabinet cabinet.",
            words=(BY_NAME, "area", "cabinet", "drawer"),
        ),
    )
    NEEDED = ("path",)

    def first_entry(self) -> str:
        """Begin with the path, at its end: the place it is in may stand there already."""
        return "path"

    def write(self, values: Mapping[str, str]) -> "Done":
        """Put it on record."""
        from crib.desk.places import add

        kind = "" if values["kind"] == BY_NAME else values["kind"]
        one = add(self.crib.address, values["path"], kind)
        return said(f"On record: {one.path}, {one.kind}.")


class GoneScreen(DoingScreen):
    """The form of somebody's leaving."""

    AREA = "gone"
    BINDINGS = bindings("gone")
    ASKS = "Who left the shop, and when?"
    FIELDS = (
        Entry(name="name", label="Who", hint="A name or a mark on record."),
        Entry(name="day", label="Day", hint="Yesterday, 29 May, 2026-05-29; empty: today."),
    )
    NEEDED = ("name",)

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record it."""
        from crib.desk.people import left

        one = left(self.crib.address, values["name"], values["day"])
        owes = f"Still has: {', '.join(one.has)}." if one.has else "Has nothing of others."
        return said(f"Left on {one.gone_on}: {one.name}.", owes)

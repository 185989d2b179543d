"""Kits: what jobs need; one kit matched to what there is, with what else would do."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.screens.listed import ListedScreen, said
from crib.tui.widgets.plain_form import Entry
from crib.tui.wording import Column
from crib.units.counts import many

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.restocking.kit_match import Got, Match
    from crib.report.listing import Listing


class KitsScreen(ListedScreen):
    """All kits."""

    AREA = "kits"
    BINDINGS = bindings("kits")
    COLUMNS = (
        Column(title="Kit", least=16, most=40, share=2),
        Column(title="Needs", least=6, most=6),
        Column(title="For", least=20, most=60, rank=1, share=2),
    )
    EMPTY = "No kits yet: n begins one with its first need."
    NEXT = "Enter matches the marked kit to what there is; n adds a need."

    def read(self) -> Any:
        """Ask for the kits."""
        from crib.desk.restocking.kits import kits

        return kits(self.crib.address)

    def rows(self, found: Any) -> Sequence[object]:
        """Give the kits."""
        rows: Sequence[object] = found
        return rows

    def cells(self, row: Any) -> Sequence[object]:
        """Give the cells of a kit."""
        return (row.name, len(row.lines), row.note)

    def words(self, row: Any) -> Sequence[str]:
        """Give the first needs of a kit."""
        needs = [f"{line.quantity} x {line.need}" for line in row.lines]
        return [row.name + (f": {row.note}" if row.note else ""), "; ".join(needs) or "No needs yet."]

    def answer(self, found: Any) -> tuple[str, str, str]:
        """Say how many kits there are."""
        return f"{many(len(found), 'kit')}.", "A list of needs a job, in shop talk.", self.NEXT

    def action_open(self) -> None:
        """Match the marked kit."""
        self.app.push_screen(KitScreen(self.marked.name))

    def action_new(self) -> None:
        """Add a need."""
        name = self.marked.name if self.marked else ""
        self.app.push_screen(NeedScreen({"kit": name} if name else None, then=self.wrote))


class KitScreen(ListedScreen):
    """One kit matched to what there is.

    Args:
        name: of the kit.
    """

    AREA = "kit"
    BINDINGS = bindings("kit")
    COLUMNS = (
        Column(title="No.", least=3, most=4),
        Column(title="Need", least=20, most=50, share=3),
        Column(title="How", least=8, most=10),
        Column(title="Tags", least=10, most=30, share=2),
        Column(title="Where", least=14, most=50, rank=1, share=3),
    )
    EMPTY = "No needs yet: n adds one."
    NEXT = "c takes another tool for the marked need; n adds a need; w writes the list."
    FILE = "kit"

    def __init__(self, name: str = "") -> None:
        super().__init__()
        self.kit = name

    def read(self) -> Any:
        """Ask what answers the needs."""
        from crib.desk.restocking.kit_match import match

        return match(self.crib.address, self.kit)

    def rows(self, found: Any) -> Sequence[object]:
        """Give the needs."""
        rows: Sequence[object] = found.lines
        return rows

    def cells(self, row: "Match") -> Sequence[object]:
        """Give the cells of a need."""
        how = f"! {row.short} short" if row.short else row.state
        need = row.need if row.quantity == 1 else f"{row.quantity} x {row.need}"
        return (row.line_no, need, how, ", ".join(one.tag for one in row.got), _where(row))

    def words(self, row: "Match") -> Sequence[str]:
        """Say what is taken, from whom, and what else would do at what cost."""
        told = [f"{row.quantity} x {row.need}"]
        told += [f"{one.count} x {_tool(one)}, {_how(one)}; {one.place}" for one in row.got]
        if row.short:
            told.append(f"MISSING {row.short} of {row.quantity}" + (f": {row.why}" if row.why else ""))
        for offer in row.substitutes:
            told.append(f"Instead? {_tool(offer.tool)}, {_how(offer.tool)}: {'; '.join(offer.costs)}")
        return told

    def listing(self) -> "Listing":
        """Give the kit for paper."""
        from crib.report.kit import kit_list

        return kit_list(self.read())

    def action_new(self) -> None:
        """Add a need to this kit."""
        self.app.push_screen(NeedScreen({"kit": self.kit}, then=self.wrote))

    def action_choose(self) -> None:
        """Choose the tool for the marked need; the first substitute is offered."""
        row = self.marked
        offer = row.substitutes[0].tool.tag if row.substitutes else ""
        given = {"kit": self.kit, "line": str(row.line_no), "tag": offer}
        self.app.push_screen(ChooseScreen(given, then=self.wrote))

    def action_drop(self) -> None:
        """Take the marked need off the kit."""
        address, name, number = self.crib.address, self.kit, self.marked.line_no

        def write() -> "Done":
            from crib.desk.restocking.kits import drop_need

            drop_need(address, name, number)
            return said(f"Off the list: need {number} of {name}.")

        self.call("write", write, self.wrote)

    def can(self, name: str) -> bool:
        """Offer to drop only a need that is there."""
        return self.marked is not None if name == "drop" else super().can(name)


def _where(row: "Match") -> str:
    return "; ".join(dict.fromkeys(_how(one) if one.how != "have" else one.place for one in row.got))


def _how(one: "Got") -> str:
    words = {"have": "have", "borrow": f"borrow from {one.from_}", "at home": f"at {one.site}"}
    return words.get(one.how, f"ask {one.from_} for it")


def _tool(one: "Got") -> str:
    return f"{one.tag} {one.designation or one.label}"


class NeedScreen(DoingScreen):
    """The form of a need; a kit that is not there yet is begun with it."""

    AREA = "need"
    BINDINGS = bindings("need")
    ASKS = "Which kit needs what?"
    FIELDS = (
        Entry(name="kit", label="Kit", hint="Its name; a new name begins a kit."),
        Entry(name="need", label="Need", hint="As you would ask for it: left hand holder for WNMG080404."),
        Entry(name="count", label="How many", hint="Empty: one."),
        Entry(name="tag", label="Tool", hint="Its tag, if it is chosen already; may stay empty."),
    )
    NEEDED = ("kit", "need")

    def write(self, values: Mapping[str, str]) -> "Done":
        """Add the need."""
        from crib.desk.restocking.kits import add_need, kits, new_kit
        from crib.desk.typed import count_of

        address, name = self.crib.address, " ".join(values["kit"].split())
        count = count_of(values["count"], "pieces")
        if not any(one.name.lower() == name.lower() for one in kits(address)):
            new_kit(address, name)
        quantity = 1 if count is None else count
        now = add_need(address, name, values["need"], quantity=quantity, tag=values["tag"])
        return said(f"Added to {now.name}: {values['need']}.", f"{len(now.lines)} needs in it.")


class ChooseScreen(DoingScreen):
    """The form of a choice."""

    AREA = "choose"
    BINDINGS = bindings("choose")
    ASKS = "Which tool for this need?"
    FIELDS = (
        Entry(name="kit", label="Kit", hint="Its name."),
        Entry(name="line", label="Need no.", hint="As it stands before the need."),
        Entry(name="tag", label="Tool", hint="Its tag; empty leaves the choice open."),
    )
    NEEDED = ("kit", "line")

    def write(self, values: Mapping[str, str]) -> "Done":
        """Keep the choice."""
        from crib.desk.restocking.kits import choose
        from crib.desk.typed import count_of

        number = count_of(values["line"], "needs") or 0
        choose(self.crib.address, values["kit"], number, values["tag"])
        what = (
            f"{values['tag']} for need {number}" if values["tag"].strip() else f"need {number} is open again"
        )
        return said(f"Chosen: {what}.")

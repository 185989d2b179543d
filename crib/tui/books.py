"""The crib's books, in one list: it drives the Books screen. A book of one's own is one line here."""

from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from crib.tui.screens.book import BookScreen


@dataclass(frozen=True, slots=True)
class Book:
    """One book or doing.

    Attributes:
        name: one or two words.
        purpose: what it is for, in one short line.
        screen: "module:Class" below crib.tui.screens; imported when it is opened.
        command: what the command line calls it, where a question may lead to it.
    """

    name: str
    purpose: str
    screen: str
    command: str = ""

    def open(self) -> "BookScreen":
        """Give a new screen of it."""
        module, name = self.screen.split(":")
        found: BookScreen = getattr(import_module(f"crib.tui.screens.{module}"), name)()
        return found


BOOKS = (
    Book("Out and lent", "Who has what, since when; what is overdue.", "out:OutScreen", "out"),
    Book("Lend", "Tools to a person, with the day promised back.", "lend:LendScreen"),
    Book("Is back", "What was lent or sent out, and its state.", "give_back:GiveBackScreen"),
    Book("Bring in", "Own tools from home: mark, state, who was told.", "bring:BringScreen"),
    Book(
        "Take home", "What of mine is still in the building, to tick.", "home:HomeScreen", "out --still-here"
    ),
    Book("Stocktake", "A place counted against the books.", "stocktake:StocktakeScreen", "stocktake"),
    Book("Use edges", "Of a box of inserts, for a job.", "use:UseScreen"),
    Book("Move", "Tools, or part of a batch, to another place.", "move:MoveScreen"),
    Book("Send out", "For regrind, repair or calibration.", "send:SendScreen"),
    Book("Worn or scrap", "Another state; writing off, with the reason.", "state:StateScreen"),
    Book("Restock", "What is running out, what to buy, edges left.", "restock:RestockScreen", "restock"),
    Book("Kits", "What a job needs, matched to what there is.", "kits:KitsScreen", "kit"),
    Book(
        "Missing parts",
        "Tools that lack a shim, screw or rod; who has one.",
        "missing_parts:MissingScreen",
        "missing",
    ),
    Book("Proven speeds", "The shop's own speeds beside the book's.", "proven:ProvenScreen"),
    Book(
        "Lists", "For insurance, and for settling up on leaving.", "lists:InsuranceScreen", "list insurance"
    ),
    Book("Sign-in sheet", "Own tools brought in or taken home, printed to sign.", "sheet:SheetScreen"),
    Book("Claims", "What am I owed for my own tools; deadlines, gaps.", "claims:ClaimsScreen", "claim"),
    Book("Take stock in", "One code after another, typed or scanned.", "take_in:TakeInScreen"),
    Book("Take a list in", "Your own CSV or XLSX, with your own headings.", "intake:IntakeScreen"),
    Book("Labels", "With QR code, for tools and drawers, on your sheets.", "labels:LabelsScreen"),
    Book("People and places", "Who and what is on record; adding more.", "people:PeopleScreen"),
    Book("Backups", "A copy now, putting one back, the audit, open files.", "backups:BackupsScreen"),
    Book("Settings", "Who you are, where; units, speeds, money, rules.", "settings:SettingsScreen"),
    Book("Take back", "What was done lately, and undoing one of it.", "recent:RecentScreen", "undo"),
)


def book_of(command: str) -> Book | None:
    """Give the book that the command line calls so; None where the screens have none of its own."""
    commands = {book.command: book for book in BOOKS if book.command}
    return commands.get(command) or commands.get(command.partition(" ")[0])

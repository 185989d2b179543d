"""Settings: who you are, at which site, units, whose speeds win, what money is in, rules of claims."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from crib.errors import InputError
from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.screens.listed import said
from crib.tui.widgets.plain_form import Entry

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done


class SettingsScreen(DoingScreen):
    """All settings as they are; those that are typed over change, all of them or none."""

    AREA = "settings"
    BINDINGS = bindings("settings")
    ASKS = "What is to be different?"
    FIELDS = (
        Entry(name="me", label="You are", hint="A person on record; your own tools are theirs."),
        Entry(name="site", label="You are at", hint="A site on record; tools there count as here."),
        Entry(
            name="units",
            label="Units",
            hint="← → choose. What comes first; the other stands beside it.",
            words=("metric", "inch"),
        ),
        Entry(
            name="speeds",
            label="Speeds",
            hint="← → choose. Whose speeds win: the published ones, or the shop's own proven ones.",
            words=("book", "own"),
        ),
        Entry(name="currency", label="Money", hint="The code of the currency that worth is in: EUR, USD."),
        Entry(
            name="rules",
            label="Claim rules",
            hint="accountable plan, or house: hand in: 30 days from event; answer: 30 days from sent.",
        ),
    )

    def __init__(self) -> None:
        super().__init__()
        self.now: Mapping[str, str] = {}

    def on_mount(self) -> None:
        """Ask for the settings as they are."""
        self.call("read", self._read, self._fill)

    def _read(self) -> Mapping[str, str]:
        from crib.desk.keeping.settings import settings

        return settings(self.crib.address)

    def _fill(self, now: Mapping[str, str]) -> None:
        """Show the settings; what was typed before a crash stands over them."""
        self._show_again(now)
        if kept := self.draft.load():
            self.form.type_over(kept)
        self.say(self.ASKS, "This was typed before and not recorded." if kept else "")

    def _show_again(self, now: Mapping[str, str]) -> None:
        self.form.put(now)
        self.now = self.form.values()

    def write(self, values: Mapping[str, str]) -> "Done":
        """Change what was typed over."""
        from crib.desk.keeping.settings import put_all

        changes = {name: value.strip() for name, value in values.items() if value != self.now[name]}
        if not changes:
            return said("Nothing was typed over.", "All settings stay as they are.")
        for entry in self.FIELDS:
            if not changes.get(entry.name, "-"):
                raise InputError(f"{entry.label!r} can't be left empty", entry.hint)
        now = put_all(self.crib.address, changes)
        return said("Set: " + "; ".join(f"{key} {now[key]}" for key in changes) + ".")

    def recorded(self, done: "Done") -> None:
        """Say what was set, and show all settings as they are now."""
        super().recorded(done)
        self.call("again", self._read, self._show_again)

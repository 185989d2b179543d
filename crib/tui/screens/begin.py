"""Begin: the first form on a computer that has no store yet."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.screens.listed import said
from crib.tui.widgets.plain_form import Entry

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done

AT_WORK, AT_HOME = "at work", "at home"


class BeginScreen(DoingScreen):
    """Who you are, where your tools lie, who owns the others, where you are, millimetres or inches."""

    AREA = "begin"
    TITLE_HERE = "Find"
    BINDINGS = bindings("begin")
    ASKS = "There is no store yet. Who are you, and where do the tools lie?"
    FIELDS = (
        Entry(name="me", label="Your name", hint="As the others call you: Ada Quill."),
        Entry(name="mark", label="Your mark", hint="What is engraved on your tools; may stay empty."),
        Entry(
            name="company",
            label="Company",
            hint="Who owns the tools beside yours; may stay empty.",
        ),
        Entry(
            name="place",
            label="A place",
            hint="Where tools lie, from its site down: works / tool room / drawer 1. More of them later.",
        ),
        Entry(name="home", label="At home", hint="Where yours lie at home: home / chest; may stay empty."),
        Entry(
            name="at",
            label="You are",
            hint="← → choose. Tools at the site where you are count as here.",
            words=(AT_WORK, AT_HOME),
        ),
        Entry(
            name="units",
            label="Units",
            hint="What comes first; the other stands beside it. Enter begins the store.",
            words=("metric", "inch"),
        ),
    )
    NEEDED = ("me", "place")

    def on_screen_resume(self) -> None:
        """Leave, if a store was begun or put back elsewhere meanwhile."""
        address = self.crib.address

        def look() -> bool:
            from crib.desk.keeping.begin import is_begun

            return is_begun(address)

        self.call("look", look, self._leave_if)

    def _leave_if(self, begun: bool) -> None:
        if begun and self.is_settled:  # not while the answer to its own writing is on the way
            self.leave()

    def write(self, values: Mapping[str, str]) -> "Done":
        """Make the store."""
        from crib.desk.keeping.begin import begin

        told = {name: values[name] for name in ("me", "mark", "company", "place", "home", "units")}
        begun = begin(self.crib.address, at_home=values["at"] == AT_HOME, **told)
        return said(f"Begun: {begun.me}, at {begun.site}, {begun.units}.", f"The store is {begun.store}")

"""One claim: its lines, gaps, deadlines and steps, and taking it further."""

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, Any

from crib.tui.screens.base import bindings
from crib.tui.screens.book import BookScreen
from crib.tui.widgets.text_page import Line, TextPage
from crib.tui.wording import wrapped

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.owed.claims import Claim
    from crib.tui.screens.claim_forms import ClaimForm

# act of the screen -> form that asks for it, and the states of a claim in which it can be done
FORMS = {
    "add": ("AddLineScreen", ("draft",)),
    "amend": ("AmendScreen", ("draft",)),
    "correct": ("CorrectScreen", ("draft", "sent")),
    "send": ("SendScreen", ("draft",)),
    "answer": ("AnswerScreen", ("sent", "agreed", "part agreed", "refused", "part settled")),
    "pay": ("PayScreen", ("agreed", "part agreed", "part settled")),
    "replace": ("ReplaceScreen", ("agreed", "part agreed", "part settled")),
    "photos": ("PhotosScreen", ()),
    "close": ("CloseScreen", ("sent", "agreed", "part agreed", "part settled", "settled", "refused")),
}
# what comes next, by state
NEXT = {
    "draft": "a adds a tool, m names agreement and place, s sends it, p prints it.",
    "sent": "w writes down the answer: agreed, or refused and why.",
    "agreed": "y writes down what was paid; r a tool that came in place of money.",
    "part agreed": "w writes down a further answer; y what was paid.",
    "part settled": "y writes down what more was paid; x closes it.",
    "settled": "x closes it.",
    "refused": "x closes it; w writes down another answer.",
}


class ClaimScreen(BookScreen):
    """The page of one claim.

    Args:
        number: of the claim.
    """

    AREA = "claim"
    BINDINGS = bindings("claim")

    def __init__(self, number: str) -> None:
        super().__init__()
        self.number = number
        self.claim: Claim | None = None
        self._told = ""

    def body(self) -> Iterator[Any]:
        """Lay out the page."""
        yield TextPage(id="claim")

    def focus_body(self) -> None:
        """Give the keyboard to the page."""
        self.query_one("#claim").focus()

    def on_mount(self) -> None:
        """Put the keyboard into the page."""
        self.focus_body()

    def on_screen_resume(self) -> None:
        """Ask anew: a form, or a tool's page, may have changed it."""
        self._ask()

    def _ask(self) -> None:
        address, number = self.crib.address, self.number

        def ask() -> "Claim":
            from crib.desk.owed.claims import claim

            return claim(address, number)

        self.call("read", ask, self._show)

    def _show(self, found: "Claim") -> None:
        self.claim = found
        sums, gaps = found.sums, len(found.all_gaps)
        verdict = f"Claim {found.number} to {found.payer}: {found.state.upper()}, {sums.asked} asked."
        loud = f" {gaps} GAP{'S' * (gaps != 1)}." if gaps else ""
        why = f"Agreed {sums.agreed}, paid {sums.paid}, open {sums.open}.{loud}"
        self.say(self._told or verdict, why, NEXT.get(found.state, "Nothing more comes of it."))
        self._told = ""
        self.query_one("#claim", TextPage).show_lines(partial(claim_page, found))
        self.refresh_keys()

    def can(self, name: str) -> bool:
        """Offer only what the claim's state allows."""
        if name == "evidence":
            return self.claim is not None and bool(self.claim.lines)
        if name in FORMS:
            return self.claim is not None and self.claim.state in FORMS[name][1]
        return super().can(name)

    def action_form(self, name: str) -> None:
        """Open the form for one act."""
        from crib.tui.screens import claim_forms

        form: type[ClaimForm] = getattr(claim_forms, FORMS[name][0] if name in FORMS else "PrintScreen")
        assert self.claim is not None
        self.app.push_screen(form(self.claim, then=self.wrote))

    def action_add(self) -> None:
        """Add a line."""
        self.action_form("add")

    def action_amend(self) -> None:
        """Name agreement, place of work and rules."""
        self.action_form("amend")

    def action_correct(self) -> None:
        """Correct an amount, or withdraw a line."""
        self.action_form("correct")

    def action_send(self) -> None:
        """Record that it was handed in."""
        self.action_form("send")

    def action_answer(self) -> None:
        """Record the payer's answer."""
        self.action_form("answer")

    def action_pay(self) -> None:
        """Record what was paid."""
        self.action_form("pay")

    def action_replace(self) -> None:
        """Record a tool that came for a line."""
        self.action_form("replace")

    def action_close(self) -> None:
        """Close it."""
        self.action_form("close")

    def action_evidence(self) -> None:
        """Show photos and papers of a line."""
        from crib.tui.screens.evidence import EvidenceScreen

        assert self.claim is not None
        if len(self.claim.lines) == 1:
            self.app.push_screen(EvidenceScreen(f"{self.claim.number}/{self.claim.lines[0].line_no}"))
        else:
            self.action_form("photos")

    def action_print(self) -> None:
        """Print it."""
        self.action_form("print")

    def recorded(self, done: "Done") -> None:
        """Show what was recorded, and the claim as it is now."""
        self._told = done.verdict
        self._ask()


def claim_page(found: "Claim", width: int) -> list[Line]:
    """Lay out a claim for a width; what is loud stands out."""
    from crib.report.claim_words import claim_lines

    lines: list[Line] = []
    loud = False
    for text in claim_lines(found):
        loud = text.startswith("GAPS (") or (loud and text.startswith("  "))
        start = len(text) - len(text.lstrip())
        broken = wrapped(text.strip(), width, indent=" " * start) or [""]
        lines += [Line(piece, strong=loud or start == 0) for piece in broken]
    return lines

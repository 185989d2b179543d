"""The forms by which a claim is made and taken further, each one doing."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from crib.desk.owed.allowance import LIKE
from crib.store.words import CLAIM_BASES, CLAIM_EVENTS
from crib.tui.screens.base import bindings
from crib.tui.screens.book import DoingScreen
from crib.tui.widgets.plain_form import Entry

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.owed.claim_doing import LineRequest
    from crib.desk.owed.claims import Claim

ASK = "not chosen"  # of a basis: crib picks none
_DAY = Entry(name="on", label="Day", hint="When it was: 20 nov, yesterday; empty: today.")
_LINE = Entry(name="line", label="Line", hint="Its number.")
_LINES = Entry(name="lines", label="Lines", hint="Their numbers, as 1, 3; empty: all that wait for it.")
_WHY = Entry(name="why", label="Why", hint="In a few words; it stays on record.")
_LINE_FIELDS = (
    Entry(name="tags", label="Tools", hint="Own tools: tags, marks or words; several with commas."),
    Entry(name="event", label="What", hint="What happened to it.", words=CLAIM_EVENTS),
    Entry(
        name="basis", label="Basis", words=(ASK, *CLAIM_BASES),
        hint="On which it is asked; what is known of each is told when none is chosen.",
    ),
    Entry(name="amount", label="Amount", hint="Only if it is not to be worked out from what is on record."),
    Entry(name="share", label="Share", hint=f"For the basis share: 50 %, or {LIKE}."),
    Entry(name="repair", label="Repair", hint="What it costs, for the basis repair."),
    Entry(
        name="many", label="How many", hint="Edges for the basis consumption, else pieces; empty: one."
    ),
    Entry(name="on", label="Day", hint="When it happened; empty: the ledger's."),
    Entry(name="what", label="In words", hint="What happened, in a sentence; empty: the ledger's words."),
    Entry(name="job", label="Job", hint="For which job."),
    Entry(name="machine", label="Machine", hint="On which machine."),
    Entry(name="seen", label="Seen by", hint="Who saw it."),
    Entry(name="asked", label="Asked by", hint="Who required or authorised the tool."),
    Entry(name="old", label="Old piece", hint="Where it is: handed in to …"),
    Entry(name="had", label="Had before", hint="What was had for it already."),
)  # fmt: skip


def _request(values: Mapping[str, str]) -> "LineRequest":
    from crib.desk.owed.claim_doing import LineRequest

    told = {name: value for name, value in values.items() if name not in ("tags", "many", "payer")}
    told["edges" if told["basis"] == "consumption" else "pieces"] = values["many"]
    return LineRequest(**(told | {"basis": "" if told["basis"] == ASK else told["basis"]}))


def _told(found: "Claim", what: str) -> "Done":
    """Tell what was recorded: steps of a claim are corrected by further steps, not taken back."""
    from crib.desk.doings.doing import Done

    told = what if what == found.state else f"{what}; {found.state}"
    gaps = f"{len(found.all_gaps)} GAPS." if found.all_gaps else ""
    return Done(act="", verdict=f"Claim {found.number}: {told}.", detail=gaps, undo="", items=())


class NewClaimScreen(DoingScreen):
    """The form of a new claim."""

    AREA = "claim_new"
    BINDINGS = bindings("claim_new")
    ASKS = "Claim what, and on which basis?"
    FIELDS = (
        *_LINE_FIELDS,
        Entry(name="payer", label="Payer", hint="Who is asked; empty: the company, if there is one only."),
    )
    NEEDED = ("tags",)

    def first_entry(self) -> str:
        """Begin with what is not known: which tool, or on which basis."""
        return "basis" if self.form.values()["tags"] else "tags"

    def write(self, values: Mapping[str, str]) -> "Done":
        """Make the claim."""
        from crib.desk.owed.claim_doing import new
        from crib.desk.typed import names_of

        tags, payer = names_of(values["tags"]), values["payer"]
        return _told(new(self.crib.address, tags, _request(values), payer=payer), "made")


class ClaimForm(DoingScreen):
    """A form that takes one claim further.

    Args:
        claim: as it was shown.
        then: takes what was recorded.
    """

    def __init__(self, claim: "Claim", then: "Callable[[Done], None] | None" = None) -> None:
        super().__init__(given=self.given_of(claim), then=then)
        self.claim = claim

    def given_of(self, claim: "Claim") -> dict[str, str]:
        """Give what is known beforehand."""
        return {}

    def take(self, doing: Any, what: str, *where: Any, **told: Any) -> "Done":
        """Do it, and tell it."""
        return _told(doing(self.crib.address, self.claim.number, *where, **told), what)


class AddLineScreen(ClaimForm):
    """The form of one more line."""

    AREA = "claim_line"
    BINDINGS = bindings("claim_line")
    ASKS = "Which tool besides, and on which basis?"
    FIELDS = _LINE_FIELDS
    NEEDED = ("tags",)

    def write(self, values: Mapping[str, str]) -> "Done":
        """Add the line."""
        from crib.desk.owed.claim_doing import add
        from crib.desk.typed import names_of

        return self.take(add, "line added", names_of(values["tags"]), _request(values))


class AmendScreen(ClaimForm):
    """The form of what a draft says as a whole."""

    AREA = "claim_amend"
    BINDINGS = bindings("claim_amend")
    ASKS = "What does it rely on, and where is the work done?"
    FIELDS = (
        Entry(name="clause", label="Relies on", hint="The clause of a policy or agreement."),
        Entry(name="place", label="Work at", hint="Where the work is done, whose law applies."),
        Entry(name="rules", label="Rules", hint="accountable plan, or house: hand in: 14 days from event."),
        Entry(name="note", label="Note", hint="Anything."),
    )

    def given_of(self, claim: "Claim") -> dict[str, str]:
        """Give what is on record."""
        known = (claim.clause, claim.place_of_work, claim.rules, claim.note)
        return {entry.name: value or "" for entry, value in zip(self.FIELDS, known, strict=True)}

    def write(self, values: Mapping[str, str]) -> "Done":
        """Change it."""
        from crib.desk.owed.claim_doing import amend

        return self.take(amend, "changed", **values)


class CorrectScreen(ClaimForm):
    """The form of a correction, or of a line that is withdrawn."""

    AREA = "claim_correct"
    BINDINGS = bindings("claim_correct")
    ASKS = "Which line is to be corrected, or withdrawn?"
    FIELDS = (
        _LINE,
        Entry(name="way", label="", hint="A new amount, or no such line.", words=("new amount", "withdrawn")),
        Entry(name="amount", label="Amount", hint="What is asked instead."),
        _WHY,
        _DAY,
    )
    NEEDED = ("line", "why")

    def write(self, values: Mapping[str, str]) -> "Done":
        """Correct or withdraw it."""
        from crib.desk.owed.claim_doing import correct, withdraw

        (line,) = _numbers(values["line"], "line")[:1] or [0]
        told = {"why": values["why"], "on": values["on"]}
        if values["way"] == "withdrawn":
            return self.take(withdraw, f"line {line} withdrawn", [line], **told)
        return self.take(correct, f"line {line} corrected", line, values["amount"], **told)


class SendScreen(ClaimForm):
    """The form of handing a claim in."""

    AREA = "claim_send"
    BINDINGS = bindings("claim_send")
    ASKS = "Handed in to whom, and when?"
    FIELDS = (
        Entry(name="to", label="To", hint="Who got it; empty: the payer."),
        _DAY,
        Entry(
            name="gaps",
            label="With gaps",
            hint="Does it go although something is lacking?",
            words=("no", "yes"),
        ),
    )

    def write(self, values: Mapping[str, str]) -> "Done":
        """Send it."""
        from crib.desk.owed.claim_doing import send

        return self.take(send, "sent", to=values["to"], on=values["on"], accept_gaps=values["gaps"] == "yes")


class AnswerScreen(ClaimForm):
    """The form of the payer's answer."""

    AREA = "claim_answer"
    BINDINGS = bindings("claim_answer")
    ASKS = "What did the payer say?"
    FIELDS = (
        _LINES,
        Entry(name="way", label="Answer", hint="If refused, say why.", words=("agreed", "refused")),
        Entry(name="amount", label="Amount", hint="If less than was asked; goes with one line."),
        Entry(name="by", label="Said by", hint="Who said so."),
        _WHY,
        _DAY,
    )

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record the answer."""
        from crib.desk.owed.claim_doing import agree, refuse

        lines = _numbers(values["lines"], "lines")
        told = {name: values[name] for name in ("by", "why", "on")}
        if values["way"] == "refused":
            return self.take(refuse, "refused", lines, **told)
        return self.take(agree, "agreed", lines, amount=values["amount"], **told)


class PayScreen(ClaimForm):
    """The form of what was paid."""

    AREA = "claim_pay"
    BINDINGS = bindings("claim_pay")
    ASKS = "What was paid?"
    FIELDS = (
        _LINES,
        Entry(name="amount", label="Amount", hint="If not all that is open; goes with one line."),
        Entry(name="how", label="How", hint="Cash, with the wages …"),
        _DAY,
    )

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record the payment."""
        from crib.desk.owed.claim_doing import settle

        lines = _numbers(values["lines"], "lines")
        told = {name: values[name] for name in ("amount", "how", "on")}
        return self.take(settle, "paid", lines, **told)


class ReplaceScreen(ClaimForm):
    """The form of a tool that came in place of money."""

    AREA = "claim_replace"
    BINDINGS = bindings("claim_replace")
    ASKS = "Which tool came for which line, and whose is it?"
    FIELDS = (
        _LINE,
        Entry(name="tag", label="New tag", hint="The shop's number of the new tool."),
        Entry(name="owner", label="Owner", hint="Whose the new one is: by agreement, so ask; never assumed."),
        Entry(name="place", label="Place", hint="Where it lies; empty: where the old one is."),
        Entry(name="mark", label="Mark", hint="What is engraved on it."),
        Entry(name="old_to", label="Old piece", hint="Whose the old piece is now, if it was handed over."),
        _DAY,
    )
    NEEDED = ("line", "tag", "owner")

    def write(self, values: Mapping[str, str]) -> "Done":
        """Record the new tool."""
        from crib.desk.owed.claim_doing import replace_with

        (line,) = _numbers(values["line"], "line")[:1] or [0]
        told = {name: values[name] for name in ("tag", "owner", "place", "mark", "old_to", "on")}
        return self.take(replace_with, f"line {line} replaced", line, **told)


class PhotosScreen(ClaimForm):
    """The form that asks whose photos are meant."""

    AREA = "claim_photos"
    BINDINGS = bindings("claim_photos")
    ASKS = "Photos and papers of which line?"
    FIELDS = (_LINE,)
    NEEDED = ("line",)

    def action_save(self) -> None:
        """Open them; nothing is written."""
        from crib.tui.screens.evidence import EvidenceScreen

        self.dismiss()
        self.app.push_screen(EvidenceScreen(f"{self.claim.number}/{self.form.values()['line'].strip()}"))


class CloseScreen(ClaimForm):
    """The form of closing a claim."""

    AREA = "claim_close"
    BINDINGS = bindings("claim_close")
    ASKS = "Close it? Nothing more comes of it then."
    FIELDS = (_WHY, _DAY)

    def write(self, values: Mapping[str, str]) -> "Done":
        """Close it."""
        from crib.desk.owed.claim_doing import close

        return self.take(close, "closed", **values)


class PrintScreen(ClaimForm):
    """The form of printing a claim."""

    AREA = "claim_print"
    BINDINGS = bindings("claim_print")
    ASKS = "Print it to which file?"
    FIELDS = (
        Entry(name="file", label="File", hint="Not there yet; ending .pdf, .csv or .xlsx."),
        Entry(name="paper", label="Paper", hint="For PDF.", words=("A4", "Letter")),
    )
    NEEDED = ("file",)

    def given_of(self, claim: "Claim") -> dict[str, str]:
        """Give a name for the file."""
        return {"file": f"claim-{claim.number}.pdf"}

    def write(self, values: Mapping[str, str]) -> "Done":
        """Write the file."""
        from crib.desk.typed import path_of
        from crib.report.claim_paper import save_claim

        path = save_claim(self.crib.address, self.claim.number, path_of(values["file"]), size=values["paper"])
        return _told(self.claim, f"saved as {path}")


def _numbers(typed: str, what: str) -> list[int]:
    from crib.desk.typed import count_of

    pieces = [piece for piece in typed.replace(",", " ").split() if piece]
    return [number for piece in pieces if (number := count_of(piece, what)) is not None]

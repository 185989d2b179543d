"""Photos, receipts and statements of one tool, or of a line of a claim."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.widgets import ContentSwitcher

from crib.store.words import EVIDENCE_KINDS
from crib.tui.screens.base import bindings
from crib.tui.screens.book import BookScreen, DoingScreen
from crib.tui.widgets.photo import PhotoView
from crib.tui.widgets.plain_form import Entry
from crib.tui.widgets.row_list import RowList
from crib.tui.widgets.text_page import Line, TextPage
from crib.tui.wording import Column, clean, column_widths, in_columns, wrapped

if TYPE_CHECKING:
    from crib.desk.doings.doing import Done
    from crib.desk.owed.evidence import Proof

NEXT = "a takes in a photo or paper; o opens the marked one outside, in the machine's own viewer."
PHOTO, TEXT = "photo", "paper"
COLUMNS = (
    Column(title="No.", least=4, most=5),
    Column(title="Kind", least=9, most=9),
    Column(title="Day", least=10, most=10),
    Column(title="Shows or says", least=20, most=70, share=3),
    Column(title="File", least=12, most=30, rank=1),
)


class ProofPainter:
    """Draws a proof as one line."""

    lines = 1

    def header(self, width: int) -> str:
        """Give the headings of the columns."""
        return in_columns([column.title for column in COLUMNS], column_widths(COLUMNS, width))

    def paint(self, row: "Proof", width: int) -> Sequence[str]:
        """Give the line of one proof."""
        cells = (row.number, row.kind, row.on or "no day", row.says or "–", row.name)
        return [in_columns(cells, column_widths(COLUMNS, width))]


class EvidenceScreen(BookScreen):
    """What there is of one tool; the marked one is shown as well as a terminal can.

    Args:
        of: the tool's tag, or a line of a claim as 2026-1/2.
    """

    AREA = "evidence"
    BINDINGS = bindings("evidence")
    DEFAULT_CSS = """
    EvidenceScreen #proofs { height: 6; }
    EvidenceScreen #shown { height: 1fr; border-top: dashed $foreground 40%; }
    """

    def __init__(self, of: str) -> None:
        super().__init__()
        self.of = of
        self._told = ""

    def body(self) -> Iterator[Any]:
        """Lay out the list, and the marked one below."""
        yield RowList(ProofPainter(), id="proofs", empty="Nothing is on record; a takes in a photo or paper.")
        with ContentSwitcher(initial=TEXT, id="shown"):
            yield PhotoView(id=PHOTO)
            yield TextPage(id=TEXT)

    @property
    def proof(self) -> "Proof | None":
        """The marked one."""
        marked: Proof | None = self.query_one("#proofs", RowList).marked
        return marked

    def focus_body(self) -> None:
        """Give the keyboard to the list."""
        self.query_one("#proofs").focus()

    def on_mount(self) -> None:
        """Ask what there is."""
        self.focus_body()
        self._ask()

    def _ask(self) -> None:
        address, of = self.crib.address, self.of

        def ask() -> "tuple[Proof, ...]":
            from crib.desk.owed.evidence import proofs

            return proofs(address, of)

        self.call("read", ask, self._show)

    def _show(self, found: "tuple[Proof, ...]") -> None:
        self.query_one("#proofs", RowList).show_rows(found)
        kinds = ", ".join(
            f"{sum(p.kind == kind for p in found)} {kind}" for kind in dict.fromkeys(p.kind for p in found)
        )
        self.say(self._told or f"{self.of}: {kinds or 'no photo, no receipt, no statement'}.", "", NEXT)
        self._told = ""

    def on_row_list_marked(self) -> None:
        """Fetch the marked one's content."""
        self.refresh_keys()
        proof = self.proof
        if proof is None:
            self._put(None, b"")
            return
        address, number = self.crib.address, proof.number

        def ask() -> "tuple[Proof, bytes]":
            from crib.desk.owed.evidence import content

            return content(address, number)

        self.call("content", ask, lambda found: self._put(*found))

    def _put(self, proof: "Proof | None", content: bytes) -> None:
        is_photo = proof is not None and proof.media_type.startswith("image/")
        self.query_one("#shown", ContentSwitcher).current = PHOTO if is_photo else TEXT
        self.query_one(PhotoView).show(content if is_photo else None)
        self.query_one(TextPage).show_lines(partial(_lines, proof, b"" if is_photo else content))

    def can(self, name: str) -> bool:
        """Offer only what the marked row allows."""
        return self.proof is not None if name in ("outside", "withdraw") else super().can(name)

    def action_outside(self) -> None:
        """Open the marked one in the machine's own viewer."""
        if (proof := self.proof) is not None:
            address, number = self.crib.address, proof.number

            def opened() -> str:
                from crib.desk.owed.evidence import open_outside

                return open_outside(address, number)

            self.call("outside", opened, lambda path: self.say("Opened outside.", f"A copy: {path}"))

    def action_add(self) -> None:
        """Take in a photo or paper."""
        self.app.push_screen(AddEvidenceScreen(self.of, then=self.wrote))

    def action_withdraw(self) -> None:
        """Let the marked one count no more."""
        if (proof := self.proof) is not None:
            self.app.push_screen(WithdrawEvidenceScreen(proof.number, then=self.wrote))

    def recorded(self, done: "Done") -> None:
        """Show what was recorded, and what there is now."""
        self._told = done.verdict
        self._ask()


class AddEvidenceScreen(DoingScreen):
    """The form of a photo or paper.

    Args:
        of: the tool, or the line of a claim.
        then: takes what was recorded.
    """

    AREA = "evidence_add"
    BINDINGS = bindings("evidence_add")
    ASKS = "Which file, and what does it show?"
    FIELDS = (
        Entry(name="file", label="File", hint="Its path: JPEG, PNG, PDF or plain text, up to 25 MB."),
        Entry(name="kind", label="Kind", hint="What it is.", words=EVIDENCE_KINDS),
        Entry(name="says", label="Shows", hint="What it shows or says: the mark on the shank."),
        Entry(name="on", label="Day", hint="Its day; empty: of a photo the camera's."),
    )
    NEEDED = ("file",)

    def __init__(self, of: str, then: "Callable[[Done], None] | None" = None) -> None:
        super().__init__(then=then)
        self.of = of

    def write(self, values: Mapping[str, str]) -> "Done":
        """Take it in."""
        from crib.desk.doings.doing import Done
        from crib.desk.owed.evidence import add
        from crib.desk.typed import path_of

        told = {name: values[name] for name in ("kind", "says", "on")}
        added = add(self.crib.address, self.of, [path_of(values["file"])], **told)
        verdict = f"Taken in: no. {added.proofs[0].number}, {added.proofs[0].kind} of {self.of}."
        return Done(act="", verdict=verdict, detail=" ".join(added.notes), undo="", items=())


class WithdrawEvidenceScreen(DoingScreen):
    """The form of withdrawing a photo or paper.

    Args:
        number: of the proof.
        then: takes what was recorded.
    """

    AREA = "evidence_withdraw"
    BINDINGS = bindings("evidence_withdraw")
    ASKS = "What is wrong with it? It counts no more, and stays on record."
    FIELDS = (Entry(name="why", label="Why", hint="In a few words."),)

    def __init__(self, number: int, then: "Callable[[Done], None] | None" = None) -> None:
        super().__init__(then=then)
        self.number = number

    def write(self, values: Mapping[str, str]) -> "Done":
        """Withdraw it."""
        from crib.desk.doings.doing import Done
        from crib.desk.owed.evidence import withdraw

        gone = withdraw(self.crib.address, self.number, why=values["why"])
        return Done(act="", verdict=f"Withdrawn: no. {gone.number}.", detail="", undo="", items=())


def _lines(proof: "Proof | None", content: bytes, width: int) -> list[Line]:
    """Show a text as it is; of a PDF what is known of it."""
    if proof is None:
        return []
    if proof.media_type != "text/plain":
        return [Line(f"{proof.media_type}, {max(proof.bytes // 1024, 1)} kB: o opens it outside.")]
    text = content.decode("utf-8", "replace")
    return [Line(line) for part in text.splitlines() for line in wrapped(clean(part), width) or [""]]

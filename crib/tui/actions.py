"""Everything a user can do, in one list: it drives the keys, the bottom line and the help screen."""

from collections.abc import Sequence
from dataclasses import dataclass

EVERYWHERE = "everywhere"


@dataclass(frozen=True, slots=True, kw_only=True)
class Action:
    """One thing a user can do.

    Attributes:
        name: the screen's method is `action_` and this.
        keys: keys that do it, as Textual names them; the first usable one is shown.
        label: one or two words for the bottom line.
        help: one sentence for the help screen.
        where: the screen it belongs to, or EVERYWHERE.
        in_bottom_line: False where the screen shows it elsewhere (the top line).
    """

    name: str
    keys: tuple[str, ...]
    label: str
    help: str
    where: str
    in_bottom_line: bool = True

    def key_shown(self, typing: bool) -> str | None:
        """Give the key to show, or None if none works while a line is being typed in.

        Args:
            typing: True while the keyboard goes into an entry line, which takes every letter.
        """
        for key in self.keys:
            if not (typing and _is_letter(key)):
                return KEY_NAMES.get(key, key)
        return None


# Textual's names where they are not what stands on the key
KEY_NAMES = {
    "enter": "Enter",
    "escape": "Esc",
    "slash": "/",
    "space": "Space",
    "question_mark": "?",
    "ctrl+q": "Ctrl+Q",
    "ctrl+r": "Ctrl+R",
    "ctrl+s": "Ctrl+S",
    "ctrl+z": "Ctrl+Z",
    **{f"f{number}": f"F{number}" for number in range(1, 13)},
}
# forms that record one doing, by the name of their screen: each has the same two keys
DOINGS = {
    "lend": "Lend",
    "measure": "Measure",
    "give_back": "Is back",
    "bring": "Bring in",
    "use": "Use edges",
    "move": "Move",
    "send": "Send out",
    "state": "Worn or scrap",
    "minimum": "Set a minimum",
    "left_of": "Left of one code",
    "need": "A need of a kit",
    "choose": "The tool for a need",
    "part": "A part of a tool",
    "who_leaves": "Who leaves",
    "file": "Write to a file",
    "sheet": "Sign-in sheet",
    "evidence_add": "New photo or paper",
    "evidence_withdraw": "Withdraw a photo or paper",
    "worth_add": "What a tool is worth",
    "worth_origin": "Where a tool came from",
    "claim_new": "New claim",
    "claim_line": "Line of a claim",
    "claim_photos": "Photos of a claim's line",
    "claim_amend": "What a claim relies on",
    "claim_correct": "Correct a claim",
    "claim_send": "Hand a claim in",
    "claim_answer": "Answer to a claim",
    "claim_pay": "Claim paid",
    "claim_replace": "Tool for a claim",
    "claim_close": "Close a claim",
    "claim_print": "Print a claim",
    "take_in": "Take stock in",
    "proven_form": "A proven speed",
    "withdraw": "Withdraw a speed",
    "begin": "Begin a store",
    "person": "A person or company",
    "new_place": "A new place",
    "gone": "Who left",
    "settings": "Settings",
    "intake": "Take a list in",
    "keep_headings": "Keep headings in a file",
    "labels": "Labels",
    "back_up": "Back up now",
    "restore": "Put a backup back",
    "export": "Write everything out",
}
RECORD = ("record", "Record what was typed; Enter in the last field does the same.")
# what Ctrl+S does there, where that is not to record
SAVES = {
    "intake": ("try it", "See what would become of every row; nothing is written yet."),
    "keep_headings": ("keep", "Write the file."),
    "labels": ("print", "Write the sheet of labels."),
    "back_up": ("back up", "Copy the store, and look through the copy."),
    "restore": ("put back", "Put the copy in the place of the store. Asks first."),
    "export": ("write out", "Write everything as open files."),
}
_PRINTING_NAMES = ("slash", "question_mark", "space")


def _is_letter(key: str) -> bool:
    return len(key) == 1 or key in _PRINTING_NAMES


def _undo(where: str) -> Action:
    """Give the key that takes a doing back, the same on every screen that records."""
    told = "Take back what was recorded last on this screen."
    return Action(name="undo", keys=("ctrl+z",), label="undo", help=told, where=where)


ACTIONS: tuple[Action, ...] = (
    # Find
    Action(
        name="open",
        keys=("enter",),
        label="details",
        help="Everything on record about the marked tool, and what happened to it.",
        where="find",
    ),
    Action(
        name="bring_in",
        keys=("b",),
        label="bring in",
        help="Record the marked tool as brought in from home. Asks first.",
        where="find",
    ),
    Action(
        name="decode_item",
        keys=("d",),
        label="decode",
        help="Read the marked tool's code, position by position.",
        where="find",
    ),
    Action(
        name="pick_for",
        keys=("p",),
        label="pick",
        help="Start a cut on the Pick screen; takes the tool's hand over if none is typed there.",
        where="find",
    ),
    Action(
        name="lend",
        keys=("l",),
        label="lend",
        help="Lend the marked tool to somebody; asks to whom, and until when.",
        where="find",
    ),
    Action(
        name="give_back",
        keys=("r",),
        label="is back",
        help="Record the marked tool as back from whoever has it; asks in which state.",
        where="find",
    ),
    Action(
        name="take_home",
        keys=("t",),
        label="take home",
        help="Record the marked tool, if it is mine and here, as taken home. Asks first.",
        where="find",
    ),
    Action(
        name="use",
        keys=("u",),
        label="use edges",
        help="Record fresh edges of the marked box as used; asks how many, and for what.",
        where="find",
    ),
    Action(
        name="move",
        keys=("m",),
        label="move",
        help="Record that the marked tool, or part of a batch, lies elsewhere now; asks where.",
        where="find",
    ),
    _undo("find"),
    Action(
        name="begin",
        keys=("f5",),
        label="begin a store",
        help="Say who you are, where the tools lie, in which units; offered where there is no store yet.",
        where="find",
    ),
    # one tool
    Action(
        name="bring_in",
        keys=("b",),
        label="bring in",
        help="Record this tool as brought in from home. Asks first.",
        where="item",
    ),
    Action(
        name="decode_item",
        keys=("d",),
        label="decode",
        help="Read this tool's code, position by position.",
        where="item",
    ),
    Action(
        name="pick_for",
        keys=("p",),
        label="pick",
        help="Start a cut on the Pick screen; takes the tool's hand over if none is typed there.",
        where="item",
    ),
    Action(
        name="lend",
        keys=("l",),
        label="lend",
        help="Lend this tool to somebody; asks to whom, and until when.",
        where="item",
    ),
    Action(
        name="give_back",
        keys=("r",),
        label="is back",
        help="Record this tool as back from whoever has it; asks in which state.",
        where="item",
    ),
    Action(
        name="take_home",
        keys=("t",),
        label="take home",
        help="Record this tool, if it is mine and here, as taken home. Asks first.",
        where="item",
    ),
    Action(
        name="use",
        keys=("u",),
        label="use edges",
        help="Record fresh edges of this box as used; asks how many, and for what.",
        where="item",
    ),
    Action(
        name="move",
        keys=("m",),
        label="move",
        help="Record that this tool, or part of a batch, lies elsewhere now; asks where.",
        where="item",
    ),
    _undo("item"),
    Action(
        name="worth",
        keys=("v",),
        label="worth",
        help="What it is worth by each basis, where it came from, what shows whose it is; its photos.",
        where="item",
    ),
    # Decode
    Action(
        name="fitting",
        keys=("f", "f5"),
        label="what goes with it",
        help="The tools on hand that go with this code: holders for an insert, inserts for a holder or bar.",
        where="decode",
    ),
    Action(
        name="open",
        keys=("enter",),
        label="details",
        help="Everything on record about the marked tool.",
        where="decode",
    ),
    Action(
        name="edit",
        keys=("e",),
        label="edit code",
        help="Put the cursor back into the code.",
        where="decode",
    ),
    # Pick
    Action(
        name="run",
        keys=("ctrl+r", "f5"),
        label="pick a tool",
        help="Rank the tools on hand for this cut. Enter in any field does the same.",
        where="pick",
    ),
    Action(
        name="clear",
        keys=("f8",),
        label="clear",
        help="Empty every field of the cut.",
        where="pick",
    ),
    Action(
        name="open",
        keys=("enter",),
        label="details",
        help="Passes, forces, reasons, what was assumed and the sources of the marked choice.",
        where="pick",
    ),
    Action(
        name="ladder",
        keys=("l",),
        label="ladder",
        help="What to change if it chatters, the largest gain first.",
        where="pick",
    ),
    Action(
        name="rejected",
        keys=("r",),
        label="rejected",
        help="Tools on hand that were turned down, each with why.",
        where="pick",
    ),
    Action(
        name="why",
        keys=("w",),
        label="why",
        help="How every figure of the marked choice comes about, to be checked by hand.",
        where="pick",
    ),
    Action(
        name="how_it_went",
        keys=("h",),
        label="log it",
        help="Log how the marked choice cut: clean, marks, chatter, edge broke or worn out.",
        where="pick",
    ),
    Action(
        name="edit",
        keys=("e",),
        label="edit cut",
        help="Back to the fields of the cut; what was typed is still there.",
        where="pick",
    ),
    # Machines
    Action(
        name="edit",
        keys=("enter", "e"),
        label="edit chart",
        help="Change what is on record of the marked machine: speeds, feeds, power, what it takes.",
        where="machines",
    ),
    Action(
        name="new",
        keys=("n",),
        label="new machine",
        help="Enter a machine and its chart; from then on picks and speeds use it.",
        where="machines",
    ),
    Action(
        name="save",
        keys=("ctrl+s", "f5"),
        label="save",
        help="Write the fields that were changed; what can't be is said, and nothing is written.",
        where="machines",
    ),
    Action(
        name="own",
        keys=("o",),
        label="own speeds",
        help="The shop's own proven speeds: list, enter, withdraw.",
        where="machines",
    ),
    Action(
        name="setups",
        keys=("s",),
        label="set-ups",
        help="The kept set-ups: how stiff they are, how they ring, where they chatter; measuring one.",
        where="machines",
    ),
    # Set-ups
    Action(
        name="chatter",
        keys=("enter", "c"),
        label="chatter",
        help="Where a cut on the marked point chatters: the chart, and which point rings.",
        where="setups",
    ),
    Action(
        name="measure",
        keys=("m",),
        label="measure",
        help="Keep a new measurement of the marked point: push, tap or recording.",
        where="setups",
    ),
    Action(
        name="new",
        keys=("n",),
        label="new",
        help="Measure another point, or a set-up that is not kept yet.",
        where="setups",
    ),
    Action(
        name="run",
        keys=("ctrl+r", "f5"),
        label="draw the chart",
        help="Tell where this cut chatters. Enter in the last field does the same.",
        where="chatter",
    ),
    Action(
        name="edit",
        keys=("e",),
        label="edit cut",
        help="Back to the fields; what was typed is still there.",
        where="chatter",
    ),
    # Books
    Action(
        name="open",
        keys=("enter",),
        label="open",
        help="Open the marked book; its number does the same.",
        where="books",
    ),
    # Out and lent
    Action(
        name="give_back",
        keys=("r",),
        label="is back",
        help="Record the marked tool as back from whoever has it; asks in which state.",
        where="out",
    ),
    Action(
        name="open",
        keys=("enter",),
        label="details",
        help="Everything on record about the marked tool, and who had it before.",
        where="out",
    ),
    Action(
        name="group",
        keys=("g",),
        label="all, mine, overdue",
        help="Show all that is out, or only mine and what I have of others', or only what is overdue.",
        where="out",
    ),
    _undo("out"),
    # Take home
    Action(
        name="tick",
        keys=("x",),
        label="tick",
        help="Tick the marked tool, or take its tick away.",
        where="home",
    ),
    Action(
        name="tick_all",
        keys=("a",),
        label="all",
        help="Tick all that could go home; once more takes the ticks away.",
        where="home",
    ),
    Action(
        name="take_home",
        keys=("t",),
        label="take home",
        help="Record what is ticked as taken home. Asks first.",
        where="home",
    ),
    _undo("home"),
    # Stocktake
    Action(
        name="save",
        keys=("ctrl+s", "f5"),
        label="close",
        help="Write the differences to the ledger. Asks first; what was not counted stays as it is.",
        where="stocktake",
    ),
    Action(
        name="drop",
        keys=("f8",),
        label="drop",
        help="Leave the count; the books stay as they are. Asks first.",
        where="stocktake",
    ),
    _undo("stocktake"),
    # what runs out, what a job needs, what lacks a part, lists on paper
    Action(
        name="open",
        keys=("enter",),
        label="its boxes",
        help="How much is left of the marked code, box by box.",
        where="restock",
    ),
    Action(
        name="new",
        keys=("n",),
        label="set a minimum",
        help="Say how many of a code there should be.",
        where="restock",
    ),
    Action(
        name="change",
        keys=("c",),
        label="change it",
        help="Change the marked minimum; only what is typed over changes.",
        where="restock",
    ),
    Action(
        name="left",
        keys=("e",),
        label="left of a code",
        help="How much is left of any code, with a minimum or without.",
        where="restock",
    ),
    Action(
        name="open",
        keys=("enter",),
        label="details",
        help="Everything on record about the marked box.",
        where="left",
    ),
    Action(
        name="open",
        keys=("enter",),
        label="match it",
        help="Match the marked kit to what there is.",
        where="kits",
    ),
    *(
        Action(
            name="new",
            keys=("n",),
            label="add a need",
            help="Add a need, as you would ask for it; a new name begins a kit.",
            where=where,
        )
        for where in ("kits", "kit")
    ),
    Action(
        name="choose",
        keys=("c",),
        label="choose a tool",
        help="Take another tool for the marked need, or a substitute.",
        where="kit",
    ),
    Action(
        name="drop",
        keys=("d",),
        label="drop the need",
        help="Take the marked need off the kit; tools are not touched.",
        where="kit",
    ),
    Action(
        name="new",
        keys=("n",),
        label="a part is gone",
        help="Record that a tool's shim, screw, key or rod is gone, or there.",
        where="missing",
    ),
    Action(
        name="change",
        keys=("b",),
        label="it is back in",
        help="Record the marked part as back in.",
        where="missing",
    ),
    Action(
        name="settle",
        keys=("s",),
        label="settle up",
        help="What is whose when somebody leaves.",
        where="insurance",
    ),
    *(
        Action(
            name="file",
            keys=("w",),
            label="write to a file",
            help="Write the list as PDF, XLSX or CSV. Asks for the name of the file.",
            where=where,
        )
        for where in ("restock", "kit", "missing", "insurance", "leaving")
    ),
    # Claims
    Action(
        name="open",
        keys=("enter",),
        label="open",
        help="The marked claim in full, or the page of the marked tool.",
        where="claims",
    ),
    Action(
        name="choose",
        keys=("space",),
        label="mark",
        help="Mark this tool for a claim, or mark it no more.",
        where="claims",
    ),
    Action(
        name="new",
        keys=("n",),
        label="new claim",
        help="Make a claim from the marked tools; others can be typed.",
        where="claims",
    ),
    # one claim
    Action(
        name="add",
        keys=("a",),
        label="add tool",
        help="Add a line to this draft.",
        where="claim",
    ),
    Action(
        name="amend",
        keys=("m",),
        label="agreement",
        help="Name the agreement, the place of work, the rules of this draft.",
        where="claim",
    ),
    Action(
        name="send",
        keys=("s",),
        label="send",
        help="Write down that it was handed in; gaps must be accepted.",
        where="claim",
    ),
    Action(
        name="answer",
        keys=("w",),
        label="answer",
        help="Write down what the payer agreed to, or refused and why.",
        where="claim",
    ),
    Action(
        name="pay",
        keys=("y",),
        label="paid",
        help="Write down what was paid.",
        where="claim",
    ),
    Action(
        name="replace",
        keys=("r",),
        label="replaced",
        help="Write down a tool that came for a line; asks whose it is.",
        where="claim",
    ),
    Action(
        name="evidence",
        keys=("e",),
        label="photos",
        help="Photos and papers of a line of this claim; asks for which, if it has several.",
        where="claim",
    ),
    Action(
        name="correct",
        keys=("c",),
        label="correct",
        help="Correct an amount, or withdraw a line, by a dated step.",
        where="claim",
    ),
    Action(
        name="print",
        keys=("p",),
        label="print",
        help="Write it as PDF with photos and lines to sign on, as CSV or XLSX.",
        where="claim",
    ),
    Action(
        name="close",
        keys=("x",),
        label="close",
        help="Close it: nothing more comes of it.",
        where="claim",
    ),
    # photos and papers
    Action(
        name="add",
        keys=("a",),
        label="add",
        help="Take in a photo, receipt or statement: JPEG, PNG, PDF or text.",
        where="evidence",
    ),
    Action(
        name="outside",
        keys=("o", "enter"),
        label="open outside",
        help="Open the marked one in the machine's own viewer.",
        where="evidence",
    ),
    Action(
        name="withdraw",
        keys=("w",),
        label="withdraw",
        help="Let the marked one count no more; it stays on record.",
        where="evidence",
    ),
    # worth
    Action(
        name="evidence",
        keys=("e",),
        label="photos",
        help="Photos, receipts and statements of this tool.",
        where="worth",
    ),
    Action(
        name="add",
        keys=("a",),
        label="value",
        help="Write down what one piece is worth, by which basis, and who says so.",
        where="worth",
    ),
    Action(
        name="origin",
        keys=("f",),
        label="came from",
        help="Write down how it was come by, when and from whom.",
        where="worth",
    ),
    Action(
        name="new",
        keys=("n",),
        label="enter one",
        help="Enter a speed that proved itself; it stands in your name.",
        where="proven",
    ),
    Action(
        name="drop",
        keys=("d",),
        label="withdraw it",
        help="Let the marked speed count no more; it stays on record with your name and why.",
        where="proven",
    ),
    # people and places
    Action(
        name="new",
        keys=("n",),
        label="add somebody",
        help="Put a person or company on record.",
        where="people",
    ),
    Action(
        name="place",
        keys=("p",),
        label="add a place",
        help="Put a place on record; one within the marked place is offered.",
        where="people",
    ),
    Action(
        name="gone",
        keys=("g",),
        label="left, or back",
        help="Record that the marked person left the shop, or is here again.",
        where="people",
    ),
    # a list to take in
    Action(
        name="take",
        keys=("t",),
        label="take in",
        help="Take the lists in, all rows or none. Asks first.",
        where="preview",
    ),
    Action(
        name="headings",
        keys=("m",),
        label="headings",
        help="What the list's headings are taken for, and saying what they mean.",
        where="preview",
    ),
    Action(
        name="again",
        keys=("f5", "ctrl+r"),
        label="try again",
        help="Read the lists anew, after they were mended.",
        where="preview",
    ),
    Action(
        name="open",
        keys=("enter",),
        label="choose",
        help="Choose the column that the marked heading is.",
        where="headings",
    ),
    Action(
        name="drop",
        keys=("x",),
        label="leave out",
        help="Leave the marked heading out.",
        where="headings",
    ),
    Action(
        name="keep",
        keys=("w",),
        label="keep in a file",
        help="Keep what the headings are in a file, for the next such list.",
        where="headings",
    ),
    Action(
        name="open",
        keys=("enter",),
        label="take it",
        help="Take the marked column for the heading.",
        where="column",
    ),
    # backups
    Action(
        name="new",
        keys=("n",),
        label="back up now",
        help="Copy the store while it is in use, and look through the copy. Asks where to.",
        where="backups",
    ),
    Action(
        name="open",
        keys=("enter",),
        label="look through",
        help="Look through the marked copy, without touching it or the store.",
        where="backups",
    ),
    Action(
        name="restore",
        keys=("r",),
        label="put back",
        help="Put a copy in the place of the store; what is there now is kept. Asks first.",
        where="backups",
    ),
    Action(
        name="audit",
        keys=("a",),
        label="audit",
        help="Rebuild everything from the ledger, look through the store, and tell what differs.",
        where="backups",
    ),
    Action(
        name="export",
        keys=("x",),
        label="write out",
        help="Write everything as open files into a new folder.",
        where="backups",
    ),
    # Take back
    Action(
        name="open",
        keys=("enter",),
        label="take back",
        help="Take the marked doing back, by correcting lines. Asks first.",
        where="recent",
    ),
    _undo("recent"),
    # doings
    *(
        action
        for where in DOINGS
        for action in (
            Action(
                name="save",
                keys=("ctrl+s", "f5"),
                label=SAVES.get(where, RECORD)[0],
                help=SAVES.get(where, RECORD)[1],
                where=where,
            ),
            _undo(where),
        )
    ),
    # everywhere
    Action(
        name="ask",
        keys=("slash", "f6"),
        label="ask",
        help="Put the cursor into the Ask line: shop talk, a code, or a cut.",
        where=EVERYWHERE,
    ),
    Action(
        name="back",
        keys=("escape",),
        label="back",
        help="One step back; out of an entry line to the list below it; stops waiting for an answer.",
        where=EVERYWHERE,
    ),
    Action(
        name="help",
        keys=("question_mark", "f1"),
        label="help",
        help="This page.",
        where=EVERYWHERE,
    ),
    Action(
        name="quit",
        keys=("ctrl+q",),
        label="quit",
        help="Leave. What was typed in Pick is kept.",
        where=EVERYWHERE,
    ),
    Action(
        name="go('find')",
        keys=("f2",),
        label="Find",
        help="What have we got, whose is it, and where?",
        where=EVERYWHERE,
        in_bottom_line=False,
    ),
    Action(
        name="go('decode')",
        keys=("f3",),
        label="Decode",
        help="What does the code on this box mean?",
        where=EVERYWHERE,
        in_bottom_line=False,
    ),
    Action(
        name="go('pick')",
        keys=("f4",),
        label="Pick",
        help="Which tool on hand for this cut, and how to start it?",
        where=EVERYWHERE,
        in_bottom_line=False,
    ),
    Action(
        name="go('machines')",
        keys=("f7",),
        label="Machines",
        help="What can each machine do, and entering its chart.",
        where=EVERYWHERE,
        in_bottom_line=False,
    ),
    Action(
        name="go('books')",
        keys=("f9",),
        label="Books",
        help="Whose, where, what happened, what is owed, what runs out; lending, counting, claiming.",
        where=EVERYWHERE,
        in_bottom_line=False,
    ),
    # last, so that what is wanted oftener has its room in the bottom line
    *(
        Action(
            name="labels",
            keys=("w",),
            label="label",
            help="Print a label of the tool, with its QR code; asks on which sheet.",
            where=where,
        )
        for where in ("find", "item")
    ),
)

SCREEN_NAMES = {
    "find": "Find",
    "item": "One tool",
    "decode": "Decode",
    "pick": "Pick",
    "machines": "Machines",
    "books": "Books",
    "out": "Out and lent",
    "home": "Take home",
    "stocktake": "Stocktake",
    "restock": "Restock",
    "left": "One code, box by box",
    "kits": "Kits",
    "kit": "One kit",
    "missing": "Missing parts",
    "insurance": "Lists",
    "leaving": "Settling up",
    "evidence": "Photos and papers",
    "worth": "Worth and proof",
    "claims": "Claims",
    "claim": "One claim",
    "proven": "Proven speeds",
    "people": "People and places",
    "backups": "Backups",
    "audit": "Audit",
    "preview": "A list, tried",
    "headings": "Headings of a list",
    "column": "What a heading is",
    "recent": "Take back",
    **DOINGS,
    "setups": "Set-ups",
    "chatter": "Chatter",
    EVERYWHERE: "Everywhere",
}


def actions_of(*where: str) -> Sequence[Action]:
    """Give the actions of these screens, in the order of the list."""
    return [action for action in ACTIONS if action.where in where]

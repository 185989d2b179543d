"""The command group: commands loaded only when asked for, errors turned into output in one place."""

import gc
import os
import sys
from collections.abc import Callable, Sequence
from importlib import import_module

import click

from crib import __version__
from crib.cli.output import Output
from crib.errors import CribError, InputError

# heading -> command -> (module below crib.cli, one line for the list of commands)
GROUPS = {
    "What have we got?": {
        "find": ("find", "What have we got? Shop talk or field=value."),
        "show": ("show", "Everything on record about one tool, and what happened to it."),
        "list": ("list_", "Lists on paper: for insurance, and for settling up on leaving."),
        "labels": ("labels", "Labels for tools: name, mark, code, QR code."),
    },
    "What is this?": {
        "decode": ("decode", "What does this code mean? Insert, holder or boring bar, metric or inch."),
        "identify": ("identify", "What is this? A worn code, or a part measured with a calliper."),
        "fit": ("fit", "Does this insert go in that holder, and what on hand goes with it?"),
        "encode": ("encode", "From dimensions to the code of an insert, holder or boring bar."),
    },
    "What do I put in?": {
        "speed": ("speed", "Speed, feed and depth to start with."),
        "pick": ("pick", "Which tool on hand for this cut, and how to start it."),
        "log": ("log", "How a cut went: the next pick on the same set-up knows it."),
        "proven": ("proven", "The shop's own proven speeds, beside the book's or before them."),
        "machine": ("machine", "What machines have we got, what can each do; enter a chart once."),
        "sources": ("sources", "Where the numbers come from."),
    },
    "It rings": {
        "stiffness": ("stiffness", "How stiff is it, and how does it ring? Push, tap, recording, bar, work."),
        "setup": ("setup", "Set-ups kept by name, measured at their points."),
        "chatter": ("chatter", "How deep before it rings, which speeds bear more, and which mode rings."),
    },
    "Who has what?": {
        "out": ("out", "Who has what, since when, what is overdue; who has one tool."),
        "lend": ("lend", "Lend tools to somebody, with the day they are promised back."),
        "return": ("return_", "Lent or sent-out tools came back."),
        "send": ("send", "Send tools out for regrind, repair or calibration."),
        "bring": ("bring", "Record tools brought in from home."),
        "take-home": ("take_home", "Record tools taken home."),
        "move": ("move", "Record that tools lie at another place now."),
        "sheet": ("sheet", "Sheets to print and sign: own tools brought in, taken home."),
    },
    "Take in, count, wear": {
        "add": ("add", "Take tools in by their codes, one by one or a drawer at a time."),
        "intake": ("intake", "Take lists (CSV, XLSX) into the store, all or nothing."),
        "stocktake": ("stocktake", "Count a whole place against the books."),
        "count": ("count", "A fresh count of one box wins over the books."),
        "use": ("use", "Use edges of a box of inserts; with the last one the box is worn."),
        "regrade": ("regrade", "Record that tools are in another state now."),
        "scrap": ("scrap", "Write tools off, with the reason."),
        "undo": ("undo", "Take back your last doing, or a named one."),
    },
    "What am I owed?": {
        "claim": ("claim", "What am I owed? Claims for own tools worn, broken or lost."),
        "mine": ("mine", "How do I show that this one is mine?"),
        "worth": ("worth", "Where a tool came from, and what it is worth."),
        "evidence": ("evidence", "Photos, receipts and statements of a tool."),
    },
    "What runs out, what does a job need?": {
        "restock": ("restock", "What is running out, what to buy, how many edges are left."),
        "minimum": ("minimum", "How many of what there should be."),
        "kit": ("kit", "What a job needs, matched to what there is."),
        "missing": ("missing", "What can't be used because a part is gone."),
        "spare": ("spare", "The small parts of a tool, and whether they are there."),
    },
    "The store": {
        "party": ("party", "People and companies: who is there, who has left, who is new."),
        "place": ("place", "Sites, rooms, cabinets, drawers on record, and new ones."),
        "setting": ("setting", "Who you are, which site, millimetres or inches, whose speeds win."),
        "audit": ("audit", "Rebuild everything from the ledger and report any difference."),
        "backup": ("backup", "Copy the store while it is in use, and check the copy."),
        "restore": ("restore", "Put a backup in the place of the store; what was there is kept."),
        "export": ("export", "Everything in the store as open files, in a new folder."),
        "import": ("import_", "A folder of crib export into a blank store."),
        "demo": ("demo", "The invented workshop: see what crib does."),
        "ui": ("ui", "Open the terminal UI."),
    },
}
COMMANDS = {name: told for group in GROUPS.values() for name, told in group.items()}

OpenUi = Callable[..., None]  # a store's address, and a note for the first line


class CribGroup(click.Group):
    """A group whose commands are imported only when run: start-up is the machinist's waiting time."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Give the names in the order of the questions, not of the alphabet."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the one command that was asked for."""
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"crib.cli.{COMMANDS[cmd_name][0]}").command
        command.short_help = COMMANDS[cmd_name][1]
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands under the questions they answer, without importing them."""
        for heading, group in GROUPS.items():
            formatter.write(
                f"\n{heading}\n"
            )  # click's own section would put a colon behind the question mark
            with formatter.indentation():
                formatter.write_dl([(name, line) for name, (_, line) in group.items()])


@click.group(
    cls=CribGroup, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]}
)
@click.version_option(__version__, prog_name="crib")
@click.pass_context
def root(ctx: click.Context) -> None:
    """A machinist's tool crib: what is on hand, what the codes mean, what to cut with and how to start.

    Every command takes --json. Without a command, a terminal gets the UI.
    """
    if ctx.invoked_subcommand is None:
        if sys.stdin.isatty() and sys.stdout.isatty():
            ctx.invoke(import_module("crib.cli.ui").command)
        else:
            click.echo(ctx.get_help())


def run(arguments: Sequence[str], open_ui: OpenUi) -> int:
    """Run one command line.

    Args:
        arguments: what stands after the program's name.
        open_ui: opens the terminal UI on a store address; handed in, because this room may not import the UI.

    Returns:
        The exit status: 0 done, 1 nothing found or the answer is no, 2 bad input, 3 the store can't be used.
    """
    gc.set_threshold(20_000)  # what a command makes mostly stays: looking through it early takes a few ms
    out = Output(as_json="--json" in arguments)
    try:
        status = root.main(list(arguments), prog_name="crib", standalone_mode=False, obj=open_ui)
        sys.stdout.flush()
    except CribError as error:
        return out.fail(error)
    except click.UsageError as error:
        return out.fail(InputError(error.format_message(), _usage(error.ctx)))
    except (click.Abort, KeyboardInterrupt):
        return 130
    except OSError as error:
        return _cannot_print(error)
    return status if isinstance(status, int) else 0


def _usage(ctx: click.Context | None) -> str:
    """Give a command's usage in one line, and of a group like `minimum` the commands that it takes."""
    if ctx is None:
        return ""
    usage = " ".join(ctx.get_usage().split())
    if isinstance(ctx.command, click.Group) and ctx.command is not root:
        usage += f"; the command is one of: {', '.join(ctx.command.list_commands(ctx))}"
    return usage


def _cannot_print(error: OSError) -> int:
    """Leave when the answer can't be written: quietly if the reader went away (`| head`)."""
    # what is still in the buffer has nowhere to go; without this the interpreter tries once more on leaving
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    if isinstance(error, BrokenPipeError):
        return 0
    click.echo(f"crib: the answer can't be written: {error.strerror}", err=True)
    return 2

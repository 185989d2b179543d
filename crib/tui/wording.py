"""Turning answers into words, columns and bars. Pure: no widgets here.

Text from the store or the keyboard is data: `clean` makes it harmless before it reaches a terminal.
"""

import textwrap
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rich.cells import cell_len, set_cell_size

from crib.units.counts import many

if TYPE_CHECKING:
    from crib.desk.asking.ask import FoundItem
    from crib.desk.picking.pick import ToolName

# control, format (direction marks), half a surrogate pair, private use, line and paragraph separators
_UNSAFE = ("Cc", "Cf", "Cs", "Co", "Zl", "Zp")
_EIGHTHS = " ▏▎▍▌▋▊▉█"
_BLANK = "–"
PATH_JOINT = " / "  # as the store writes paths
HANDS = {"R": "right", "L": "left", "N": "neutral"}
# Where the cut of a turning holder goes (ISO 5608: hand of the tool, seen from above in the tool post)
_CUTS = {"R": "cuts toward the headstock", "L": "cuts toward the tailstock", "N": "cuts either way"}


def clean(text: object) -> str:
    """Make text safe for one line of a terminal: escapes, line breaks, direction marks become a mark.

    Args:
        text: anything; None becomes nothing.
    """
    if text is None:
        return ""
    return "".join(
        " " if ch == "\t" else ch if unicodedata.category(ch) not in _UNSAFE else "\N{REPLACEMENT CHARACTER}"
        for ch in str(text)
    )


def sentence(text: str) -> str:
    """Give a message as a sentence: a capital first, a full stop last."""
    text = clean(text).strip()
    if not text:
        return ""
    first = text[0].upper() + text[1:]
    return first if first[-1] in ".?!:" else first + "."


def fitted(text: object, width: int) -> str:
    """Give text cut or padded to exactly `width` terminal cells; a cut is shown by an ellipsis."""
    line = clean(text)
    if width <= 0:
        return ""
    if cell_len(line) > width:
        line = set_cell_size(line, width - 1) + "…"
    return set_cell_size(line, width)


def wrapped(text: object, width: int, indent: str = "", mark: str = "") -> list[str]:
    """Break text into lines of at most `width`; later lines stand under the first word.

    Args:
        text: anything, as data.
        width: columns.
        indent: stands before every line.
        mark: stands before the first line only, for example "– ".
    """
    return textwrap.wrap(
        clean(text),
        max(width, 20),
        initial_indent=indent + mark,
        subsequent_indent=indent + " " * len(mark),
        break_on_hyphens=False,
    )


def bar(value: float, top: float, width: int) -> str:
    """Draw a value as a bar of block characters.

    Args:
        value: what the bar stands for.
        top: the value that fills the whole width; same unit.
        width: columns.

    Returns:
        Exactly `width` columns; at least a sliver for anything above nothing.
    """
    if not value > 0 or not top > 0:
        return " " * width
    eighths = min(max(round(value / top * width * 8), 1), width * 8)
    whole, part = divmod(eighths, 8)
    return ("█" * whole + (_EIGHTHS[part] if part else "")).ljust(width)


def number(value: float, digits: int = 3) -> str:
    """Give a plain number with so many digits that count, without a power of ten."""
    if value == 0:
        return "0"
    rounded = float(f"{value:.{digits}g}")
    return f"{rounded:.0f}" if abs(rounded) >= 10 ** (digits - 1) else f"{rounded:.{digits}g}"


# -- tools -----------------------------------------------------------------------------------------


def hand_word(hand: str | None) -> str:
    """Give a hand as one word."""
    return HANDS.get(hand or "", clean(hand) or _BLANK)


def hand_in_full(kind: str, hand: str | None) -> str:
    """Give a hand with what it means at the lathe, where that is settled (turning holders)."""
    if not hand:
        return ""
    word = f"{hand_word(hand)} hand"
    return f"{word}, {_CUTS[hand]}" if kind == "holder" and hand in _CUTS else word


def named(item: "FoundItem | ToolName") -> str:
    """Give a tool by its tag and its code, or its label where it has no code."""
    return clean(" ".join(part for part in (item.tag, item.designation or item.label) if part))


def what(item: "FoundItem") -> str:
    """Give what a tool is: its code first, then its label unless that says the same."""
    if not item.designation:
        return clean(item.label)
    if item.designation.replace(" ", "").lower() in item.label.replace(" ", "").lower():
        return clean(item.label)
    return clean(f"{item.designation} {item.label}")


def state(item: "FoundItem") -> str:
    """Give where a tool stands right now, in one or two words, then what is left of it."""
    if item.held_by:
        now = f"with {item.held_by}"
    elif item.on_site:
        now = "here"
    elif item.site:
        now = f"at {item.site}"
    else:
        now = "not recorded"
    parts = [now]
    if item.edges_left is not None:
        parts.append(many(item.edges_left, "edge"))
    elif item.quantity != 1:
        parts.append(f"{item.quantity} pcs")
    if item.condition not in ("good", "new"):
        parts.append(item.condition)
    parts.append(item.gap)
    return clean(", ".join(part for part in parts if part))


def end_of_path(place: str, width: int) -> str:
    """Give as much of a place's path as fits, from its end: the drawer says more than the site."""
    parts = clean(place).split(PATH_JOINT)
    shown = parts[-1]
    for part in reversed(parts[:-1]):
        if cell_len(longer := part + PATH_JOINT + shown) > width:
            break
        shown = longer
    return shown


def in_words(item: "FoundItem") -> list[str]:
    """Give everything a list row knows about one tool, as sentences for a panel."""
    tool = [part for part in (named(item), what(item)) if part]
    first = tool[0] if item.designation is None or item.label in tool[0] else f"{tool[0]} – {item.label}"
    takes = f"Goes with {item.takes}" if item.kind in ("insert", "bit") else f"Takes {item.takes}"
    use = [hand_in_full(item.kind, item.HAND), takes if item.takes else ""]
    whose = f"{item.owner}'s" if item.owner else "owner not recorded"
    if item.mark:
        whose += f", marked {item.mark}"
    where = item.place or item.site or "place not recorded"
    if item.held_by:
        where = f"with {item.held_by}" + (f", due back {item.due_back}" if item.due_back else "")
        where += ", OVERDUE" if item.overdue else ""
    left = [f"{item.quantity} pcs" if item.quantity != 1 else ""]
    left.append(f"{many(item.edges_left, 'edge')} left" if item.edges_left is not None else "")
    facts = [whose, where, item.condition, item.gap, *left]
    return [
        clean(first),
        clean(". ".join(_capital(part) for part in use if part)),
        clean(". ".join(_capital(part) for part in (*facts, item.note) if part)),
    ]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


# -- columns ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a list.

    Attributes:
        title: its heading.
        least: narrowest useful width, in columns.
        most: width beyond which more room is of no use.
        rank: columns of a higher rank go first where room is short.
        share: parts of the spare room that it takes.
    """

    title: str
    least: int
    most: int
    rank: int = 0
    share: int = 1


def column_widths(columns: Sequence[Column], room: int) -> list[int]:
    """Share out room among columns with one blank between them; 0 drops a column.

    Args:
        columns: from left to right.
        room: columns of the terminal.
    """
    kept = list(range(len(columns)))
    while len(kept) > 1 and sum(columns[i].least + 1 for i in kept) - 1 > room:
        kept.remove(max(kept, key=lambda i: (columns[i].rank, i)))
    widths = [columns[i].least if i in kept else 0 for i in range(len(columns))]
    spare = room - sum(widths) - (len(kept) - 1)
    while spare > 0:
        growing = [i for i in kept if widths[i] < columns[i].most]
        if not growing:
            break
        for i in growing:
            more = min(columns[i].share, columns[i].most - widths[i], spare)
            widths[i] += more
            spare -= more
    return widths


def in_columns(cells: Iterable[object], widths: Sequence[int]) -> str:
    """Set cells into columns."""
    return " ".join(fitted(cell, width) for cell, width in zip(cells, widths, strict=True) if width)


# -- quantities --------------------------------------------------------------------------------------


def shown(value: float, kind: str, system: str) -> str:
    """Give a quantity in both systems, the user's own first.

    Args:
        value: in the canonical unit of its kind (crib.units).
        kind: "length", "feed", "force" …
        system: "metric" or "inch".
    """
    from crib.units import Kind, show  # not needed for the first paint

    return show(value, Kind(kind), system)


def shown_length(value_mm: float, system: str) -> str:
    """Give a length in both systems, the user's own first."""
    return shown(value_mm, "length", system)

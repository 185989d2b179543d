"""What a code means: the reader of designations with its tables, loaded once."""

from functools import cache, lru_cache
from typing import TYPE_CHECKING

from crib.desk.hands import HAND_WORDS
from crib.errors import BadDesignation
from crib.trade import tables
from crib.trade.designation import read
from crib.trade.designation.letters import Letters
from crib.trade.designation.reading import BarReading, HolderReading, InsertReading, Reading

if TYPE_CHECKING:
    from crib.trade.designation.iso513 import ApplicationReading
    from crib.trade.designation.pen import Written
    from crib.trade.designation.spec import Spec


@cache
def designations() -> Letters:
    """Give the tables of letters and sizes, read once."""
    return Letters(tables.rows)


@lru_cache(1000)
def decode(text: str) -> Reading:
    """Read one code; what was read last is kept, since an answer often comes back to a code.

    Args:
        text: as on the box or the shank: case, blanks and dashes don't matter.

    Raises:
        BadDesignation: it follows none of the standards; says at which position.
    """
    return read(text, designations())


def readable(text: str | None) -> Reading | None:
    """Read one code that may be none: what is on record was kept as typed."""
    try:
        return decode(text) if text else None
    except BadDesignation:
        return None


def decode_any(text: str) -> "Reading | ApplicationReading":
    """Read the code of a tool, or what a grade is meant for: P25, HC-K20.

    Args:
        text: as on the box.

    Raises:
        BadDesignation: it is neither; says at which position.
    """
    try:
        return decode(text)
    except BadDesignation as error:
        from crib.trade.designation.iso513 import NUMBER, Applications, read_application  # few codes are such

        try:
            return read_application(text, Applications.load(tables.rows))
        except BadDesignation as other:
            if other.position != NUMBER:
                raise error from None
            raise


def encode(spec: "Spec") -> "Written":
    """Write one code.

    Args:
        spec: the dimensions and letters that it is to state.

    Raises:
        BadDesignation: a field that no code can state, by its name, with what may stand there.
    """
    from crib.trade.designation.encode import write  # reading, which starts oftener, goes without

    return write(spec, designations())


def label_of(reading: Reading) -> str:
    """Describe a tool in a few words, for a list."""
    match reading:
        case InsertReading():
            nose = "" if reading.RE_mm is None or reading.SC == "R" else f", nose {reading.RE_mm:g}"
            return f"insert {reading.SC}{nose}"
        case HolderReading():
            angle = "" if reading.KAPR_deg is None else f" {reading.KAPR_deg:g}°"
            return f"{HAND_WORDS[reading.HAND]} holder{angle}, takes {reading.insert_seat}"
        case BarReading():
            return f"{HAND_WORDS[reading.HAND]} boring bar ⌀{reading.DCON_mm:g}, takes {reading.insert_seat}"

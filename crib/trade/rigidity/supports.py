"""What workholding props a weak set-up: by the word that the shop has for it, on which machine, for what."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """One way of propping work.

    Attributes:
        names: what it is called.
        machines: kinds of machine that it is used on.
        operations: what may be done on work that is held so.
        does: what it does.
        source: source keys.
    """

    names: tuple[str, ...]
    machines: tuple[str, ...]
    operations: tuple[str, ...]
    does: str
    source: str


def load_supports(rows: Iterable[Mapping[str, str]]) -> tuple[Support, ...]:
    """Build the ways of propping work from the rows of the table "support_words", the particular first."""
    return tuple(
        Support(
            names=tuple(row["names"].split(";")),
            machines=tuple(row["machines"].split(";")),
            operations=tuple(row["operations"].split(";")),
            does=row["does"],
            source=row["source"],
        )
        for row in rows
    )


def support_of(label: str, machine: str | None, operation: str, known: Sequence[Support]) -> Support | None:
    """Give how an item props work; None where its name says nothing of the kind, or it is for other work.

    Args:
        label: what the item is called.
        machine: kind of machine that the work is on; None for any.
        operation: what is done.
        known: the ways there are.
    """
    for one in known:
        named = any(re.search(rf"\b{re.escape(name)}\b", label, re.IGNORECASE) for name in one.names)
        if named:
            serves = operation in one.operations and (machine is None or machine in one.machines)
            return one if serves else None
    return None

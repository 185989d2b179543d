"""What a label of a tool says; its QR code holds the tag, which any line that takes a tag understands."""

from collections.abc import Sequence
from dataclasses import dataclass

from crib.desk import lookup
from crib.desk.asking.ask import find
from crib.errors import InputError, NothingFound
from crib.store.read import reading

MOST_LABELS = 2_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One label.

    Attributes:
        tag: the shop's number; the QR code holds it and nothing else.
        name: what people call the tool.
        code: its designation; empty where it has none.
        mark: what is engraved; empty where nothing is.
        owner: whose.
    """

    tag: str
    name: str
    code: str
    mark: str
    owner: str


def labels(address: str, tags: Sequence[str], *, at: str = "", words: str = "") -> tuple[Label, ...]:
    """Give the labels of tools, each once.

    Args:
        address: the store.
        tags: of the tools.
        at: a place whose tools are meant too.
        words: shop talk for further ones, as crib find takes it; with `at`, of there.

    Raises:
        UnknownName: no such tag or place.
        NothingFound: the words describe nothing on record.
        InputError: neither is said, or they are too many.
        StoreError: the store can't be used.
    """
    if not tags and not words and not at:
        raise InputError("no tool is named", "say tags, a place (--at), or words (--find)")
    with reading(address) as reader:
        found = [
            Label(
                tag=row.tag, name=row.label, code=row.designation or "", mark=row.mark or "", owner=row.owner
            )
            for row in lookup.items(reader, tags)
        ]
        path = lookup.place(reader, at).path if at else ""
    if words or path:
        answer = find(address, words, at=path, limit=MOST_LABELS + 1)
        if not answer.items:
            raise NothingFound(answer.verdict, answer.detail)
        found += [
            Label(
                tag=one.tag, name=one.label, code=one.designation or "", mark=one.mark or "", owner=one.owner
            )
            for one in answer.items
            if one.tag not in {label.tag for label in found}
        ]
    if len(found) > MOST_LABELS:
        raise InputError(f"{len(found)} labels are too many for one file", f"at most {MOST_LABELS}")
    return tuple(found)

"""The shop's own numbers of tools: the next free one of a kind."""

import re
from collections import Counter

from sqlalchemy import select
from sqlalchemy.orm import Session

from crib.store.models import Item
from crib.store.search import compact

MOST_TAGS = 500  # as many of a kind are looked at to learn how the shop numbers it
LETTERS = {
    "insert": "I", "holder": "H", "bar": "B", "bit": "T", "rotary": "D", "gauge": "M", "workholding": "W",
    "spare": "S", "other": "O",
}  # fmt: skip
_PARTS = re.compile(r"(.*?)(\d+)")


def next_tag(session: Session, kind: str) -> str:
    """Give the next free tag of a kind, as the shop has numbered it lately."""
    session.flush()
    latest = select(Item.tag).where(Item.kind == kind).order_by(Item.id.desc()).limit(MOST_TAGS)
    parts = [match for tag in session.scalars(latest) if (match := _PARTS.fullmatch(tag))]
    begins = Counter(match[1] for match in parts).most_common(1)
    begin = begins[0][0] if begins else LETTERS[kind]
    numbers = [match[2] for match in parts if match[1] == begin]
    number = max(map(int, numbers), default=0)
    digits = max(map(len, numbers), default=2)
    while True:
        number += 1
        tag = f"{begin}{number:0{digits}d}"
        if not is_taken(session, tag):
            return tag


def is_taken(session: Session, tag: str) -> bool:
    """Say whether a tag is on record, however it is written."""
    return session.scalar(select(Item.id).where(Item.tag_code == compact(tag))) is not None

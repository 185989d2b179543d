"""Random doings of the desk, as people do them, held against what they were asked to do.

    python -m tests.doings_machine N [--steps 30] [--seed S] [--engine sqlite|postgresql]

N stories of moving, lending, returning, bringing in, taking home, using edges, counting, scrapping and
undoing, of whole batches and of parts. What is there is summed over batches, by code, owner, place, holder
and condition: so splitting and merging, which nobody asks for by name, must not show. After each doing:

- what was refused changed nothing; what was taken changed these sums by what was asked, and nothing else;
- taken back, a doing leaves everything as it was before it;
- no count is below zero, and the ledger rebuilds every item as it is stored.

tests/desk runs a few stories; this command runs many. Results: docs/soak.md.
"""

import sys
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule
from sqlalchemy import text

from crib.desk.doings import bring_in, lending, moving, undo, wear
from crib.desk.doings.doing import Done
from crib.errors import CribError
from crib.store import ledger
from crib.store.ledger import Start
from crib.store.models import InsertDetail, Item, Party
from crib.store.places import add_place, put_setting
from crib.store.writing import writing
from tests.machines import told_by

PLACES = ("shop", "shop / drawer", "shop / rack", "home")
PEOPLE = ("Ada", "Bert")
SUMS = """SELECT item.norm, owner.name, place.path, coalesce(holder.name, ''), item.condition,
sum(item.quantity), coalesce(sum(item.edges_left), 0)
FROM item JOIN party AS owner ON owner.id = item.owner_id JOIN place ON place.id = item.place_id
LEFT JOIN party AS holder ON holder.id = item.held_by_id
WHERE item.quantity > 0 GROUP BY 1, 2, 3, 4, 5"""

Sums = dict[tuple[str, ...], tuple[int, int]]
PIECES = st.none() | st.integers(1, 4)


def world(url: str) -> None:
    """Make people and places; we are Ada, at the shop."""
    with writing(url) as session:
        session.add_all([Party(name=name) for name in PEOPLE] + [Party(name="Works", kind="company")])
        shop = add_place(session, "shop", "site")
        for name in ("drawer", "rack"):
            add_place(session, name, "drawer", shop)
        add_place(session, "home", "site")
        put_setting(session, "me", "Ada")
        put_setting(session, "site", "shop")


class Doings(RuleBasedStateMachine):
    """One story; `url` and `tally` are set by whoever runs it."""

    url: str
    tally: Counter[str]

    @initialize()
    def stock(self) -> None:
        """Begin with two boxes of inserts of the company, one of Ada's, and a holder of hers."""
        self.done: list[tuple[str, Sums]] = []  # what stands: the word of each doing, and the sums before it
        mark = self.tally["stories"]
        self.tally["stories"] += 1
        with writing(self.url) as session:
            people = {row.name: row.id for row in session.execute(text("SELECT name, id FROM party"))}
            places = {row.path: row.id for row in session.execute(text("SELECT path, id FROM place"))}
            self.tags = [f"{letter}{mark}" for letter in ("I", "J", "K", "H")]
            boxes = (
                ("Works", "shop / drawer", 6, 24),
                ("Works", "shop / rack", 4, 16),
                ("Ada", "home", 5, 20),
            )
            for tag, (owner, place, pieces, edges) in zip(self.tags, boxes, strict=False):
                item = Item(tag=tag, kind="insert", label=f"box {mark}", insert=InsertDetail(cedc=4))
                start = Start(
                    at=datetime.now(UTC), owner_id=people[owner], place_id=places[place], condition="good",
                    quantity=pieces, edges_left=edges,
                )  # fmt: skip
                ledger.add(session, item, start)
            holder = Item(tag=self.tags[3], kind="holder", label=f"holder {mark}")
            at_home = Start(
                at=datetime.now(UTC), owner_id=people["Ada"], place_id=places["home"], condition="good"
            )
            ledger.add(session, holder, at_home)
        self.story = mark
        self.now = self.sums()

    # -- doings -------------------------------------------------------------------------------------------

    def a_tag(self, number: int) -> str:
        """Give one of the tags that this story's tools have by now, parts split off too."""
        with writing(self.url) as session:
            rows = session.execute(text("SELECT tag, label FROM item ORDER BY id"))
            tags = [tag for tag, label in rows if label.endswith(f" {self.story}")]
        return tags[number % len(tags)]

    @rule(number=st.integers(0, 9), to=st.sampled_from(PLACES), pieces=PIECES)
    def move(self, number: int, to: str, pieces: int | None) -> None:
        tag = self.a_tag(number)
        self.tell(
            lambda: moving.move(self.url, [tag], to, pieces=pieces), same=("norm", "owner", "condition")
        )

    @rule(number=st.integers(0, 9), to=st.sampled_from(PEOPLE), pieces=PIECES)
    def lend(self, number: int, to: str, pieces: int | None) -> None:
        tag = self.a_tag(number)
        self.tell(
            lambda: lending.lend(self.url, [tag], to, pieces=pieces),
            same=("norm", "owner", "place", "condition"),
        )

    @rule(number=st.integers(0, 9), pieces=PIECES, to=st.sampled_from(("", *PLACES)))
    def give_back(self, number: int, pieces: int | None, to: str) -> None:
        tag = self.a_tag(number)
        self.tell(
            lambda: lending.give_back(self.url, [tag], pieces=pieces, to=to),
            same=("norm", "owner", "condition"),
        )

    @rule(number=st.integers(0, 9), pieces=PIECES)
    def bring(self, number: int, pieces: int | None) -> None:
        tag = self.a_tag(number)
        self.tell(
            lambda: bring_in.bring_in(self.url, [tag], pieces=pieces), same=("norm", "owner", "condition")
        )

    @rule(number=st.integers(0, 9), pieces=PIECES)
    def take_home(self, number: int, pieces: int | None) -> None:
        tag = self.a_tag(number)
        self.tell(
            lambda: bring_in.take_home(self.url, [tag], to="home", pieces=pieces),
            same=("norm", "owner", "condition"),
        )

    @rule(number=st.integers(0, 9), edges=st.integers(1, 5), gone=st.integers(0, 2))
    def use(self, number: int, edges: int, gone: int) -> None:
        tag = self.a_tag(number)
        self.tell(
            lambda: wear.use(self.url, tag, edges=edges, gone=gone),
            same=("norm", "owner"),
            pieces=-gone,
            edges=-edges,
        )

    @rule(number=st.integers(0, 9), pieces=st.none() | st.integers(1, 3))
    def scrap(self, number: int, pieces: int | None) -> None:
        """Scrap: a whole batch stays on record as scrap with no edges, a part leaves the books."""
        tag = self.a_tag(number)
        was = dict(self.now)
        if self.tell(lambda: wear.scrap(self.url, [tag], why="chipped", pieces=pieces), same=()):
            lost = sum(count for count, _ in was.values()) - sum(count for count, _ in self.now.values())
            assert lost in (0, pieces)

    @rule(number=st.integers(0, 9), pieces=st.integers(0, 8))
    def count(self, number: int, pieces: int) -> None:
        tag = self.a_tag(number)
        if self.tell(lambda: wear.count(self.url, tag, pieces, edges=None), same=()):
            with writing(self.url) as session:
                stored = session.execute(
                    text("SELECT quantity FROM item WHERE tag = :tag"), {"tag": tag}
                ).scalar()
            assert stored == pieces

    @rule()
    def take_back(self) -> None:
        """Take the last doing that stands back: everything is as it was before it."""
        if not self.done:
            return
        act, before = self.done.pop()
        undo.undo(self.url, act)
        self.now = self.sums()
        assert self.now == before, f"after undoing {act}"
        self.tally["taken back"] += 1

    # -- what must hold -----------------------------------------------------------------------------------

    @invariant()
    def nothing_below_zero(self) -> None:
        if getattr(self, "now", None) is not None:
            assert all(pieces > 0 and edges >= 0 for pieces, edges in self.now.values())

    def teardown(self) -> None:
        with writing(self.url) as session:
            assert ledger.differences(session) == []

    def sums(self) -> Sums:
        with writing(self.url) as session:
            rows = session.execute(text(SUMS)).all()
        return {
            tuple(row[:5]): (int(row[5]), int(row[6])) for row in rows if row[0].endswith(f" {self.story}")
        }

    def tell(self, do: Callable[[], Done], *, same: tuple[str, ...], pieces: int = 0, edges: int = 0) -> bool:
        """Do it; with `same`, the sums over these fields change by so many pieces and edges, no others."""
        before = self.now
        try:
            done = do()
        except CribError as error:
            assert error.hint
            assert self.sums() == before, "what was refused changed something"
            self.tally["refused"] += 1
            return False
        self.now = self.sums()
        self.done.append((done.act, before))
        self.tally["taken"] += 1
        if same:
            was, is_now = grouped(before, same), grouped(self.now, same)
            changed = {key for key in was | is_now if was.get(key, (0, 0)) != is_now.get(key, (0, 0))}
            assert len(changed) <= (1 if pieces or edges else 0), changed
            for key in changed:
                (had, sharp), (has, left) = was.get(key, (0, 0)), is_now.get(key, (0, 0))
                assert (has - had, left - sharp) == (pieces, edges)
        return True


FIELDS = ("norm", "owner", "place", "holder", "condition")


def grouped(sums: Sums, same: tuple[str, ...]) -> Sums:
    """Sum over all fields but these."""
    found: dict[tuple[str, ...], tuple[int, int]] = {}
    for key, (pieces, edges) in sums.items():
        short = tuple(value for name, value in zip(FIELDS, key, strict=True) if name in same)
        had, sharp = found.get(short, (0, 0))
        found[short] = (had + pieces, sharp + edges)
    return found


def tell(url: str, stories: int, steps: int, seed: int | None = None) -> Counter[str]:
    """Tell so many stories in an empty store; gives how many doings were taken, refused, taken back."""
    world(url)
    tally: Counter[str] = Counter()
    machine: Any = type("ToldDoings", (Doings,), {"url": url, "tally": tally})
    told_by(machine, stories, steps, seed)
    return tally


if __name__ == "__main__":
    from tests.machines import main

    sys.exit(main("doings_machine", tell, sys.argv[1:]))

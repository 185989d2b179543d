"""Random stories through the ledger, held against a second book that is kept in plain Python.

    python -m tests.ledger_machine N [--steps 40] [--seed S] [--engine sqlite|postgresql]

N stories of up to so many doings: adding, moving, lending, sending out, returning, using edges, counting,
splitting, merging, scrapping, correcting, each in a transaction of its own, many of them impossible. After
each doing:

- it was taken exactly when the second book says that it can be; what was refused changed nothing;
- every item stands as the second book has it; no count is below zero;
- pieces and edges are conserved: there is what was added, less and more what counting and use changed.

At the end of each story all items of the store are rebuilt from the ledger and compared. tests/store runs a
few stories; this command runs many. Results: docs/soak.md.
"""

import os
import sys
from collections import Counter
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from itertools import count
from typing import Any

from hypothesis import strategies as st
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    initialize,
    invariant,
    multiple,
    rule,
)

from crib.errors import NotPossible
from crib.store import ledger
from crib.store.ledger import Entry, Start, State
from crib.store.models import Item, Party
from crib.store.places import add_place
from crib.store.read import reading
from crib.store.words import CONDITIONS
from crib.store.writing import writing
from tests.machines import told_by

NOON = datetime(2026, 5, 4, 12, tzinfo=UTC)
DAYS = st.sampled_from([None, date(2026, 12, 31), date(2028, 2, 29)])
_tags = count(1)


@dataclass(frozen=True, slots=True)
class World:
    """A store with people and places, in which stories are told.

    Attributes:
        url: the store.
        parties: numbers of people.
        places: numbers of places.
    """

    url: str
    parties: tuple[int, ...]
    places: tuple[int, ...]


def world(url: str) -> World:
    """Put people and places into an empty store."""
    with writing(url) as session:
        people = [Party(name=name) for name in ("Ada", "Bert", "Cora")]
        session.add_all(people)
        shop, home = add_place(session, "shop", "site"), add_place(session, "home", "site")
        drawer = add_place(session, "drawer", "drawer", shop)
        session.flush()
        return World(url, tuple(one.id for one in people), (shop.id, home.id, drawer.id))


class Stories(RuleBasedStateMachine):
    """One story; `world` is set by whoever runs it."""

    world: World
    tally: Counter[str]  # how many doings of all stories were taken, and how many refused
    items: Bundle[int] = Bundle("items")

    def __init__(self) -> None:
        super().__init__()
        self.book: dict[int, State] = {}
        self.balance = [0, 0]  # pieces and edges that came and went otherwise than by splitting and merging

    @initialize(target=items)
    def two_usual_things(self) -> Any:
        """Begin with a box of inserts and a holder, so that most doings have something to be done to."""
        owner, place = self.world.parties[0], self.world.places[2]
        usual = State(owner_id=owner, place_id=place, condition="good", quantity=6, edges_left=24)
        self.balance = [7, 24]
        return multiple(self.put(usual), self.put(replace(usual, quantity=1, edges_left=None)))

    # -- doings -------------------------------------------------------------------------------------------

    @rule(
        target=items,
        quantity=st.integers(0, 6),
        each=st.sampled_from([None, 0, 1, 4]),
        condition=st.sampled_from(CONDITIONS),
        at=st.tuples(st.integers(0, 2), st.integers(0, 2)),
    )
    def add(self, quantity: int, each: int | None, condition: str, at: tuple[int, int]) -> int:
        edges = None if each is None else each * quantity
        owner, place = self.world.parties[at[0]], self.world.places[at[1]]
        state = State(
            owner_id=owner, place_id=place, condition=condition, quantity=quantity, edges_left=edges
        )
        item = self.put(state)
        self.balance[0] += quantity
        self.balance[1] += edges or 0
        return item

    @rule(item=items, to=st.integers(0, 2), what=st.sampled_from(["moved", "brought in", "taken home"]))
    def move(self, item: int, to: int, what: str) -> None:
        was, place = self.book[item], self.world.places[to]
        may = was.held_by_id is None and was.place_id != place and was.quantity > 0
        self.tell(item, may, replace(was, place_id=place), what=what, to_place_id=place)

    @rule(item=items, to=st.integers(0, 2), due=DAYS, what=st.sampled_from(["lent", "sent out"]))
    def lend(self, item: int, to: int, due: date | None, what: str) -> None:
        was, party = self.book[item], self.world.parties[to]
        free = was.held_by_id is None or (was.held_by_id == party and was.due_back != due)
        may = free and party != was.owner_id and was.condition != "scrap" and was.quantity > 0
        after = replace(was, held_by_id=party, due_back=due)
        self.tell(item, may, after, what=what, to_held_by_id=party, due_back=due)

    @rule(item=items, lost=st.integers(0, 3), condition=st.none() | st.sampled_from(CONDITIONS))
    def bring_back(self, item: int, lost: int, condition: str | None) -> None:
        was = self.book[item]
        may = was.held_by_id is not None and lost <= was.quantity
        after = replace(
            was,
            held_by_id=None,
            due_back=None,
            quantity=was.quantity - lost,
            condition=condition or was.condition,
        )
        if self.tell(item, may, after, what="returned", quantity_change=-lost, to_condition=condition):
            self.balance[0] -= lost

    @rule(item=items, edges=st.integers(1, 9), spent=st.integers(0, 2))
    def use(self, item: int, edges: int, spent: int) -> None:
        was = self.book[item]
        enough = was.edges_left is not None and edges <= was.edges_left and spent <= was.quantity
        may = enough and was.condition != "scrap" and was.quantity > 0
        after = replace(was, edges_left=(was.edges_left or 0) - edges, quantity=was.quantity - spent)
        if self.tell(item, may, after, what="edge used", edges_change=-edges, quantity_change=-spent):
            self.balance[0] -= spent
            self.balance[1] -= edges

    @rule(
        item=items,
        pieces=st.integers(-4, 4),
        edges=st.none() | st.integers(-6, 6),
        what=st.sampled_from(["counted", "corrected", "scrapped"]),
    )
    def count(self, item: int, pieces: int, edges: int | None, what: str) -> None:
        was = self.book[item]
        known = edges is None or was.edges_left is not None or edges >= 0
        may = known and was.quantity + pieces >= 0 and (was.edges_left or 0) + (edges or 0) >= 0
        left = was.edges_left if edges is None else (was.edges_left or 0) + edges
        after = replace(was, quantity=was.quantity + pieces, edges_left=left)
        if self.tell(item, may, after, what=what, quantity_change=pieces, edges_change=edges):
            self.balance[0] += pieces
            self.balance[1] += edges or 0

    @rule(item=items, condition=st.sampled_from(CONDITIONS))
    def regrade(self, item: int, condition: str) -> None:
        self.tell(
            item, True, replace(self.book[item], condition=condition), what="regraded", to_condition=condition
        )

    @rule(item=items, owner=st.integers(0, 2))
    def give(self, item: int, owner: int) -> None:
        party = self.world.parties[owner]
        self.tell(item, True, replace(self.book[item], owner_id=party), what="replaced", to_owner_id=party)

    @rule(target=items, item=items, pieces=st.integers(1, 4), edges=st.integers(0, 9))
    def split(self, item: int, pieces: int, edges: int) -> Any:
        """Take a part of a batch away; it becomes an item of its own, both in one transaction or neither."""
        was = self.book[item]
        change = None if was.edges_left is None else -edges
        may = pieces <= was.quantity and (was.edges_left is None or edges <= was.edges_left)
        part = replace(
            was, quantity=pieces, edges_left=None if change is None else edges, held_by_id=None, due_back=None
        )
        try:
            with writing(self.world.url) as session:
                new = _item()
                start = _start(part, other_item_id=item)
                ledger.add(session, new, start)
                session.flush()
                ledger.record(
                    session,
                    Entry(
                        item_id=item, what="split", at=NOON, quantity_change=-pieces, edges_change=change,
                        other_item_id=new.id,
                    ),
                )  # fmt: skip
                made = new.id
        except NotPossible:
            assert not may, "a split that is possible was refused"
            self.tally["refused"] += 1
            return multiple()
        assert may, "an impossible split was taken"
        self.tally["taken"] += 1
        self.book[made] = part
        left = None if was.edges_left is None else was.edges_left - edges
        self.book[item] = replace(was, quantity=was.quantity - pieces, edges_left=left)
        return made

    @rule(item=items, into=items)
    def merge(self, item: int, into: int) -> None:
        """Put a whole batch to another one, both in one transaction."""
        was, other = self.book[item], self.book[into]
        if item == into or was.quantity == 0 or (was.edges_left is None) != (other.edges_left is None):
            return
        with writing(self.world.url) as session:
            for one, by, the_other in ((item, -1, into), (into, 1, item)):
                ledger.record(
                    session,
                    Entry(
                        item_id=one, what="merged", at=NOON, quantity_change=by * was.quantity,
                        edges_change=None if was.edges_left is None else by * was.edges_left,
                        other_item_id=the_other,
                    ),
                )  # fmt: skip
        none = None if was.edges_left is None else 0
        both = None if was.edges_left is None else was.edges_left + (other.edges_left or 0)
        self.book[item] = replace(was, quantity=0, edges_left=none)
        self.book[into] = replace(other, quantity=other.quantity + was.quantity, edges_left=both)

    @rule(item=items, other=items)
    def fail_half_way(self, item: int, other: int) -> None:
        """Do one thing that can be done and one that can't, in one transaction: neither happened."""
        try:
            with writing(self.world.url) as session:
                ledger.record(session, Entry(item_id=item, what="counted", at=NOON, quantity_change=1))
                ledger.record(
                    session, Entry(item_id=other, what="counted", at=NOON, quantity_change=-(10**6))
                )
        except NotPossible:
            return
        raise AssertionError("a million pieces were counted away")

    # -- what must hold -----------------------------------------------------------------------------------

    @invariant()
    def stands_as_the_book_says(self) -> None:
        with reading(self.world.url) as reader:
            rows = {item: reader.item(item) for item in self.book}
        for item, state in self.book.items():
            row = rows[item]
            assert row is not None
            assert _state(row) == state, item
        assert sum(state.quantity for state in self.book.values()) == self.balance[0]
        assert sum(state.edges_left or 0 for state in self.book.values()) == self.balance[1]
        assert min((state.quantity for state in self.book.values()), default=0) >= 0

    def teardown(self) -> None:
        with writing(self.world.url) as session:
            assert ledger.differences(session) == []
            if self.book:
                told = ledger.replay(session)
                assert {item: told[item] for item in self.book} == self.book

    # -- doing one thing ----------------------------------------------------------------------------------

    def put(self, state: State) -> int:
        with writing(self.world.url) as session:
            item = _item()
            ledger.add(session, item, _start(state))
            session.flush()
            self.book[item.id] = state
            return item.id

    def tell(self, item: int, may: bool, after: State, **entry: Any) -> bool:
        """Record an entry; say whether it was taken, which must be as the second book has it."""
        try:
            with writing(self.world.url) as session:
                done = ledger.record(session, Entry(item_id=item, at=NOON, **entry))
        except NotPossible as error:
            assert not may, f"refused, though it can be: {error.message}"
            assert error.hint
            self.tally["refused"] += 1
            return False
        assert may, f"taken, though it can't be: {entry}"
        self.tally["taken"] += 1
        assert done.after == after
        self.book[item] = after
        return True


def _item() -> Item:
    tag = f"Z{os.getpid()}-{next(_tags)}"
    return Item(tag=tag, kind="other", label="random thing")


def _start(state: State, other_item_id: int | None = None) -> Start:
    return Start(
        at=NOON, owner_id=state.owner_id, place_id=state.place_id, condition=state.condition,
        quantity=state.quantity, edges_left=state.edges_left, other_item_id=other_item_id,
    )  # fmt: skip


def _state(row: Any) -> State:
    return State(
        owner_id=row.owner_id, place_id=row.place_id, condition=row.condition, quantity=row.quantity,
        edges_left=row.edges_left, held_by_id=row.held_by_id, due_back=row.due_back,
    )  # fmt: skip


def tell(url: str, stories: int, steps: int, seed: int | None = None) -> Counter[str]:
    """Tell so many stories in an empty store; gives how many doings were taken, and how many refused."""
    tally: Counter[str] = Counter()
    told_by(type("ToldStories", (Stories,), {"world": world(url), "tally": tally}), stories, steps, seed)
    return tally


if __name__ == "__main__":
    from tests.machines import main

    sys.exit(main("ledger_machine", tell, sys.argv[1:]))

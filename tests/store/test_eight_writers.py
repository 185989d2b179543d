"""Eight processes at one box: nothing is lost, nothing is taken twice, whoever comes too late is told."""

import multiprocessing
from datetime import UTC, datetime

from store.stock import fill

from crib.errors import NotPossible
from crib.store import ledger
from crib.store.engine import close_engines
from crib.store.ledger import Entry
from crib.store.read import reading
from crib.store.writing import writing

WRITERS, TRIES, EDGES = 8, 6, 40


def take_edges(url: str, item: int) -> tuple[int, int]:
    """Try to take an edge so many times; gives how often it was had, and how often refused."""
    had = refused = 0
    for _ in range(TRIES):
        try:
            with writing(url) as session:
                entry = Entry(item_id=item, what="edge used", at=datetime.now(UTC), edges_change=-1)
                ledger.record(session, entry)
            had += 1
        except NotPossible as error:
            assert "only 0 left" in error.message
            refused += 1
    return had, refused


def test_eight_processes_take_forty_edges_in_forty_eight_tries(store_url: str) -> None:
    ids = fill(store_url)
    with writing(store_url) as session:
        start = Entry(item_id=ids["I-1"], what="counted", at=datetime.now(UTC), edges_change=EDGES - 60)
        ledger.record(session, start)
    close_engines()  # no connection of this process is carried into the others
    with multiprocessing.get_context("fork").Pool(WRITERS) as pool:
        told = pool.starmap(take_edges, [(store_url, ids["I-1"])] * WRITERS)
    assert sum(had for had, _ in told) == EDGES
    assert sum(refused for _, refused in told) == WRITERS * TRIES - EDGES
    with reading(store_url) as crib:
        row = crib.item(ids["I-1"])
        assert row is not None
        assert row.edges_left == 0
        assert sum(line.what == "edge used" for line in crib.ledger_of(ids["I-1"])) == EDGES
    with writing(store_url) as session:
        assert ledger.differences(session) == []

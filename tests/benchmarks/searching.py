"""The query behind find, warm, against the same SQL through the standard library's sqlite3."""

import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing
from random import Random

from crib.store.filters import Filters, page_only, page_query
from crib.store.read import reading
from crib.store.search import compact
from tests.benchmarks import big_store
from tests.benchmarks.measure import Plan, Result, percentile

MILLION = 1_000_000
ASKED = 120


def questions(codes: list[str], sites: list[int], owners: list[int]) -> list[Filters]:
    """Give a mixture as a shop asks: codes, beginnings, facets, what fits, numbers on the shank."""
    chance = Random(1871)
    found = []
    for number in range(ASKED):
        code, site, owner = chance.choice(codes), chance.choice(sites), chance.choice(owners)
        hand = chance.choice("LR")
        found.append((
            Filters(codes=(compact(code),), exact=compact(code)),
            Filters(tokens=(code[:6].lower(),), beginnings=True, exact=code[:6].lower()),
            Filters(tokens=("carbide", "worn"), beginnings=True, kinds=("insert",), exact="carbideworn"),
            Filters(kinds=("holder", "bar"), hands=(hand,), sc="W", an_deg=0.0, ic_mm=12.7, limit=2000),
            Filters(kinds=("holder",), hands=(hand,), site_id=site, lent=False),
            Filters(tokens=("microm",), beginnings=True, kinds=("gauge",), site_id=site, exact="microm"),
            Filters(owner_ids=(owner,), conditions=("new",)),
            Filters(tag=f"T{chance.randint(1, MILLION)}"),
        )[number % 8])  # fmt: skip
    return found


def query(plan: Plan) -> Iterator[Result]:
    """The query behind find."""
    count = MILLION if plan.full else 100_000
    if plan.quick:
        count = 10_000
    store = big_store.made(plan.stores / f"items-{count}.db", count)
    with closing(sqlite3.connect(f"file:{store}?mode=ro", uri=True)) as bare, reading(store) as reader:
        codes = [
            row[0] for row in bare.execute("SELECT designation FROM item WHERE designation <> '' LIMIT 900")
        ]
        sites = [row[0] for row in bare.execute("SELECT id FROM place WHERE kind = 'site'")]
        owners = [row[0] for row in bare.execute("SELECT id FROM party")]
        asked = questions(codes, sites, owners)
        floor: list[list[float]] = [[] for _ in asked]
        ours: list[list[float]] = [[] for _ in asked]
        for number in range(2 if plan.quick else 6):
            for at, one in enumerate(asked):
                bare_ms, rows = plain(bare, one)
                began = time.perf_counter()
                found = reader.find_items(one)
                if number:  # the first round warms the cache
                    floor[at].append(bare_ms)
                    ours[at].append(1000 * (time.perf_counter() - began))
                if len(found.rows) != rows:
                    raise AssertionError("not the same answer")
    least, mine = [min(times) for times in floor], [min(times) for times in ours]
    for name, share, budget in (("p95", 0.95, 1.5), ("median", 0.5, None)):
        yield Result(
            what=f"query behind find, {count:,} items, {name} of {len(asked)} questions",
            floor="the same SQL, standard library's sqlite3",
            floor_ms=percentile(least, share),
            ours_ms=percentile(mine, share),
            budget=budget,
        )


def plain(bare: sqlite3.Connection, asked: Filters) -> tuple[float, int]:
    """Run the same SQL with nothing around it: the page, and the total where that doesn't give it."""
    page, count, values = page_query(asked, "sqlite")
    both = values | page_only(asked)
    began = time.perf_counter()
    rows = bare.execute(page, both).fetchall()
    if len(rows) == asked.limit and rows[0][-1] is None:
        bare.execute(count, values).fetchall()
    return 1000 * (time.perf_counter() - began), len(rows)

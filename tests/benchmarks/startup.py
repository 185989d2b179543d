"""Whole processes: what the machinist waits for."""

from collections.abc import Iterator

from tests.benchmarks import big_store
from tests.benchmarks.measure import Plan, Result, environment, interleaved, process

MANY = 100_000
QUESTIONS = {
    "by code": "WNMG 080408",
    "by fit": "left hand holder for a WNMG 080408 here",
    "by words": "worn carbide insert here",
    "nothing found": "left hand holder with a purple handle",
}
PICK = ("--op", "turn", "--material", "42CrMo4", "--from", "80 mm", "--to", "76 mm", "--length", "100 mm")


def decode(plan: Plan) -> Iterator[Result]:
    """Crib decode."""
    env = environment()
    took = interleaved(
        {
            "floor": process(("-c", "import click"), env),
            "ours": process(("-m", "crib", "decode", "CNMG 12 04 08-PM"), env),
        },
        plan.rounds,
    )
    yield Result(
        what="`crib decode`, whole process",
        floor='`python -c "import click"`',
        floor_ms=took["floor"],
        ours_ms=took["ours"],
        budget=1.6,
    )


def find(plan: Plan) -> Iterator[Result]:
    """Crib find with 100,000 items."""
    count = MANY // 10 if plan.quick else MANY
    store = big_store.made(plan.stores / f"items-{count}.db", count)
    env = environment(CRIB_DB=store)
    asked = {
        name: process(("-c", QUIET, "find", *question.split()), env) for name, question in QUESTIONS.items()
    }
    took = interleaved({"floor": process(("-c", "import click, sqlite3"), env), **asked}, plan.rounds)
    for name in QUESTIONS:
        yield Result(
            what=f"`crib find`, {count:,} items, {name}",
            floor='`python -c "import click, sqlite3"`',
            floor_ms=took["floor"],
            ours_ms=took[name],
            budget=2.0,
        )


# "nothing found" leaves with 1, which is an answer and no failure
QUIET = "import sys; from crib.cli.root import run; sys.exit(max(0, run(sys.argv[1:], print) - 1))"


def pick(plan: Plan) -> Iterator[Result]:
    """Crib pick on the invented workshop."""
    store = demo(plan)
    env = environment(CRIB_DB=store)
    took = interleaved(
        {
            "floor": process(("-c", "import click, sqlite3, pint"), env),
            "bare": process(("-c", "import click, sqlite3"), env),
            "ours": process(("-m", "crib", "pick", *PICK), env),
        },
        plan.rounds,
    )
    yield Result(
        what="`crib pick`, whole process, demo stock",
        floor='`python -c "import click, sqlite3, pint"`',
        floor_ms=took["floor"],
        ours_ms=took["ours"],
        budget=2.0,
    )
    yield Result(
        what="the same",
        floor='`python -c "import click, sqlite3"` (no pint)',
        floor_ms=took["bare"],
        ours_ms=took["ours"],
        budget=None,
    )


def demo(plan: Plan) -> str:
    """Give a demo store of our own, made anew: not the user's."""
    from crib.desk.keeping.demo import make_demo

    path = plan.stores / "demo.db"
    if not path.exists():
        make_demo(str(path))
    return str(path)

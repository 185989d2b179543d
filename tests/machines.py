"""What the random stories share: telling so many of them, and the command that does it at length."""

import argparse
import os
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import ExitStack

from hypothesis import HealthCheck, settings
from hypothesis import seed as seeded
from hypothesis.stateful import RuleBasedStateMachine, run_state_machine_as_test

from crib.store.engine import close_engines
from crib.store.upgrade import open_store
from tests.pgserver import binaries, private_server

Tell = Callable[[str, int, int, int | None], Counter[str]]


def told_by(machine: type[RuleBasedStateMachine], stories: int, steps: int, seed: int | None) -> None:
    """Tell so many stories; the first fault is shrunk and raised."""
    how = settings(
        max_examples=stories,
        stateful_step_count=steps,
        deadline=None,
        suppress_health_check=list(HealthCheck),
        database=None,
    )
    run_state_machine_as_test(machine if seed is None else seeded(seed)(machine), settings=how)


def main(name: str, tell: Tell, arguments: Sequence[str]) -> int:
    """Run a command that tells stories on an engine of one's choice."""
    parser = argparse.ArgumentParser(prog=f"python -m tests.{name}")
    parser.add_argument("stories", type=int)
    parser.add_argument("--steps", type=int, default=40)
    parser.add_argument("--seed", type=int, default=None)
    parser.add_argument("--engine", choices=["sqlite", "postgresql"], default="sqlite")
    asked = parser.parse_args(arguments)
    begun = time.monotonic()
    with tempfile.TemporaryDirectory() as folder, ExitStack() as stack:
        url = os.path.join(folder, "crib.db")
        if asked.engine == "postgresql":
            url = f"postgresql://crib@/postgres?host={stack.enter_context(private_server(binaries()))}"
        open_store(url, create=True)
        tally = tell(url, asked.stories, asked.steps, asked.seed)
        close_engines()
    told = ", ".join(f"{count} {what}" for what, count in sorted(tally.items()))
    took = time.monotonic() - begun
    print(f"{asked.engine}: {asked.stories} stories: {told}; {took:.0f} s; no fault")  # noqa: T201
    return 0

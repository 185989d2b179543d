"""crib setting: who you are, which site you are at, units, whose speeds win, what money is in."""

import click

from crib.cli.output import Output, with_output, with_store
from crib.desk.keeping.settings import put, settings
from crib.store.words import SETTING_KEYS


@click.command()
@click.argument("key", required=False)
@click.argument("value", nargs=-1)
@with_store
@with_output
def command(key: str | None, value: tuple[str, ...], out: Output, db: str) -> None:
    """Print the settings, or change one.

    me NAME, site NAME, units metric|inch, speeds book|own, currency CODE,
    rules "accountable plan" or "house: hand in: 14 days from event" (deadlines of claims).
    """
    now = put(db, key, " ".join(value)) if key else settings(db)
    out.give(now, lambda: (f"{name:8} {now.get(name, 'not set')}" for name in SETTING_KEYS))

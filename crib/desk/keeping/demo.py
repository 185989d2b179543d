"""The invented workshop: its store, made from the lists in demo_data by the same intake that users have."""

import hashlib
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any

import crib
from crib import __version__
from crib.desk.keeping import address as addresses
from crib.errors import StoreReadOnly
from crib.store.upgrade import scripts_folder

SETTINGS = {
    "me": "Tamsin Arkwell",
    "site": "works",
    "units": "metric",
    "currency": "EUR",
    "rules": "house: hand in: 30 days from event; answer: 30 days from sent",
}
PROVEN: dict[str, Any] = {
    "material": "SAE 660",
    "tool": "carbide",
    "op": "face",
    "vc": "140 m/min",
    "feed": "0.15 mm/rev",
    "depth": "0.5 mm",
    "machine": "old lathe",
    "result": "clean",
    "note": "slide valve, dry: no burr at the ports",
}
PROVEN_AT = datetime(2026, 5, 29, 14, 40, tzinfo=UTC)
STARTED = datetime(
    2025, 1, 4, 8, 0, tzinfo=UTC
)  # the workshop's lists were taken in before their history begins


def lists_folder() -> str:
    """Give the folder of the lists: inside an installed package, else in the checkout."""
    package = crib.__path__[0]
    inside = os.path.join(package, "_demo_data")
    return inside if os.path.isdir(inside) else os.path.join(os.path.dirname(package), "demo_data")


def demo_store(folder: str | None = None, *, fresh: bool = False) -> str:
    """Give the path of the demo store; it is made if it is not there, or is of other lists or another crib.

    Args:
        folder: where to keep it; the user's data folder if not told.
        fresh: make it anew, losing what was changed in it.

    Raises:
        StoreReadOnly: the folder can't be written.
    """
    folder = folder or addresses.data_folder()
    path = os.path.join(folder, f"demo-{_stamp()}.db")
    if fresh or not os.path.exists(path):
        try:
            os.makedirs(folder, mode=0o700, exist_ok=True)
            _make(folder, path)
        except OSError as error:
            raise StoreReadOnly(
                f"the demo store can't be made in {folder}: {error.strerror or error}",
                "XDG_DATA_HOME chooses another folder",
            ) from error
    return path


def make_demo(path: str) -> None:
    """Make the demo store at a path where nothing is yet."""
    from crib.desk.intake.intake import (
        intake,  # writing needs SQLAlchemy: a store that is there needs neither
    )
    from crib.desk.keeping.settings import put
    from crib.desk.starting.proven import ProvenRequest, add_proven

    folder = lists_folder()
    lists = sorted(os.path.join(folder, name) for name in os.listdir(folder) if name.endswith(".csv"))
    intake(path, lists, at=STARTED)
    for key, value in SETTINGS.items():
        put(path, key, value)
    add_proven(path, ProvenRequest(**PROVEN), at=PROVEN_AT)  # proven speeds are entered, not taken in


@contextmanager
def private_copy() -> Iterator[str]:
    """Give a copy of the demo store that is thrown away afterwards."""
    original = demo_store()
    with tempfile.TemporaryDirectory(prefix="crib-demo-") as folder:
        yield shutil.copy(original, os.path.join(folder, "demo.db"))


def _make(folder: str, path: str) -> None:
    # beside its place, then renamed: two that make it at once both end with a whole one
    with tempfile.TemporaryDirectory(prefix="demo-", dir=folder) as workshop:
        made = os.path.join(workshop, "demo.db")
        make_demo(made)
        os.replace(made, path)


def _stamp() -> str:
    """Give a short word that changes with what the workshop holds, the store's migrations and crib itself."""
    digest = hashlib.sha256(repr((__version__, SETTINGS, PROVEN, PROVEN_AT)).encode())
    for folder in (lists_folder(), os.path.join(scripts_folder(), "versions")):
        for entry in sorted(os.scandir(folder), key=lambda entry: entry.name):
            if entry.is_file():
                with open(entry.path, "rb") as handle:
                    digest.update(entry.name.encode() + handle.read())
    return digest.hexdigest()[:10]

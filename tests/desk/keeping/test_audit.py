"""The audit rebuilds everything from the ledger and reports any difference; it changes nothing."""

import shutil
import sqlite3
from pathlib import Path

import pytest

from crib.desk.keeping.audit import audit
from crib.errors import StoreMissing


def meddle(store: str, statement: str) -> None:
    """Change a store behind crib's back."""
    connection = sqlite3.connect(store)
    with connection:
        connection.execute(statement)
    connection.close()


def test_the_invented_workshop_agrees_with_its_ledger(demo_store: str) -> None:
    found = audit(demo_store)
    assert (found.items, found.differences) == (149, ())


@pytest.mark.parametrize(
    ("statement", "field", "stored", "by_ledger"),
    [
        ("UPDATE item SET quantity = 99 WHERE tag = 'I01'", "quantity", "99", "10"),
        ("UPDATE item SET edges_left = 1 WHERE tag = 'I01'", "edges_left", "1", "37"),
        ("UPDATE item SET condition = 'new' WHERE tag = 'D08'", "condition", "new", "worn"),
    ],
)
def test_what_was_changed_past_the_ledger_is_found(
    demo_address: str, statement: str, field: str, stored: str, by_ledger: str
) -> None:
    meddle(demo_address, statement)
    (difference,) = audit(demo_address).differences
    assert (difference.field, difference.stored, difference.by_ledger) == (field, stored, by_ledger)


def test_the_audit_mends_nothing(demo_address: str, tmp_path: Path) -> None:
    meddle(demo_address, "UPDATE item SET quantity = 99 WHERE tag = 'I01'")
    before = Path(shutil.copy(demo_address, tmp_path / "before.db")).read_bytes()
    assert audit(demo_address) == audit(demo_address)
    assert Path(demo_address).read_bytes() == before


def test_a_missing_store(tmp_path: Path) -> None:
    with pytest.raises(StoreMissing):
        audit(str(tmp_path / "none.db"))

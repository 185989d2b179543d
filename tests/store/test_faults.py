"""Every error name of SQLite either becomes a StoreError or is known to be a fault of ours."""

import sqlite3

import pytest

from crib.errors import CribError, InputError, StoreBusy, StoreDamaged, StoreError, StoreReadOnly
from crib.store.address import parse
from crib.store.faults import as_crib_error, translated

OURS = "ABORT EMPTY ERROR INTERNAL INTERRUPT MISMATCH MISUSE NOMEM NOTFOUND RANGE SCHEMA"
TRANSLATED = (
    "AUTH BUSY CANTOPEN CONSTRAINT CORRUPT FORMAT FULL IOERR LOCKED NOLFS NOTADB PERM PROTOCOL "
    "READONLY TOOBIG"
)


def sqlite_error(code: int) -> sqlite3.Error:
    error = sqlite3.OperationalError("what SQLite says")
    error.sqlite_errorcode = code
    return error


@pytest.mark.parametrize("name", OURS.split() + TRANSLATED.split())
def test_each_result_code_is_placed(name, tmp_path):
    there = tmp_path / "there.db"
    there.touch()
    found = as_crib_error(sqlite_error(getattr(sqlite3, f"SQLITE_{name}")), parse(str(there)))
    if name in OURS.split():
        assert found is None
    else:
        assert isinstance(found, CribError)
        assert found.message
        assert found.hint


def test_no_result_code_was_forgotten():
    placed = {getattr(sqlite3, f"SQLITE_{name}") for name in OURS.split() + TRANSLATED.split()}
    # the errors are 1 to 26; SQLite's authorizer has actions with the same numbers, so names alone won't tell
    assert placed == set(range(1, 27))


@pytest.mark.parametrize(
    ("code", "kind"),
    [
        (sqlite3.SQLITE_BUSY_SNAPSHOT, StoreBusy),
        (sqlite3.SQLITE_READONLY_DIRECTORY, StoreReadOnly),
        (sqlite3.SQLITE_CORRUPT_INDEX, StoreDamaged),
        (sqlite3.SQLITE_IOERR_WRITE, StoreError),
        (sqlite3.SQLITE_FULL, StoreError),
    ],
)
def test_extended_codes_follow_their_family(code, kind):
    assert isinstance(as_crib_error(sqlite_error(code), parse("/x.db")), kind)


def test_errors_of_our_own_pass_as_they_are():
    with pytest.raises(sqlite3.OperationalError), translated(parse("/x.db")):
        sqlite3.connect(":memory:").execute("SELEKT")
    with pytest.raises(KeyError), translated(parse("/x.db")):
        raise KeyError


def test_text_that_is_no_text_is_bad_input(store_url):
    from crib.store.filters import Filters
    from crib.store.models import Party
    from crib.store.read import reading
    from crib.store.writing import writing

    with pytest.raises(InputError), reading(store_url) as crib:
        crib.find_items(Filters(place="\udcff"))
    with pytest.raises(InputError), writing(store_url) as session:
        session.add(Party(name="\udcff"))

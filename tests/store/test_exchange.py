"""What is written out and read in again is the same, whatever the rows hold and whichever engine has them."""

import csv
import hashlib
import json
import re
import shutil
import tempfile
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from nasty import NASTY
from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Date,
    Double,
    Integer,
    Table,
    insert,
    update,
)
from store.stock import fill

from crib.errors import BadExport, NotPossible, StoreMissing, StoreNewer
from crib.store.engine import close_engines
from crib.store.exchange import EVIDENCE, MANIFEST, read_in, tables, write_out
from crib.store.models.base import Money, Utc
from crib.store.writing import writing

# what `fill` has rows of, with a ledger that agrees
FILLED = {
    "party", "place", "item", "ledger", "machine", "machine_speed", "machine_feed", "setting",
    "insert_detail", "holder_detail", "bar_detail", "bit_detail", "rotary_detail", "gauge_detail",
    "gauge_rod", "gauge_check",
}  # fmt: skip
# any sign that a store keeps: halves of signs and the sign of nothing are refused on the way in
TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=20)


def words_of(table: Table) -> dict[str, str]:
    """Give a word that each closed column of a table may hold."""
    checks = [str(check.sqltext) for check in table.constraints if isinstance(check, CheckConstraint)]
    found = (re.match(r"(\w+) IN \('([^']+)'", check) for check in checks)
    return {match[1]: match[2] for match in found if match}


def value_for(column: Column[Any], data: st.DataObject | None) -> Any:
    if isinstance(column.type, Utc):
        return datetime(2028, 2, 29, 23, 59, 59, 123456, tzinfo=UTC)
    if isinstance(column.type, Money):
        return data.draw(st.decimals(0, 10**9, places=2)) if data else Decimal("0.10")
    if isinstance(column.type, Boolean):
        return True
    if isinstance(column.type, Date):
        return date(2028, 2, 29)
    if isinstance(column.type, Double):
        return data.draw(st.floats(1e-9, 1e12)) if data else 0.1 + 0.2
    if isinstance(column.type, Integer):
        return 1
    return data.draw(TEXT) if data else "".join(NASTY.values())[:3000]


def enrich(url: str, data: st.DataObject | None) -> None:
    """Give every table rows, with texts and numbers of any sort; evidence that fits its hash."""
    fill(url)
    with writing(url) as session:
        connection = session.connection()
        for table in tables():
            if table.name in FILLED:
                continue
            values = {column.name: value_for(column, data) for column in table.columns} | words_of(table)
            values["id"] = 7
            for key in table.foreign_keys:
                own = key.column.table.name
                values[key.parent.name] = (
                    1 if own in FILLED - {"machine"} else None if own == "machine" else 7
                )
            if table.name == "evidence":
                content = data.draw(st.binary(max_size=60)) if data else bytes(range(256))
                values |= {
                    "content": content,
                    "size": len(content),
                    "sha256": hashlib.sha256(content).hexdigest(),
                }
            if table.name == "proof":
                values["claim_line_id"] = None
            connection.execute(insert(table), values)
        named = {table.name: table for table in tables()}
        for name in ("party", "item"):
            note = "'" if data is None else data.draw(TEXT)
            connection.execute(update(named[name]).where(named[name].c.id == 1).values(note=note))


def files(folder: Path) -> dict[str, bytes]:
    found = {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    manifest = json.loads(found[MANIFEST])
    del manifest["written_at"]
    return found | {MANIFEST: json.dumps(manifest).encode()}


def test_a_store_goes_to_a_folder_to_a_server_to_a_folder_and_nothing_is_lost(
    sqlite_url: str, blank_postgres_url: str, tmp_path: Path
) -> None:
    enrich(sqlite_url, None)
    done = write_out(sqlite_url, str(tmp_path / "one"))
    assert all(done.rows.values()), "each table has a row"
    limit = csv.field_size_limit()
    read_in(str(tmp_path / "one"), blank_postgres_url)
    assert csv.field_size_limit() == limit, "lists of users are read in the same process"
    write_out(blank_postgres_url, str(tmp_path / "two"))
    assert files(tmp_path / "one") == files(tmp_path / "two")
    with writing(blank_postgres_url) as session:  # new rows are numbered behind those read in
        session.execute(insert(tables()[0].metadata.tables["party"]).values(name="new", kind="person"))


@settings(max_examples=5, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_whatever_the_rows_hold_they_come_back(sqlite_template: str, data: st.DataObject) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        store = str(shutil.copy(sqlite_template, folder / "a.db"))
        enrich(store, data)
        write_out(store, str(folder / "one"))
        read_in(str(folder / "one"), str(folder / "b.db"))
        write_out(str(folder / "b.db"), str(folder / "two"))
        assert files(folder / "one") == files(folder / "two")
        close_engines()


@pytest.fixture
def written(sqlite_url: str, tmp_path: Path) -> Path:
    enrich(sqlite_url, None)
    write_out(sqlite_url, str(tmp_path / "out"))
    return tmp_path / "out"


def reseal(folder: Path) -> None:
    """Make the manifest agree with files that were changed: who meddles can do that too."""
    manifest = json.loads((folder / MANIFEST).read_text())
    manifest["files"] = {
        name: hashlib.sha256((folder / name).read_bytes()).hexdigest() for name in manifest["files"]
    }
    (folder / MANIFEST).write_text(json.dumps(manifest))


def test_no_cell_begins_a_formula(written: Path) -> None:
    for path in written.glob("*.csv"):
        for line in path.read_text(encoding="utf-8").split("\r\n"):
            assert not line.startswith(("=", "+", "@")), path.name
            assert not re.search(r',"?[=+@]', line), path.name


def test_a_changed_missing_or_strange_folder_is_refused_and_leaves_no_store(
    written: Path, tmp_path: Path
) -> None:
    store = tmp_path / "new.db"

    def refused(kind: type[Exception], said: str) -> None:
        with pytest.raises(kind, match=said):
            read_in(str(written), str(store))
        assert not store.exists()

    party = (written / "party.csv").read_bytes()
    (written / "party.csv").write_bytes(party + b"9,x\r\n")
    refused(BadExport, "party.csv is not as it was written out")
    reseal(written)
    refused(BadExport, "party.csv, line")
    (written / "party.csv").write_bytes(party)
    item = (written / "item.csv").read_bytes()
    (written / "item.csv").write_bytes(item.replace(b",good,1,", b",good,41,", 1))
    reseal(written)
    refused(BadExport, "does not agree with its ledger: item")
    (written / "item.csv").unlink()
    refused(BadExport, "item.csv can't be read")
    (written / "item.csv").write_bytes(item)
    reseal(written)
    (photo,) = (written / EVIDENCE).iterdir()
    photo.write_bytes(b"other")
    reseal(written)
    refused(BadExport, "evidence 7")
    manifest = json.loads((written / MANIFEST).read_text())
    (written / MANIFEST).write_text(json.dumps(manifest | {"files": {"../../etc/passwd": "0"}}))
    refused(BadExport, "other tables|outside of it")
    (written / MANIFEST).write_text(json.dumps(manifest | {"store_version": "9999"}))
    refused(StoreNewer, "newer crib")
    (written / MANIFEST).write_text("[]")
    refused(BadExport, "no folder that crib has written out")


def test_nothing_is_written_over(written: Path, sqlite_url: str, tmp_path: Path) -> None:
    with pytest.raises(NotPossible, match="is there already"):
        write_out(sqlite_url, str(written))
    with pytest.raises(NotPossible, match="not blank"):
        read_in(str(written), sqlite_url)
    with pytest.raises(StoreMissing):
        write_out(str(tmp_path / "none.db"), str(tmp_path / "x"))
    assert not (tmp_path / "x").exists()

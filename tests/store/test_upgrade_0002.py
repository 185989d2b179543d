"""A store of the first version comes to ours: a copy beside it, all rows as they were."""

import os
import sqlite3
import stat
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import inspect, text

from crib.errors import NotPossible
from crib.store.address import parse
from crib.store.engine import close_engines, engine_for
from crib.store.models import Proven
from crib.store.read import reading
from crib.store.upgrade import HEAD, open_store
from crib.store.writing import writing

# plain SQL: our models already have what the second version adds
ROWS = (
    "INSERT INTO party (id, name, kind, mark) VALUES (1, 'Ada Quill', 'person', 'AQ')",
    "INSERT INTO place (id, name, kind, path, site_id) VALUES (1, 'shop', 'site', 'shop', 1)",
    "INSERT INTO place (id, name, kind, path, parent_id, site_id) "
    "VALUES (2, 'mill', 'machine', 'shop / mill', 1, 1)",
    "INSERT INTO machine (place_id, kind, power_kw, facing_head, head_speed_limit_rev_min, note) "
    "VALUES (2, 'boring mill', 7.5, TRUE, 80, 'plate read')",
    "INSERT INTO machine_speed (machine_id, n_rev_min) VALUES (2, 20), (2, 40)",
    "INSERT INTO machine_feed (machine_id, f_mm) VALUES (2, 0.1)",
    "INSERT INTO setting (key, value) VALUES ('site', 'shop')",
    "INSERT INTO item (id, tag, kind, label, owner_id, place_id, site_id, condition, quantity, norm, tok, "
    "tag_code) VALUES (1, 'H01', 'holder', 'left holder', 1, 1, 1, 'good', 1, 'H01', 'left holder', 'H01')",
    "INSERT INTO ledger (id, at, what, item_id, quantity_change, why) "
    "VALUES (1, '2026-01-05 08:00:00', 'added', 1, 1, 'list')",
)
REPLACING = (
    "INSERT OR REPLACE INTO proven (id, at, material, tool_material, operation, conditions, vc_m_min) "
    "VALUES (1, '2026-01-12', 'steel', 'HSS', 'turning', '', 90)"
)
SECOND_MONDAY = datetime(2026, 1, 12, 8, tzinfo=UTC)


@pytest.fixture
def first_version(blank_url: str) -> str:
    """A store as the first migration alone makes it, with a few rows."""
    return made_by_the_first(blank_url)


def made_by_the_first(url: str) -> str:
    address = open_store(url, create=True, head="0001")
    with engine_for(address).begin() as connection:
        for row in ROWS:
            connection.execute(text(row))
    return url


def rows_of(url: str) -> dict[str, tuple[tuple[str, ...], list[tuple[object, ...]]]]:
    """Give every table's columns and rows; the search index and Alembic's own table left out."""
    with engine_for(parse(url)).connect() as connection:
        names = [name for name in inspect(connection).get_table_names() if "item_search" not in name]
        found = {}
        for name in sorted({*names} - {"alembic_version"}):
            found_there = {column["name"] for column in inspect(connection).get_columns(name)}
            columns = tuple(sorted(found_there - {"search"}))  # the index of one engine
            listed = ", ".join(f'"{column}"' for column in columns)
            rows = [
                tuple(row) for row in connection.execute(text(f"SELECT {listed} FROM {name} ORDER BY 1, 2"))
            ]
            found[name] = (columns, rows)
        return found


def test_every_row_is_as_it_was_and_a_copy_lies_beside_it(first_version: str) -> None:
    before = rows_of(first_version)
    assert "proven" not in before
    assert sum(len(rows) for _, rows in before.values()) == len(ROWS) + 1  # two speeds in one statement
    with reading(first_version) as crib:  # the first reading brings it to our version
        (machine,) = crib.machines()
        assert (machine.head_speed_limit_rev_min, machine.head_tangential_limit_m_min) == (80.0, None)
        assert machine.speeds_rev_min == (20.0, 40.0)
        assert crib.proven(withdrawn=True) == ()
    after = rows_of(first_version)
    assert after["proven"][1] == []
    for name, (columns, rows) in before.items():
        now, found = after[name]
        places = [now.index(column) for column in columns]  # a column that came later is empty
        assert [tuple(row[at] for at in places) for row in found] == rows, name
        assert all(row[at] is None for row in found for at in {*range(len(now))} - {*places}), name


def test_the_copy_beside_a_file_is_the_first_version_still(tmp_path: Path) -> None:
    first_version = made_by_the_first(str(tmp_path / "crib.db"))
    address = parse(first_version)
    open_store(first_version)
    copy = f"{address.path}.before-{HEAD}.db"
    assert stat.S_IMODE(os.stat(copy).st_mode) == 0o600
    with closing(sqlite3.connect(copy)) as bare:
        assert bare.execute("SELECT version_num FROM alembic_version").fetchall() == [("0001",)]
        assert bare.execute("SELECT power_kw, note FROM machine").fetchall() == [(7.5, "plate read")]


def test_the_ledger_s_guard_still_stands(first_version: str) -> None:
    open_store(first_version)
    with pytest.raises(NotPossible, match="never"), writing(first_version) as session:
        session.execute(text("UPDATE ledger SET why = 'x'"))


@pytest.fixture
def with_one(store_url: str) -> str:
    """A store with one proven speed."""
    with writing(store_url) as session:
        session.add(
            Proven(
                at=SECOND_MONDAY, material="steel", tool_material="HSS", operation="turning", vc_m_min=25.0
            )
        )
    return store_url


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM proven",
        "UPDATE proven SET vc_m_min = 90",
        "UPDATE proven SET note = 'better'",
        REPLACING,
    ],
)
def test_a_proven_speed_is_never_changed_or_deleted(with_one: str, statement: str) -> None:
    if statement is REPLACING and not parse(with_one).is_file:
        statement = "TRUNCATE proven"  # what that engine has for it
    with pytest.raises(NotPossible, match="withdrawn, never"), writing(with_one) as session:
        session.execute(text(statement))
    close_engines()
    with reading(with_one) as crib:
        assert [(row.vc_m_min, row.note) for row in crib.proven()] == [(25.0, None)]


def test_a_proven_speed_can_be_withdrawn(with_one: str) -> None:
    with writing(with_one) as session:
        session.get_one(Proven, 1).withdrawn_at = SECOND_MONDAY
    with reading(with_one) as crib:
        assert crib.proven() == ()
        assert [row.withdrawn_at for row in crib.proven(withdrawn=True)] == [SECOND_MONDAY]


@pytest.mark.parametrize("figures", [{"vc_m_min": 0.0}, {"vc_m_min": 20.0, "f_mm": -0.1}])
def test_figures_are_more_than_zero(store_url: str, figures: dict[str, float]) -> None:
    with pytest.raises(NotPossible), writing(store_url) as session:
        session.add(
            Proven(at=SECOND_MONDAY, material="a", tool_material="HSS", operation="turning", **figures)
        )

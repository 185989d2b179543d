"""Every figure of the trade says where it comes from."""

from pathlib import Path

import pytest

from crib.trade import tables

NAMES = sorted(path.stem for path in Path(tables.FOLDER).glob("*.csv"))


@pytest.mark.parametrize("name", NAMES)
def test_every_row_names_known_sources(name: str) -> None:
    known = tables.sources()
    rows = tables.rows(name)
    assert rows, "an empty table"
    for number, row in enumerate(rows, start=2):
        assert None not in row, f"{name}.csv line {number} has more fields than columns"
        keys = row.get("source", "").split()
        assert keys, f"{name}.csv line {number} names no source"
        assert set(keys) <= set(known), f"{name}.csv line {number}: {set(keys) - set(known)}"


def test_every_source_is_of_a_known_kind_and_has_a_title() -> None:
    for source in tables.sources().values():
        assert source.kind in tables.KINDS, source.key
        assert source.title, source.key
        assert source.cite().startswith(source.title)

"""Designations against the published standards: designations.csv names the standard of every row.

Lengths agree within 0.01 mm, tolerances within 0.0005 mm.
"""

import csv
import json
from pathlib import Path

import pytest

from crib.errors import BadDesignation
from crib.trade import tables
from crib.trade.designation import Letters, read

TEXT = Path(__file__).with_name("designations.csv").read_text(encoding="utf-8")
ROWS = tuple(csv.DictReader(TEXT.splitlines()))
VALID = [row for row in ROWS if row["valid"] == "yes"]
WRONG = [row for row in ROWS if row["valid"] == "no"]


@pytest.fixture(scope="module")
def letters() -> Letters:
    return Letters(tables.rows)


def test_the_file_holds_what_it_should() -> None:
    assert len(VALID) == 160
    assert len(WRONG) == 29
    assert all(row["source"] for row in ROWS)


@pytest.mark.parametrize("row", VALID, ids=[row["designation"] for row in VALID])
def test_reads_as_the_standard_says(row: dict[str, str], letters: Letters) -> None:
    reading = read(row["designation"], letters)
    assert (reading.kind, reading.system) == (row["kind"], row["system"])
    for key, wanted in json.loads(row["expected"]).items():
        found: object = reading
        for part in key.split("."):
            found = getattr(found, part)
        if isinstance(wanted, float):
            wanted = pytest.approx(wanted, abs=0.0005 if key.startswith("tolerance") else 0.01)
        assert found == wanted, f"{row['designation']} {key}, by {row['source']}"


@pytest.mark.parametrize("row", WRONG, ids=[row["designation"] for row in WRONG])
def test_says_where_it_leaves_the_standard(row: dict[str, str], letters: Letters) -> None:
    wanted = json.loads(row["expected"])
    with pytest.raises(BadDesignation) as caught:
        read(row["designation"], letters)
    error = caught.value
    assert error.position == wanted["position"], row["source"]
    assert error.details["character"] == wanted["character"]
    if "starts" in wanted:
        assert wanted["starts"] in error.found
    assert error.expected
    assert error.hint

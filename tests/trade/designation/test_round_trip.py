"""Reading and writing are each other's inverse over the cross product of the standards' tables.

The whole product: python -m tests.designation_product
"""

import pytest
from designation_product import Family, families, fault

from crib.trade import tables
from crib.trade.designation import Letters, read
from crib.trade.designation.encode import write
from crib.trade.designation.spec import spec_of

LETTERS = Letters(tables.rows)


@pytest.mark.parametrize("family", families(), ids=lambda family: family.name)
def test_every_symbol_beside_every_other_comes_back(family: Family) -> None:
    tried, wrong = 0, []
    for parts in family.pairs(seed=1832):
        tried += 1
        said = fault(family, parts)
        if said is not None:
            wrong.append(said)
    assert tried > 1000
    assert wrong[:5] == []


@pytest.mark.parametrize(
    ("old", "present"),
    [("SPGD632", "SPGD1.51.52"), ("TPGE521", "TPGE1.211"), ("SNG432", "SNGN432"), ("TPG322", "TPGN322")],
)
def test_older_inch_codes_come_back_in_the_present_form(old: str, present: str) -> None:
    """ANSI B212.4: under 1/4 in the older rule counted 1/32 in; a missing type letter means no hole."""
    reading = read(old, LETTERS)
    written = write(spec_of(reading), LETTERS)
    assert written.designation == present
    again = read(present, LETTERS)
    for field in ("IC_mm", "L_mm", "S_mm", "RE_mm", "AN_deg", "fixing"):
        assert getattr(again, field) == getattr(reading, field), field

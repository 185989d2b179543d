"""Does the insert go into the holder?"""

import pytest

from crib.trade import tables
from crib.trade.designation import BarReading, HolderReading, InsertReading, Letters, read
from crib.trade.designation.fit import Fit, fits

LETTERS = Letters(tables.rows)


def tried(holder: str, insert: str) -> Fit:
    tool, shape = read(holder, LETTERS), read(insert, LETTERS)
    assert isinstance(tool, HolderReading | BarReading)
    assert isinstance(shape, InsertReading)
    return fits(tool.seat(), shape.shape())


@pytest.mark.parametrize(
    ("holder", "insert"),
    [
        ("MWLNL2525M08", "WNMG080408"),
        ("MWLNL2525M08", "WNMG432"),
        ("PCLNR2525M12", "CNMG120412"),
        ("MCLNR 16-4D", "CNMG120408"),
        ("SVJBL2020K16", "VBMT160404"),
        ("S25R-SCLCR09", "CCMT09T308"),
        ("S16T-SCLCR3", "CCMT32.51"),
        ("S16T-SCLCR3", "CCMT09T304"),
        ("SRDCN2020K10", "RCMT10T3M0"),
        ("CTFPR2525M16", "TPUN160308"),
        ("CKJNR2525M16", "KNUX160405R11"),
        ("S25R-STFCR16", "TCMT16T304L"),
    ],
)
def test_pairs_that_fit(holder: str, insert: str) -> None:
    fit = tried(holder, insert)
    assert fit.ok, fit.why
    assert "thickness" in fit.why
    assert all(check.ok for check in fit.checks)


@pytest.mark.parametrize(
    ("holder", "insert", "field"),
    [
        ("MWLNL2525M08", "CNMG120408", "SC"),
        ("MWLNL2525M08", "WNMG060408", "IC_mm"),
        ("SVJBL2020K16", "VCMT160404", "AN_deg"),
        ("SRDCN2020K10", "RCMT1204M0", "size"),
        ("PCLNR2525M12", "CNMN120408", "hole"),
        ("SCLCR1212F09", "CCMA09T308", "hole"),
        ("CKJNR2525M16", "KNUX160405L11", "HAND"),
        ("S16T-SCLCR3", "CCMT21.51", "IC_mm"),
    ],
)
def test_pairs_that_do_not_fit_say_what_differs_first(holder: str, insert: str, field: str) -> None:
    fit = tried(holder, insert)
    assert not fit.ok
    assert fit.why.startswith(field)
    assert next(check for check in fit.checks if not check.ok).field == field

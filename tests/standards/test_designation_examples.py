"""Further examples that standards and handbooks print, each with the standard beside it."""

import pytest

from crib.trade import tables
from crib.trade.designation import BarReading, HolderReading, InsertReading, Letters, read

LETTERS = Letters(tables.rows)


def test_the_example_of_ansi_b212_4_1986() -> None:
    """ANSI B212.4-1986: positions 1 to 8 of T N M G 5 4 3 A, as restated in a trade guide."""
    reading = read("TNMG 543A", LETTERS)
    assert isinstance(reading, InsertReading)
    found = [(place.position, place.found) for place in reading.positions]
    assert found[:7] == [(1, "T"), (2, "N"), (3, "M"), (4, "G"), (5, "5"), (6, "4"), (7, "3")]
    assert (reading.IC_mm, reading.S_mm) == (15.875, 6.35)
    assert reading.RE_mm == pytest.approx(3 / 64 * 25.4, abs=0.001)
    assert reading.other_conditions == "A"  # 1986: ground all over, lightly honed
    assert reading.fixing.chipbreaker_faces == 2


def test_the_example_of_din_4983() -> None:
    """DIN 4983, example P C L N R 16 16 H 12 with its nine positions, as reproduced in a catalogue."""
    reading = read("PCLNR 1616 H12", LETTERS)
    assert isinstance(reading, HolderReading)
    found = [place.found for place in reading.positions]
    assert found == ["P", "C", "L", "N", "R", "16", "16", "H", "12"]
    assert [place.position for place in reading.positions] == list(range(1, 10))
    assert (reading.H_mm, reading.B_mm, reading.LF_mm) == (16, 16, 100)


def test_cartridges_by_din_4983() -> None:
    """DIN 4983: the cutting edge's height, then CA in place of the width."""
    reading = read("PCLNR 16CA-12", LETTERS)
    assert isinstance(reading, HolderReading)
    assert (reading.H_mm, reading.B_mm, reading.cartridge, reading.size) == (16, None, "A", "12")


@pytest.mark.parametrize(
    ("letter", "LF_mm"),
    list(zip("ABCDEFGHJKLMN", (32, 40, 50, 60, 70, 80, 90, 100, 110, 125, 140, 150, 160), strict=True)),
)
def test_lengths_by_din_4983(letter: str, LF_mm: float) -> None:
    """DIN 4983, lengths A to N."""
    assert read(f"PCLNR2525{letter}12", LETTERS).LF_mm == LF_mm  # type: ignore[union-attr]  # a holder


@pytest.mark.parametrize(
    ("seat", "L_mm", "size"),
    [("STFCR", 16.498, "16"), ("SRDCN", None, "15"), ("SSKCR", 9.525, "09"), ("SSKCR", 15.875, "15")],
)
def test_insert_sizes_by_gost_iso_5609(seat: str, L_mm: float | None, size: str) -> None:
    """GOST ISO 5609-2015, table 7: 16.5 -> 16, diameter 15.875 -> 15, 9.525 -> 09, decimals dropped."""
    hand = "R" if seat[-1] == "N" else seat[-1]
    reading = read(f"S25R-{seat[:-1]}{hand}{size}", LETTERS)
    assert isinstance(reading, BarReading)
    assert reading.size == size
    assert reading.L_mm == (None if L_mm is None else pytest.approx(L_mm, abs=0.001))


@pytest.mark.parametrize(
    ("IC_in", "codes"),
    [
        ("5/32", {"V": "06", "D": "04", "S": "03", "T": "06", "W": "02"}),
        ("3/16", {"V": "08", "D": "05", "C": "04", "S": "04", "T": "08", "W": "L3"}),
        ("7/32", {"V": "09", "D": "06", "C": "05", "S": "05", "T": "09", "W": "03"}),
        ("1/4", {"V": "11", "D": "07", "C": "06", "S": "06", "T": "11", "W": "04"}),
        ("5/16", {"V": "13", "D": "09", "C": "08", "S": "07", "T": "13", "W": "05"}),
        ("3/8", {"V": "16", "D": "11", "C": "09", "S": "09", "T": "16", "W": "06"}),
        ("1/2", {"V": "22", "D": "15", "C": "12", "S": "12", "T": "22", "W": "08"}),
        ("5/8", {"V": "27", "D": "19", "C": "16", "S": "15", "T": "27", "W": "10"}),
    ],
)
def test_sizes_by_iso_1832_2012(IC_in: str, codes: dict[str, str]) -> None:
    """ISO 1832:2012, edge length code of each shape by inscribed circle, as reproduced in a code key."""
    above, below = map(int, IC_in.split("/"))
    for shape, code in codes.items():
        reading = read(f"{shape}NMG{code}0408", LETTERS)
        assert isinstance(reading, InsertReading)
        assert reading.IC_mm == pytest.approx(above / below * 25.4, abs=0.001), shape


@pytest.mark.parametrize(
    ("size", "d_M", "m_M", "d_U", "m_U"),
    [
        ("06", 0.05, 0.08, 0.08, 0.13), ("09", 0.05, 0.08, 0.08, 0.13), ("12", 0.08, 0.13, 0.13, 0.20),
        ("15", 0.10, 0.15, 0.18, 0.27), ("19", 0.10, 0.15, 0.18, 0.27), ("25", 0.13, 0.18, 0.25, 0.38),
    ],
)  # fmt: skip
def test_tolerances_of_classes_m_and_u_by_size(
    size: str, d_M: float, m_M: float, d_U: float, m_U: float
) -> None:
    """ISO 1832, tolerances of d and m by inscribed circle, as printed on a teaching page of a code key."""
    for class_, d_mm, m_mm in (("M", d_M, m_M), ("U", d_U, m_U)):
        reading = read(f"SN{class_}G{size}0408", LETTERS)
        assert isinstance(reading, InsertReading)
        assert (reading.tolerance.d_mm, reading.tolerance.m_mm) == (d_mm, m_mm)


@pytest.mark.parametrize(
    ("iso", "ansi", "S_in"),
    [("01", "1", "1/16"), ("T1", "1.2", "5/64"), ("02", "1.5", "3/32"), ("03", "2", "1/8"),
     ("T3", "2.5", "5/32"), ("04", "3", "3/16"), ("05", "3.5", "7/32"), ("06", "4", "1/4"),
     ("07", "5", "5/16"), ("09", "6", "3/8")],
)  # fmt: skip
def test_thickness_in_both_standards(iso: str, ansi: str, S_in: str) -> None:
    """ISO 1832:2012 and ANSI B212.4, thickness side by side as reproduced in a code key (two decimals)."""
    above, below = map(int, S_in.split("/"))
    metric, inch = read(f"SNMG12{iso}08", LETTERS), read(f"SNMG4{ansi}2", LETTERS)
    assert isinstance(metric, InsertReading)
    assert isinstance(inch, InsertReading)
    assert metric.S_mm == inch.S_mm == pytest.approx(above / below * 25.4, abs=0.006)
    assert (metric.equivalent, inch.equivalent) == (inch.designation, metric.designation)

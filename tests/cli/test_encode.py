"""crib encode: from dimensions to the code, in any unit, and back."""

import pytest
from commands import Crib

CNMG = ("--shape", "C", "--clearance", "N", "--tolerance", "M", "--fixing", "G", "--ic", "12.7",
        "--thickness", "4.76", "--nose", "0.8")  # fmt: skip


@pytest.fixture
def crib(capsys: pytest.CaptureFixture[str]) -> Crib:
    return Crib(capsys)


def test_an_insert_in_both_systems(crib: Crib) -> None:
    ran = crib("encode", "insert", *CNMG)
    assert ran.status == 0
    assert ran.lines[0] == "CNMG120408 = CNMG432 (nearest)"
    document = crib.json("encode", "insert", *CNMG)
    assert document["designation"] == "CNMG120408"
    assert document["equivalent"] == "CNMG432"
    assert document["equivalent_exact"] is False
    assert all(document["exact"].values())
    assert document["notes"] == []


@pytest.mark.parametrize(
    ("typed", "code", "nearest"),
    [
        (("--ic", "1/2 in", "--thickness", '3/16"', "--nose", "1/32 in"), "CNMG120408", ["RE_mm"]),
        (("--ic", "13 mm"), "CNMG120408", ["IC_mm"]),
        (("--clearance", "7 deg"), "CCMG120408", []),
        (("--system", "inch", "--units", "metric"), "CNMG432", ["RE_mm"]),
        (("--system", "inch", "--ic", "0.5", "--thickness", "0.1875", "--nose", "1/32"), "CNMG432", []),
        (("--units", "inch", "--ic", "0.5", "--thickness", ".1875", "--nose", "0.8 mm"), "CNMG120408", []),
        (("--edge-condition", "T", "--chamfer", "0.1", "--chamfer-angle", "20"), "CNMG120408T01020", []),
        (("--hand", "l", "--suffix", "AB"), "CNMG120408L-AB", []),
    ],
)
def test_measures_in_any_unit_and_what_is_only_nearest(
    crib: Crib, typed: tuple[str, ...], code: str, nearest: list[str]
) -> None:
    document = crib.json("encode", "insert", *CNMG, *typed)
    assert document["designation"] == code
    assert [name for name, exact in document["exact"].items() if not exact] == nearest
    assert len(document["notes"]) >= len(nearest)


def test_beginning_with_a_code(crib: Crib) -> None:
    assert (
        crib("encode", "insert", "--like", "CNMG120408", "--nose", "1.2").lines[0].startswith("CNMG120412 ")
    )
    assert (
        crib("encode", "insert", "--like", "CNMG120408", "--corner", "PD").lines[0].startswith("CNMG1204PD ")
    )
    held = crib("encode", "holder", "--like", "PCLNR2525M12", "--hand", "L", "--length", "125")
    assert held.lines[0] == "PCLNL2525K12"
    bored = crib("encode", "bar", "--like", "S25R-SCLCR09", "--type", "A", "--diameter", "1 in")
    assert bored.lines[0] == "A25R-SCLCR09"
    assert "DCON_mm" in bored.lines[1]


def test_holders_and_bars(crib: Crib) -> None:
    seat = ("--clamping", "P", "--shape", "C", "--clearance", "N", "--hand", "R", "--kapr", "95")
    shank = ("--height", "25", "--width", "25", "--length", "150", "--ic", "12.7")
    assert crib.json("encode", "holder", *seat, *shank)["designation"] == "PCLNR2525M12"
    head = ("--coupling", "C5", "--offset", "35", "--length", "60", "--size", "12")
    assert crib.json("encode", "holder", *seat, *head)["designation"] == "C5-PCLNR-35060-12"
    bar = ("--type", "S", "--diameter", "25", "--length", "200", "--edge", "12.9")
    assert crib.json("encode", "bar", *seat, *bar)["designation"] == "S25R-PCLNR12"


@pytest.mark.parametrize(
    ("typed", "said", "field"),
    [
        (("insert", "--shape", "C"), "--thickness", None),
        (("insert", *CNMG, "--shape", "Y"), "SC", "SC"),
        (("insert", *CNMG, "--ic", "50"), "IC_mm", "IC_mm"),
        (("insert", *CNMG, "--ic", "5 kN"), "length", None),
        (("insert", *CNMG, "--chamfer", "0.1"), "edge_condition", "edge_condition"),
        (("insert", "--like", "PCLNR2525M12"), "holder", None),
        (("insert", "--like", "XYZ"), "XYZ", None),
        (("holder", "--like", "PCLNR2525M12", "--kapr", "93"), "style", "style"),
        (("bar", "--like", "S25R-SCLCR09", "--hand", "N"), "HAND", "HAND"),
    ],
)
def test_what_no_code_can_state(crib: Crib, typed: tuple[str, ...], said: str, field: str | None) -> None:
    error = crib.error("encode", *typed, status=2)
    assert said in error["message"]
    assert error.get("field") == field
    assert error["hint"]

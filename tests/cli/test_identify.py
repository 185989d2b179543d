"""crib identify and crib fit, in text and as JSON."""

from pathlib import Path

import pytest
from commands import Crib


def test_a_worn_code(crib: Crib) -> None:
    ran = crib("identify", "CNM? 12?4 08")
    assert ran.status == 0
    assert ran.lines[0].startswith("CNM? 12?4 08 can be 45 codes")
    assert "I11" in ran.lines[1]
    assert "  insert, metric, position 6: 04 14 T4" in ran.lines
    assert ran.lines[-1].startswith("Next: ")


def test_a_worn_code_as_json(crib: Crib) -> None:
    answer = crib.json("identify", "CNM? 12?4 08", "--limit", "3")
    assert answer["total"] == 45
    assert answer["complete"] is True
    assert len(answer["candidates"]) == 3
    assert answer["candidates"][0]["have"] == "on site"
    assert {item["on_site"] for item in answer["on_site"]} == {True}
    assert {item["on_site"] for item in answer["elsewhere"]} == {False}
    position = next(p for p in answer["positions"] if p["position"] == 6)
    assert [option["code"] for option in position["options"]] == ["04", "14", "T4"]
    assert all(option["meaning"] for option in position["options"])


def test_words_of_a_code_are_joined(crib: Crib) -> None:
    assert crib.json("identify", "CNM?", "12?4", "08") == crib.json("identify", "CNM? 12?4 08")


def test_measured(crib: Crib) -> None:
    sizes = (
        "--shape",
        "80 degree",
        "--ic",
        "1/2 in",
        "--thickness",
        "4.8",
        "--nose",
        "0.8",
        "--error",
        "0.1",
    )
    answer = crib.json("identify", *sizes)
    assert [one["code"] for one in answer["candidates"][:2]] == ["C???120408", "W???080408"]
    assert answer["candidates"][0]["equivalent"] == "C???432"
    assert answer["candidates"][0]["misfit"] == pytest.approx((0.04 / 0.23) ** 2)  # error 0.1, class U 0.13
    text = crib("identify", *sizes, "--hole")
    assert text.status == 0
    assert any(line.startswith("To tell: compare the outline") for line in text.lines)
    assert any(line.startswith("Assumed: nose radius") for line in text.lines)


def test_nothing_fits(crib: Crib) -> None:
    assert crib.json("identify", "CNM?", status=1)["total"] == 0
    answer = crib.json("identify", "--shape", "square", "--ic", "13.4", status=1)
    assert answer["total"] == 0
    assert answer["candidates"]


@pytest.mark.parametrize(
    "arguments",
    [
        (), ("????",), ("CNM?120408", "--ic", "12.7"), ("--ic", "5 kg"), ("--shape", "banana", "--ic", "12"),
        ("--nose", "0.8"),
    ],
)  # fmt: skip
def test_bad_input(crib: Crib, arguments: tuple[str, ...]) -> None:
    assert crib.error("identify", *arguments, status=2)["hint"]


def test_without_a_store(crib: Crib, tmp_path: Path) -> None:
    store = tmp_path / "none.db"
    answer = crib.json("identify", "CNM?120408", "--db", str(store))
    assert answer["stock_known"] is False
    assert answer["total"] == 15
    assert not store.exists()


def test_decode_sends_worn_codes_to_identify(crib: Crib) -> None:
    assert "crib identify" in crib.error("decode", "CNM?120408", status=2)["hint"]


def test_fit(crib: Crib) -> None:
    ran = crib("fit", "MWLNL2525M08", "WNMG080408")
    assert ran.status == 0
    assert ran.lines[0] == "WNMG080408 goes into MWLNL2525M08."
    ran = crib("fit", "CNMG120404", "MWLNL", "2525M08")
    assert ran.status == 1
    assert "shape C, where it takes W" in ran.lines[0]
    assert any(line.lstrip().startswith("FAILS shape") for line in ran.lines)


def test_fit_as_json(crib: Crib) -> None:
    answer = crib.json("fit", "S25R-SCLCR09", "CNMG120408", status=1)
    assert [check["field"] for check in answer["checks"] if not check["ok"]] == ["AN_deg", "IC_mm", "hole"]
    assert answer["bores"][0]["dmin_mm"] == 32
    assert answer["partners"]["total"] == 7
    alone = crib.json("fit", "WNMG080408")
    assert alone["partners"]["total"] == 5
    assert {item["kind"] for item in alone["partners"]["items"]} <= {"holder", "bar"}
    assert crib.error("fit", "WNMG080408", "CNMG120408", status=2)["hint"]

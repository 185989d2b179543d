"""Text on record is data: shown to people without its controls, given to programs as it was written."""

import unicodedata
from pathlib import Path

import pytest
from commands import Crib
from small_shop import open_shop

HOSTILE = {
    "markup": "[bold red]not markup[/] <b>&amp;</b>",
    "escape": "\x1b]0;title\x07\x1b[2Jcleared\x9b31m",
    "formula": "=cmd|' /C calc'!A0",
    "direction": "left \u202e dnah thgir \u202c hand",
    "break": "one line\r\nFORGED: 0 differences",
    "very long": "x" * 9_999,
    "wide": "工具 🔧 é",
}


@pytest.fixture(params=list(HOSTILE.values()), ids=list(HOSTILE))
def shop(request: pytest.FixtureRequest, sqlite_url: str, tmp_path: Path) -> tuple[str, str]:
    """A store whose every free text is hostile, and that text."""
    text: str = request.param
    cell = '"' + text.replace('"', '""') + '"'
    items = (
        "tag,kind,code,label,owner,place,note,mark,serial,tool_material\n"
        f"H1,holder,PCLNR2525M12,{cell},Ada Quill,shop,{cell},{cell},{cell},\n"
        f"I1,insert,CNMG120408,{cell},Ada Quill,shop,{cell},,,coated carbide\n"
    )
    return open_shop(sqlite_url, tmp_path / "lists", items=items), text


def controls(text: str) -> list[str]:
    return [ch for ch in text if ch != "\n" and unicodedata.category(ch) in ("Cc", "Cf")]


CUT = ("--op", "turn", "--material", "1045", "--from", "95", "--to", "90", "--machine", "lathe")


@pytest.mark.parametrize(
    "arguments", [("find", "tag=H1"), ("show", "H1"), ("pick", *CUT), ("find", "holder")]
)
def test_people_see_it_without_its_controls(
    crib: Crib, shop: tuple[str, str], arguments: tuple[str, ...]
) -> None:
    store, text = shop
    ran = crib(*arguments, "--db", store)
    assert ran.status == 0
    assert controls(ran.out) == []
    # a record cannot forge a line of the answer
    assert not any(line.startswith("FORGED") for line in ran.lines)
    if arguments[0] != "pick":
        shown = "".join(ch if not controls(ch) and ch != "\n" else "�" for ch in text)
        assert shown in ran.out


def test_programs_get_it_as_it_was_written(crib: Crib, shop: tuple[str, str]) -> None:
    store, text = shop
    (item,) = crib.json("find", "tag=H1", "--db", store)["items"]
    assert (item["label"], item["note"], item["mark"]) == (text, text, text)
    told = crib.json("show", "H1", "--db", store)
    assert dict(told["facts"])["serial"] == text
    picked = crib.json("pick", *CUT, "--db", store)
    assert picked["candidates"][0]["holder"]["label"] == text


def test_a_refused_list_is_told_without_controls(crib: Crib, sqlite_url: str, tmp_path: Path) -> None:
    bad = tmp_path / "bad.csv"
    bad.write_text("tag,owner,place,kind\n\x1b[2JX1,\u202eNobody,[red]shop[/],spanner\x07\n")
    ran = crib("intake", str(bad), "--db", sqlite_url)
    assert ran.status == 2
    assert controls(ran.err) == []
    assert "spanner" in ran.err

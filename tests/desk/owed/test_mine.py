"""What shows that a tool is mine, the strongest first; and the sheets on which it was signed for."""

from pathlib import Path

import pytest
from pictures_made import photo

from crib.desk.doings.bring_in import bring_in, take_home
from crib.desk.owed import evidence
from crib.desk.owed.mine import STRENGTH, mine
from crib.desk.owed.sign_in import sign_sheet
from crib.errors import NothingFound


def test_what_is_on_record_and_what_is_missing_strongest_first(demo_address: str, tmp_path: Path) -> None:
    before = mine(demo_address, "H03")
    assert before.marks == ("marked T.A 3", "Tobin Ashgrove marks tools T.A")
    assert before.missing[:3] == STRENGTH[:3]
    for name, kind, on in (
        ("s", "statement", "2026-01-05"),
        ("p", "photo", "2025-02-28"),
        ("r", "receipt", ""),
    ):
        (tmp_path / name).write_bytes(photo(hue=ord(name)))
        evidence.add(demo_address, "H03", [str(tmp_path / name)], kind=kind, on=on, says=f"a {kind}")
    bring_in(demo_address, ["H03"], told="the foreman")
    after = mine(demo_address, "H03")
    assert [one.strength for one in after.shown] == sorted(one.strength for one in after.shown)
    assert [one.what.split(" no.")[0] for one in after.shown[:3]] == ["receipt", "photo", "statement"]
    assert "the foreman was told" in after.shown[-1].what
    assert after.missing == ()


def test_a_photo_without_a_day_is_weak(demo_address: str, tmp_path: Path) -> None:
    (tmp_path / "p").write_bytes(photo())
    evidence.add(demo_address, "H03", [str(tmp_path / "p")])
    found = mine(demo_address, "H03")
    assert "without a day" in found.shown[-1].what
    assert STRENGTH[1] in found.missing


def test_the_same_mark_on_another_s_tool_is_told(demo_address: str) -> None:
    # Tobin engraves T.A and Tamsin TA: on steel nobody sees the dot
    assert mine(demo_address, "D08").alike == ("B11 (Tobin Ashgrove)",)


def test_sheets_by_doing_by_day_and_of_all_that_are_here(demo_address: str) -> None:
    done = bring_in(demo_address, ["H03", "H11"], told="Wilf")
    by_act = sign_sheet(demo_address, "bring-in", act=done.act, owner="Tobin")
    by_day = sign_sheet(demo_address, "bring-in", since="today", owner="Tobin")
    assert [tool.item.tag for tool in by_act.tools] == [tool.item.tag for tool in by_day.tools]
    everything = sign_sheet(demo_address, "bring-in", owner="Tobin")
    assert {tool.item.tag for tool in everything.tools} > {tool.item.tag for tool in by_day.tools}
    entered = {tool.item.tag: (tool.on, tool.place) for tool in everything.tools}
    assert entered["H24"] == (None, "works / machine shop / Tobin's chest"), "entered here, and never brought"
    assert "H24" in everything.not_recorded
    assert not {"H03", "H11"} & set(everything.not_recorded)
    assert by_act.not_valued == tuple(tool.item.tag for tool in by_act.tools)
    take_home(demo_address, ["H03"])
    assert "H03" not in {tool.item.tag for tool in sign_sheet(demo_address, "bring-in", owner="Tobin").tools}
    (gone,) = sign_sheet(demo_address, "take-home", since="today", owner="Tobin").tools
    assert gone.item.tag == "H03"
    with pytest.raises(NothingFound):
        sign_sheet(demo_address, "bring-in", act="nothing", owner="Tobin")

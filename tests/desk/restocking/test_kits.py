"""A kit's needs in shop talk, matched to real tools; what is short stays short."""

import math
from pathlib import Path

import pytest
from small_shop import open_shop

from crib.desk.restocking.kit_match import KitMatch, Match, match
from crib.desk.restocking.kits import add_need, choose, drop_kit, drop_need, kit, kits, new_kit
from crib.desk.restocking.missing import set_parts
from crib.errors import InputError, NotPossible, UnknownName

ITEMS = """tag,kind,code,label,owner,place,condition,quantity,edges_left,lent_to
H1,holder,MWLNL2525M08,left holder,Moor End Works,shop / bay,good,1,,
H2,holder,MWLNL2020K08,left holder small,Bert Stone,shop / bay,good,1,,
H3,holder,MWLNL3232P08,left holder big,Ada Quill,Ada's home,good,1,,
I1,insert,WNMG080404,fine,Moor End Works,shop / bay,good,3,9,
I2,insert,WNMG080404,fine,Bert Stone,shop / bay,good,2,4,
I3,insert,WNMG080408,middling,Moor End Works,shop / bay,good,9,30,
I4,insert,WNMG060404,too small a seat,Moor End Works,shop / bay,new,9,54,
B1,bar,S25R-SCLCR09,bar 25,Moor End Works,shop / bay,good,1,,
X1,other,,parallels,Moor End Works,shop / bay,good,1,,Bert Stone
X2,other,,scribing block,Moor End Works,shop / bay,damaged,1,,
"""


@pytest.fixture
def shop(sqlite_url: str, tmp_path: Path) -> str:
    open_shop(sqlite_url, tmp_path / "lists", items=ITEMS)
    new_kit(sqlite_url, "ring")
    return sqlite_url


def matched(shop: str, *needs: tuple[str, int]) -> KitMatch:
    for need, count in needs:
        add_need(shop, "ring", need, quantity=count)
    return match(shop, "Ring")


def only(found: KitMatch) -> Match:
    (line,) = found.lines
    return line


def taken(line: Match) -> list[tuple[str, int, str]]:
    return [(one.tag, one.count, one.how) for one in line.got]


def test_the_easiest_to_have_comes_first_and_a_need_goes_over_batches(shop: str) -> None:
    line = only(matched(shop, ("WNMG 08 04 04", 4)))
    assert taken(line) == [("I1", 3, "have"), ("I2", 1, "borrow")]
    assert (line.state, line.short) == ("borrow", 0)


def test_what_is_short_stays_and_substitutes_say_what_they_cost(shop: str) -> None:
    line = only(matched(shop, ("WNMG080404", 7)))
    assert (line.state, line.short) == ("missing", 2)
    assert [offer.tool.tag for offer in line.substitutes] == ["I3"]  # another seat is no substitute
    (cost,) = line.substitutes[0].costs
    assert f"× {math.sqrt(0.8 / 0.4):.2f}" in cost  # ideal height f² / (8 RE)


def test_a_thinner_bar_says_how_much_it_gives(shop: str) -> None:
    line = only(matched(shop, ("S32S-SCLCR09", 1)))
    (offer,) = line.substitutes
    assert offer.tool.tag == "B1"
    assert any(f"1/{(32 / 25) ** 4:.1f} as stiff" in cost for cost in offer.costs)


def test_at_home_lent_and_damaged_are_told_apart(shop: str) -> None:
    found = matched(shop, ("MWLNL3232P08", 1), ("parallels", 1), ("scribing block", 1), ("sine table", 1))
    assert [line.state for line in found.lines] == ["at home", "out", "missing", "missing"]
    assert found.lines[1].got[0].from_ == "Bert Stone"
    assert found.lines[2].why == "X2 is damaged"
    assert [trip.place for trip in found.trips] == ["Ada's home", "Bert Stone has it"]


def test_a_tool_without_its_shim_is_offered_with_that_said(shop: str) -> None:
    set_parts(shop, "H1", missing=["shim"])
    line = only(matched(shop, ("MWLNL2525M08", 1)))
    assert (line.short, line.why) == (1, "H1 lacks its shim")
    by_tag = {offer.tool.tag: offer.costs for offer in line.substitutes}
    assert "its shim is missing" in by_tag["H1"][0]
    assert "pack it up" in by_tag["H2"][0]


def test_one_tool_answers_one_need_and_a_choice_goes_first(shop: str) -> None:
    found = matched(shop, ("holder for WNMG080404 2525", 1), ("MWLNL2525M08", 1))
    add_need(shop, "ring", "any holder", tag="H1")
    found = match(shop, "ring")
    assert [one.tag for line in found.lines for one in line.got].count("H1") == 1
    assert taken(found.lines[2]) == [("H1", 1, "have")]
    choose(shop, "ring", 3, "")
    assert taken(match(shop, "ring").lines[1]) == [("H1", 1, "have")]


def test_needs_that_say_nothing_are_said_and_keep_the_rest(shop: str) -> None:
    found = matched(shop, ("???x", 1), ("colour=red", 1), ("I1 and so on", 1), ("WNMG080404", 1))
    assert found.lines[1].why
    assert found.lines[3].state == "have"


def test_kits_are_kept_changed_and_refused_in_clear_words(shop: str) -> None:
    add_need(shop, "ring", "parallels")
    add_need(shop, "ring", "scribing block")
    drop_need(shop, "ring", 1)
    add_need(shop, "ring", "square")
    assert [(line.line_no, line.need) for line in kit(shop, "ring").lines] == [
        (2, "scribing block"),
        (3, "square"),
    ]
    with pytest.raises(NotPossible):
        new_kit(shop, "RING")
    for wrong in (lambda: new_kit(shop, " "), lambda: add_need(shop, "ring", "x" * 400)):
        with pytest.raises(InputError):
            wrong()
    with pytest.raises(InputError):
        add_need(shop, "ring", "square", quantity=0)
    for missing in (lambda: match(shop, "rong"), lambda: drop_need(shop, "ring", 9)):
        with pytest.raises(UnknownName):
            missing()
    assert drop_kit(shop, "ring").name == "ring"
    assert kits(shop) == ()

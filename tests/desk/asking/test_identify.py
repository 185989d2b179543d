"""What is this? Worn codes and measured parts beside the stock; and what fits what."""

from pathlib import Path

import pytest
from small_shop import open_shop

from crib.desk.asking.fitting import fitting
from crib.desk.asking.identify import NO_STORE, identify_code
from crib.desk.asking.identify_measured import Sizes, identify_sizes
from crib.errors import BadDesignation, InputError

ITEMS = """tag,kind,code,owner,place,quantity,dmin
I1,insert,CNMG120408-PM,Moor End Works,shop / bay,10,
I2,insert,CNMM432,Moor End Works,Ada's home,5,
I3,insert,CNMG120412,Moor End Works,shop / bay,5,
I4,insert,CCMT09T304,Moor End Works,shop / bay,5,
I5,insert,WNMG080408,Moor End Works,shop / bay,5,
H1,holder,PCLNL2525M12,Moor End Works,shop / bay,1,
H2,holder,PCLNR2020K12,Moor End Works,shop / bay,1,
B1,bar,S25R-SCLCR09,Moor End Works,shop / bay,1,32 mm
B2,bar,S20R-SCLCR09,Moor End Works,shop / bay,1,
"""


@pytest.fixture
def shop(store_url: str, tmp_path: Path) -> str:
    return open_shop(store_url, tmp_path / "lists", items=ITEMS)


@pytest.fixture
def nowhere(tmp_path: Path) -> str:
    return str(tmp_path / "none.db")


def tags(items: tuple) -> list[str]:
    return [item.tag for item in items]


# -- worn codes --------------------------------------------------------------------------------------------


def test_what_is_on_hand_comes_first(shop: str) -> None:
    found = identify_code(shop, "CNM? 12?4 08")
    assert tags(found.on_site) == ["I1"]  # with the maker's own symbol behind it
    assert tags(found.elsewhere) == ["I2"]  # recorded in the inch system, at home
    assert [(one.code, one.have) for one in found.candidates[:3]] == [
        ("CNMG120408", "on site"),
        ("CNMM120408", "elsewhere"),
        ("CNMG121408", ""),
    ]
    assert found.total == 45
    assert "45 codes" in found.verdict
    assert "I1" in found.next_step
    assert found.stock_known


def test_one_code_is_named(shop: str) -> None:
    found = identify_code(shop, "PCL?L2525M1?")
    assert found.total > 1
    found = identify_code(shop, "?5IN")  # nothing
    assert found.total == 0
    found = identify_code(shop, "CNM_120412", limit=1)
    assert len(found.candidates) == 1
    assert found.total == 15
    assert identify_code(shop, "CNMG12041_").verdict.startswith("CNMG12041_ can be")
    assert "is CNMG160612" in identify_code(shop, "CNM[G]160612").verdict


def test_bars_of_which_the_diameter_is_gone(shop: str) -> None:
    found = identify_code(shop, "S2?R-SCLCR09")
    assert sorted(tags(found.on_site)) == ["B1", "B2"]
    assert {one.have for one in found.candidates} == {"on site"}


def test_more_codes_than_are_listed_still_find_the_stock(shop: str) -> None:
    found = identify_code(shop, "C?M?12?4??", limit=5)
    assert not found.complete
    assert "at least" in found.verdict
    assert {"I1", "I3"} <= set(tags(found.on_site))


def test_nothing_fits_and_what_would(shop: str) -> None:
    found = identify_code(shop, "CNM?")
    assert (found.total, found.on_site) == (0, ())
    assert "crib identify 'CNM?*'" in found.next_step


def test_without_a_store(nowhere: str) -> None:
    found = identify_code(nowhere, "CNM?120408")
    assert not found.stock_known
    assert found.detail == NO_STORE
    assert found.total == 15
    assert not Path(nowhere).exists()
    assert not identify_sizes(nowhere, Sizes(shape="C", ic="12.7")).stock_known
    assert identify_code(nowhere, "CNM?").stock_known is False


def test_too_little_left(shop: str) -> None:
    with pytest.raises(BadDesignation):
        identify_code(shop, "????")


# -- measured ----------------------------------------------------------------------------------------------


def test_a_measured_insert_is_set_beside_the_stock(shop: str) -> None:
    sizes = Sizes(shape="80 degree", ic="1/2 in", thickness="4.8", nose="0.8", error="0.1")
    found = identify_sizes(shop, sizes)
    assert {"I1", "I5"} == set(tags(found.on_site))
    assert tags(found.elsewhere) == ["I2"]
    best = found.candidates[0]
    assert (best.code, best.equivalent, best.have) == ("C???120408", "C???432", "on site")
    assert any("rhombic (diamond) (C)" in line for line in found.tells_apart)
    assert len(found.assumed) == 1  # the error of lengths was stated
    assert "nose" in found.assumed[0]


def test_clearance_and_hole_narrow_the_stock(shop: str) -> None:
    found = identify_sizes(shop, Sizes(shape="diamond", ic="9.5", clearance="7", hole=True))
    assert tags(found.on_site) == ["I4"]
    assert found.candidates[0].code.startswith("CC")
    assert identify_sizes(shop, Sizes(shape="diamond", ic="9.5", clearance="7", hole=False)).on_site == ()


def test_nothing_agrees_says_what_is_off(shop: str) -> None:
    found = identify_sizes(shop, Sizes(shape="square", ic="13.4", thickness="4.8", nose="0.8"))
    assert found.total == 0
    assert found.on_site == ()
    assert "inscribed circle is 13.4 mm" in found.detail
    assert found.candidates
    assert not any(one.agrees for one in found.candidates)


def test_bare_numbers_follow_the_setting(shop: str) -> None:
    from crib.desk.keeping.settings import put

    put(shop, "units", "inch")
    found = identify_sizes(shop, Sizes(shape="C", ic="0.5", thickness="3/16", nose="1/32"))
    assert found.candidates[0].equivalent == "C???432"
    assert "±0.0039 in" in found.assumed[0]


def test_holders_by_their_shank(shop: str) -> None:
    found = identify_sizes(
        shop, Sizes(shank="25.1 x 24.9", length="150", hand="left", insert="CNMG1204", entering="95")
    )
    assert found.candidates[0].code == "?CLNL 2525M12"
    assert tags(found.on_site) == ["H1"]
    bars = identify_sizes(shop, Sizes(shank="25 mm", insert="CCMT09T3*"))
    assert "B1" in tags(bars.on_site)
    assert "B2" not in tags(bars.on_site)


@pytest.mark.parametrize(
    "sizes",
    [
        Sizes(shape="C"), Sizes(ic="5 kg"), Sizes(shape="banana", ic="12.7"), Sizes(ic="0"),
        Sizes(ic="12.7", hand="left"), Sizes(shank="25x25x25"), Sizes(shank="big"),
        Sizes(shank="25x25", hand="both"), Sizes(shank="25x25", insert="PCLNL2525M12"),
        Sizes(ic="12.7", error="0"),
    ],
)  # fmt: skip
def test_bad_sizes_are_told(nowhere: str, sizes: Sizes) -> None:
    with pytest.raises(InputError) as caught:
        identify_sizes(nowhere, sizes)
    assert caught.value.hint


# -- what fits what ----------------------------------------------------------------------------------------


def test_a_pair_that_fits(shop: str) -> None:
    answer = fitting(shop, ["PCLNL2525M12", "CNMG120408"])
    assert answer.ok
    assert all(check.ok for check in answer.checks)
    assert "thickness" in answer.detail
    assert answer.partners is None


def test_the_first_thing_that_fails_is_named(shop: str) -> None:
    answer = fitting(shop, ["WNMG", "080408", "PCLNL", "2525M12"])
    assert not answer.ok
    assert (answer.tool, answer.insert) == ("PCLNL2525M12", "WNMG080408")
    assert "shape W, where it takes C" in answer.verdict
    assert answer.partners
    assert sorted(item.tag for item in answer.partners.items) == ["I1", "I2", "I3"]


@pytest.mark.parametrize(
    ("bar", "said"),
    [
        ("S25R-SCLCR09", "Smallest bore as recorded: 32 mm"),
        ("S20R-SCLCR09", "smallest bore is not recorded"),
        ("S32S-SCLCR09", "none like it is on record"),
    ],
)
def test_the_smallest_bore_of_a_bar(shop: str, bar: str, said: str) -> None:
    assert said in fitting(shop, [bar, "CCMT09T304"]).detail
    assert said in fitting(shop, [bar]).detail


def test_what_goes_with_one_code(shop: str) -> None:
    inserts = fitting(shop, ["PCLNR2020K12"])
    assert inserts.ok
    assert inserts.partners
    assert sorted(item.tag for item in inserts.partners.items) == ["I1", "I2", "I3"]
    tools = fitting(shop, ["CCMT", "09T304"])
    assert tools.partners
    assert sorted(item.tag for item in tools.partners.items) == ["B1", "B2"]
    assert not fitting(shop, ["TNMG160408"]).ok


def test_fit_without_a_store(nowhere: str) -> None:
    pair = fitting(nowhere, ["S25R-SCLCR09", "CCMT09T304"])
    assert pair.ok
    assert NO_STORE in pair.detail
    alone = fitting(nowhere, ["S25R-SCLCR09"])
    assert not alone.ok
    assert alone.detail == NO_STORE


@pytest.mark.parametrize(
    "words", [["CNMG120408", "WNMG080408"], ["banana"], [" "], ["PCLNL2525M12", "CNMG12040X8"]]
)
def test_bad_pairs_are_told(nowhere: str, words: list[str]) -> None:
    with pytest.raises(InputError) as caught:
        fitting(nowhere, words)
    assert caught.value.hint

"""Does this insert go in that holder: by codes, or by the tags of tools on record."""

import pytest

from crib.desk.asking.fitting import fitting
from crib.errors import BadDesignation


def test_a_tag_on_record_stands_for_its_code(demo_store: str) -> None:
    by_tag, by_code = fitting(demo_store, ["H01", "I02"]), fitting(demo_store, ["MWLNL2525M08", "WNMG080404"])
    assert by_tag == by_code
    assert by_tag.ok


def test_a_tag_alone_asks_what_goes_with_its_tool(demo_store: str) -> None:
    assert fitting(demo_store, ["B05"]) == fitting(demo_store, ["S25R-SCLCL09"])


def test_a_tag_that_nobody_wrote_down_is_read_as_a_code(demo_store: str, tmp_path: object) -> None:
    with pytest.raises(BadDesignation):
        fitting(demo_store, ["H99"])
    with pytest.raises(BadDesignation):
        fitting(f"{tmp_path}/none.db", ["H01"])

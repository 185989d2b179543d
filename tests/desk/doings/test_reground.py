"""A drill, reamer or mill comes back from the grinder smaller and shorter: on both engines."""

from pathlib import Path

import pytest
from small_shop import open_shop

from crib.desk.asking.ask import find
from crib.desk.asking.story import story
from crib.desk.doings.lending import give_back, lend
from crib.desk.doings.undo import undo
from crib.desk.doings.wear import regrade
from crib.desk.intake.intake import intake
from crib.desk.keeping.audit import audit
from crib.errors import CribError, InputError, NotPossible

HEAD = "tag,kind,code,label,owner,place,condition,quantity,what,dc,lf\n"
MILL = "R1,rotary,,end mill 12,Ada Quill,shop / bay,worn,1,end mill,12 mm,83 mm\n"
OTHERS = """R2,rotary,,short drill,Moor End Works,shop / bay,good,4,drill,8.5 mm,
H1,holder,PCLNR2525M12,holder,Ada Quill,shop / bay,good,1,,,
"""


@pytest.fixture
def shop(store_url: str, tmp_path: Path) -> str:
    return open_shop(store_url, tmp_path / "lists", tools=HEAD + MILL + OTHERS)


def found(shop: str, words: str) -> list[str]:
    return [item.tag for item in find(shop, words).items]


def facts(shop: str, tag: str) -> dict[str, str]:
    return dict(story(shop, tag).facts)


def test_the_new_size_is_found_told_taken_back_and_audited(shop: str) -> None:
    lend(shop, ["R1"], "bert", what="sent out", why="regrind")
    assert found(shop, "12 mm end mill") == ["R1"]
    back = give_back(shop, ["R1"], condition="good", diameter="11.8", length="79 mm")
    assert "diameter 11.8 mm (0.4646 in), before 12 mm" in back.detail
    assert "still 'end mill 12'" in back.detail
    assert (found(shop, "11.8 mm end mill"), found(shop, "12 mm end mill")) == (["R1"], [])
    assert found(shop, "end mill 11.8") == ["R1"], "without a unit it is a word of the index"
    told = story(shop, "R1").ledger[-1]
    assert (told.what, told.from_, told.to) == (
        "reground",
        "diameter 12 mm (0.4724 in), length 83 mm (3.2677 in)",
        "diameter 11.8 mm (0.4646 in), length 79 mm (3.1102 in)",
    )
    assert audit(shop).sound
    taken_back = undo(shop, back.act)
    assert (found(shop, "12 mm end mill"), found(shop, "end mill 11.8")) == (["R1"], [])
    assert facts(shop, "R1")["length"].startswith("83 mm")
    undo(shop, taken_back.act)
    assert facts(shop, "R1")["diameter"].startswith("11.8 mm")
    assert audit(shop).sound


def test_a_size_that_was_never_entered_is_none_again_after_undo(shop: str) -> None:
    done = regrade(shop, ["R2"], length="70 mm", why="ground here")
    assert done.verdict == "Ground: R2 short drill."
    assert "of all 4 length 70 mm (2.7559 in), before none on record" in done.detail
    undo(shop, done.act)
    assert "length" not in facts(shop, "R2")
    assert audit(shop).sound


def test_a_part_that_was_ground_keeps_apart_and_the_rest_out_keeps_its_size(shop: str) -> None:
    lend(shop, ["R2"], "bert", pieces=3, what="sent out")
    give_back(shop, ["R2b"], pieces=1, diameter="8.3")
    assert [facts(shop, tag)["diameter"][:6] for tag in ("R2", "R2b", "R2c")] == [
        "8.5 mm",
        "8.3 mm",
        "8.5 mm",
    ]
    give_back(shop, ["R2c"])
    assert [(item.tag, item.quantity) for item in find(shop, "8.3 mm drill").items] == [("R2b", 1)]
    assert sum(item.quantity for item in find(shop, "8.5 mm drill").items) == 3
    assert audit(shop).sound


def test_it_is_asked_for_when_it_comes_back_from_work_on_it(shop: str) -> None:
    lend(shop, ["R1"], "bert", what="sent out")
    assert "Was R1 ground? crib regrade R1 --diameter" in give_back(shop, ["R1"]).detail
    lend(shop, ["R1"], "bert")
    assert "ground" not in give_back(shop, ["R1"]).detail


def test_a_list_handed_in_again_changes_it_by_the_ledger(shop: str, tmp_path: Path) -> None:
    again = tmp_path / "again.csv"
    again.write_text(HEAD + MILL.replace("12 mm", "11.9 mm"))
    intake(shop, [str(again)], update=True)
    assert found(shop, "11.9 mm end mill") == ["R1"]
    assert story(shop, "R1").ledger[-1].what == "reground"
    assert audit(shop).sound


@pytest.mark.parametrize(
    ("tags", "diameter", "error", "said"),
    [
        (["H1"], "20", NotPossible, "no drill, reamer, mill or tap"),
        (["R1", "R2"], "8", InputError, "one tool"),
        (["R1"], "12 mm", NotPossible, "that size on record already"),
        (["R1"], "0", InputError, "can't be"),
        (["R1"], "blunt", CribError, "blunt"),
    ],
)
def test_what_can_t_be(shop: str, tags: list[str], diameter: str, error: type[CribError], said: str) -> None:
    with pytest.raises(error, match=said):
        regrade(shop, tags, "good", diameter=diameter)
    assert facts(shop, "R1")["diameter"].startswith("12 mm")

"""A count and its noun, and that what people read most often holds them together."""

from crib.cli.find import item_lines
from crib.desk.asking.found import FoundItem
from crib.units.counts import many


def test_one_is_singular_and_all_other_numbers_are_not() -> None:
    assert [many(count, "tool") for count in (0, 1, 2)] == ["0 tools", "1 tool", "2 tools"]
    assert [many(count, "box", "boxes") for count in (1, 3)] == ["1 box", "3 boxes"]


def test_a_box_with_one_edge_left_says_so() -> None:
    box = FoundItem(
        id=1, tag="I1", kind="insert", label="trigon", designation=None, HAND=None, owner="Ada Quill",
        place="bay", site="shop", on_site=True, is_own=True, held_by=None, due_back=None, condition="good",
        quantity=1, edges_left=1, mark=None, note=None, takes=None,
    )  # fmt: skip
    assert list(item_lines(box))[1].strip() == "Ada Quill's, good, 1 edge left; bay"

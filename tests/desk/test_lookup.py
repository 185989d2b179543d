"""From what people type to the one tool, person or place that is meant; what could be two is asked back."""

import pytest

from crib.desk import lookup
from crib.errors import InputError, UnknownName
from crib.store.read import reading


@pytest.mark.parametrize(
    ("typed", "tag"),
    [
        ("h03", "H03"),
        ("H 03", "H03"),
        ("T.A 3", "H03"),  # engraved with a dot: Tobin's
        ("TA 3", "H02"),  # without: Tamsin's
        ("0951", "M02"),  # a serial number
        ("telescopes", "M10"),
        ("the depth mic", "M09"),
        ("long bar", "B09"),
        ("my 25 mm bar", "B05"),
    ],
)
def test_a_tool_by_tag_mark_serial_or_words(demo_store: str, typed: str, tag: str) -> None:
    with reading(demo_store) as reader:
        assert lookup.item(reader, typed).tag == tag


def test_the_same_mark_on_two_tools_is_asked_back(demo_store: str) -> None:
    with reading(demo_store) as reader, pytest.raises(InputError) as raised:
        lookup.item(reader, "WO 7")
    assert "2 tools are marked" in raised.value.message
    assert "B13 profiling bar 25 (Wilf Oddney)" in raised.value.hint


@pytest.mark.parametrize(
    "typed", ["", "  ", "?!", "H99", "the", "left hand holder with teeth", "\x1b[2J", "x" * 300]
)
def test_what_is_nothing_or_too_much_is_refused(demo_store: str, typed: str) -> None:
    with reading(demo_store) as reader, pytest.raises(InputError):
        lookup.item(reader, typed)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("wilf", "Wilf Oddney"),
        ("oddney", "Wilf Oddney"),
        ("T.A", "Tobin Ashgrove"),
        ("TA", "Tamsin Arkwell"),
        ("me", "Tamsin Arkwell"),
        ("company", "Hattersbeck Light Railway"),
    ],
)
def test_a_person_by_name_or_mark(demo_store: str, typed: str, name: str) -> None:
    with reading(demo_store) as reader:
        assert lookup.party(reader, typed).name == name


def test_a_slip_in_a_name_is_offered_not_taken(demo_store: str) -> None:
    with reading(demo_store) as reader, pytest.raises(UnknownName) as raised:
        lookup.party(reader, "tobyn")
    assert raised.value.nearest == ("Tobin Ashgrove",)
    with reading(demo_store) as reader, pytest.raises(UnknownName) as raised:
        lookup.party(reader, "Zeb")
    assert raised.value.nearest == () and "somebody new: F9" in raised.value.hint


def test_a_place_by_name_or_the_end_of_its_path(demo_store: str) -> None:
    with reading(demo_store) as reader:
        assert lookup.place(reader, "Mill Rack").path == "works / machine shop / mill rack"
        drawer = lookup.place(reader, "insert cabinet/drawer 4")
        assert drawer.path == "works / tool room / insert cabinet / drawer 4"
        with pytest.raises(UnknownName) as raised:
            lookup.place(reader, "drawer 1")
        assert "works / tool room / gauge cabinet / drawer 1" in raised.value.nearest

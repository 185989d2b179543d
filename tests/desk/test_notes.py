"""What tables say beside their figures reaches people: it must be for them, not about how a row was read."""

import re

import pytest

from crib.desk.picking.pick import PickRequest, pick
from crib.trade import tables

ABOUT_READING = re.compile(
    r"\btables? [A-Z]?\d|put in by|printed at that|printed range|^min to max|legible|column"
)


@pytest.mark.parametrize("table", ["speeds", "speeds_other", "speed_factors"])
def test_notes_of_speeds_are_for_people(table: str) -> None:
    notes = {row["note"] for row in tables.rows(table)}
    assert not [note for note in notes if ABOUT_READING.search(note)]


def test_a_set_up_of_which_nothing_is_known_is_said_in_words(demo_store: str) -> None:
    request = PickRequest(op="turn", material="1045", from_="95 mm", to="90 mm", machine="old lathe")
    said = " ".join(pick(demo_store, request, most=1).candidates[0].assumed)
    assert "damping 3 %: assumed, nothing told of it" in said
    assert "a unknown" not in said

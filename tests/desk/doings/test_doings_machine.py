"""A few random stories of the desk; `python -m tests.doings_machine` tells thousands (docs/soak.md)."""

from doings_machine import tell


def test_random_doings_do_what_was_asked_and_can_be_taken_back(store_url: str) -> None:
    tally = tell(store_url, stories=6, steps=20, seed=20260302)
    # a story of refusals alone, or of none, would tell nothing
    assert tally["taken"] > 5
    assert tally["refused"] > 2
    assert tally["taken back"] > 0

"""A few random stories; `python -m tests.ledger_machine` tells thousands (docs/soak.md)."""

from ledger_machine import tell


def test_random_stories_agree_with_a_second_book(store_url: str) -> None:
    tally = tell(store_url, stories=6, steps=25, seed=20260302)
    # a story of refusals alone, or of none, would tell nothing
    assert tally["taken"] > 10
    assert tally["refused"] > 2

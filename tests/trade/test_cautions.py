"""Cautions stand when their trigger holds, worst first, three at the most."""

import math

from crib.trade import cautions, tables

ALL = cautions.load(tables.rows("cautions"))


def test_worst_first_and_three_at_the_most() -> None:
    shown = cautions.triggered({"long bar", "facing head", "boring mill", "scale or interrupted"}, ALL)
    assert [caution.rank for caution in shown] == ["A", "A", "A"]
    assert [caution.id for caution in shown] == ["B3", "B4", "B5"]


def test_welding_is_never_crowded_out() -> None:
    """Every trigger at once, of the two metals one at a time: only one is cut."""
    for metal in ("magnesium", "titanium"):
        others = {row.trigger for row in ALL} - {"magnesium", "titanium"}
        shown = cautions.triggered({metal, *others}, ALL)
        expected = [metal, "head limit unknown", "welding on the set-up"]
        assert [caution.trigger for caution in shown] == expected


def test_none_without_a_trigger() -> None:
    assert cautions.triggered(set(), ALL) == ()


def test_every_row_can_be_shown() -> None:
    assert all(row.rank in ("A", "B", "C") and row.text.endswith(".") for row in ALL)
    assert len({row.id for row in ALL}) == len(ALL)


def test_the_force_that_the_source_line_states() -> None:
    """Centrifugal force m r w^2 (arithmetic): 2 kg at 50 mm, 300 and 600 rev/min."""
    force = [2 * 0.050 * (2 * math.pi * n / 60) ** 2 for n in (300, 600)]
    assert [round(value) for value in force] == [99, 395]
    assert "99 N" in tables.sources()["saf_physics"].place
    assert "395 N" in tables.sources()["saf_physics"].place

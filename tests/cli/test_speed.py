"""crib speed over all its operations: one document for programs, lines for people."""

import pytest
from commands import Crib

RANGE = {"low", "start", "high"}


@pytest.mark.parametrize(
    ("op", "size"),
    [
        ("turn", ("--diameter", "3 in")),
        ("face", ("--diameter", "200")),
        ("bore", ("--diameter", "60")),
        ("part", ("--width", "3 mm", "--diameter", "40")),
        ("groove", ("--width", "1/8 in")),
        ("drill", ("--diameter", "12", "--depth", "30")),
        ("ream", ("--diameter", "12")),
        ("thread", ("--pitch", "12 tpi", "--diameter", "1 in")),
        ("drill", ()),
        ("thread", ()),
    ],
)
def test_every_operation_answers_with_the_same_keys(crib: Crib, op: str, size: tuple[str, ...]) -> None:
    found = crib.json("speed", "--material", "1045", "--tool", "hss", "--op", op, *size)
    assert set(found["vc_m_min"]) == RANGE
    for key in ("f_mm", "ap_mm"):
        assert found[key] is None or set(found[key]) == RANGE
    assert (found["f_mm"] is None) == (op in ("drill", "thread") and not size)
    assert set(found["kc11_N_mm2"]) == {"low", "value", "high", "mc", "source"}
    assert found["source"]
    assert bool(found["passes"]) == (op == "thread" and bool(size))


def test_lines_name_what_was_reckoned_and_where_sources_differ(crib: Crib) -> None:
    said = crib(
        "speed", "--material", "A36", "--tool", "HSS", "--cut", "rough", "--flame-cut", "--hardness", "150 HB"
    ).out
    assert "150 HB" in said
    assert "flame cut" in said
    assert "another source differs" in said
    assert "kc1.1" in said


def test_a_thread_lists_its_passes(crib: Crib) -> None:
    said = crib("speed", "--material", "1045", "--tool", "carbide", "--op", "thread", "--pitch", "1.5 mm").out
    assert "passes 8, radial infeed in mm" in said

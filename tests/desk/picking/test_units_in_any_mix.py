"""The same cut typed in any mix of units gets the same answer."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from crib.desk.picking.pick import PickRequest, pick

# Every spelling of one quantity is the same quantity, by the definitions of inch and pound-force. A bare size
# takes the unit of the other size, so sizes carry theirs here; a bare fraction is always inches.
SPELLED = {
    "from_": ("16 3/8", "16 3/8 in", '16.375"', "415.925 mm", "41.5925 cm", "0.415925 m"),
    "to": ("16 1/2", "16.5 in", "419.1 mm", "41.91 cm", "1.375 ft"),
    "length": ("6 in", "152.4 mm", "152.4", "0.5 ft", "15.24 cm"),
    "depth": ("1/16 in", "1.5875 mm", "0.0625 in", "1.5875"),
    "feed": ("0.012 in/rev", "0.3048 mm/rev", "0.3048"),
    "stiffness": ("8 kN/mm", "8000 N/mm", "8 N/um", "8e6 N/m"),
    "frequency": ("80 Hz", "0.08 kHz", "80"),
    "damping": ("3 %", "0.03"),
}
MIXES = st.fixed_dictionaries({name: st.sampled_from(spellings) for name, spellings in SPELLED.items()})

# each spelling at least once; a pick takes a quarter of a second, so few mixes besides
EACH = [{name: words[turn % len(words)] for name, words in SPELLED.items()} for turn in range(1, 6)]


def request(typed: dict[str, str]) -> PickRequest:
    return PickRequest(op="bore", material="A36", machine="boring mill", hand="left", gives="away", **typed)


def numbers(what: object, path: str = "") -> Iterator[tuple[str, float | str]]:
    """Every number and tag of an answer, each with the way to it; sentences are left out."""
    if is_dataclass(what):
        for field in fields(what):
            yield from numbers(getattr(what, field.name), f"{path}.{field.name}")
    elif isinstance(what, tuple | list):
        for index, one in enumerate(what):
            yield from numbers(one, f"{path}[{index}]")
    elif isinstance(what, int | float) or (isinstance(what, str) and path.endswith(".tag")):
        yield path, what


@pytest.fixture(scope="module")
def plain(demo_store: str) -> dict[str, float | str]:
    """What the answer holds with the first spelling of each."""
    found = dict(
        numbers(pick(demo_store, request({name: words[0] for name, words in SPELLED.items()})).candidates)
    )
    assert len(found) > 100
    return found


@example(EACH[0])
@example(EACH[1])
@example(EACH[2])
@example(EACH[3])
@example(EACH[4])
@settings(max_examples=4, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(MIXES)
def test_units_in_any_mix_give_the_same_answer(
    demo_store: str, plain: dict[str, float | str], typed: dict[str, str]
) -> None:
    found = dict(numbers(pick(demo_store, request(typed)).candidates))
    assert found.keys() == plain.keys()
    for path, value in plain.items():
        assert found[path] == (value if isinstance(value, str) else pytest.approx(value, rel=1e-9)), path

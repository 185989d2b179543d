"""What a pass takes, as machinists say it: on the diameter or a side, at most or each time."""

import pytest

from crib.desk.picking.pass_depth import read_pass
from crib.errors import InputError


@pytest.mark.parametrize(
    ("typed", "on_size_mm", "each"),
    [  # by hand: an inch is 25.4 mm; a side counts twice on the diameter
        ("2 mm", 4.0, False),
        ("2 mm on diameter", 2.0, False),
        ("1/16 on the dia", 25.4 / 16, False),
        ("1/16 in a side", 25.4 / 8, False),
        ("a sixteenth on diameter at a time", 25.4 / 16, True),
        ("a thirty-second of an inch a side", 25.4 / 16, False),
        ("an eighth", 25.4 / 4, False),
        ("20 thou off the diameter each pass", 0.508, True),
        ("0.5 mm on the radius", 1.0, False),
    ],
)
def test_a_pass_as_it_is_said(typed: str, on_size_mm: float, each: bool) -> None:
    assert read_pass(typed, "metric", sizes_on_diameter=True, usual_side=True) == (
        pytest.approx(on_size_mm),
        each,
    )


def test_a_step_is_meant_on_the_sizes_and_a_face_has_no_diameter() -> None:
    assert read_pass("1/16", "inch", sizes_on_diameter=True, usual_side=False)[0] == pytest.approx(1.5875)
    assert read_pass("1 mm", "metric", sizes_on_diameter=False, usual_side=True)[0] == 1.0
    for typed in ("1 mm on diameter", "0 mm", "some", "a side"):
        with pytest.raises(InputError):
            read_pass(typed, "metric", sizes_on_diameter=False, usual_side=True)

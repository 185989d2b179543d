"""Kept set-ups in a pick: which point, which figures, which way they give."""

from datetime import UTC, datetime, timedelta

import pytest

from crib.desk.picking.job import PickRequest
from crib.desk.ringing.holding import Held, setup_for
from crib.errors import InputError, UnknownName
from crib.store.rows import SetupPointRow, SetupRow
from crib.trade.rigidity.setup import Setup

NOW = datetime(2026, 3, 1, tzinfo=UTC)


def measured(number: int, point: str = "", **figures: object) -> SetupPointRow:
    empty = dict.fromkeys(SetupPointRow._fields)
    at = NOW + timedelta(hours=number)
    return SetupPointRow(**(empty | {"id": number, "at": at, "point": point} | figures))  # type: ignore[arg-type]


LINER = SetupRow(
    id=3, name="Pump liner", machine_id=None, machine=None, note="rings", measured=(
        measured(1, "mouth", k_n_mm=6000.0, gives="away"),
        measured(2, "by the jaws", k_n_mm=30000.0, damping_ratio=0.02, frequency_hz=400.0),
        measured(3, "mouth", damping_ratio=0.015, frequency_hz=400.0),
        measured(4, "mouth", k_n_mm=7000.0),
    ),
)  # fmt: skip
PLATE = SetupRow(id=4, name="plate, thin", machine_id=None, machine=None, note=None, measured=())


def held(setup: str, *, facing: bool = False, **changes: str) -> tuple[Setup, Held | None]:
    return setup_for(PickRequest(setup=setup, **changes), (LINER, PLATE), "metric", facing=facing)


@pytest.mark.parametrize(
    ("text", "point"),
    [
        ("pump liner", "mouth"),  # the one that chatters first
        ("PUMP  LINER at Mouth", "mouth"),
        ("Pump liner at by the jaws", "by the jaws"),
        ("pump liner, by the jaws", "by the jaws"),
    ],
)
def test_a_kept_set_up_is_named_with_or_without_its_point(text: str, point: str) -> None:
    setup, kept = held(text)
    assert kept is not None
    assert (kept.name, kept.point, [one.name for one in kept.points]) == (
        "Pump liner", point, ["mouth", "by the jaws"]
    )  # fmt: skip
    assert setup.label == f"'Pump liner at {point}' (measured)"


def test_measured_again_the_newest_of_each_figure_counts() -> None:
    setup, _ = held("pump liner")
    assert (setup.k_N_mm, setup.frequency_hz, setup.damping_ratio) == (7000.0, 400.0, 0.015)
    assert setup.assumed == ()


def test_what_was_never_measured_is_assumed_and_said() -> None:
    setup, kept = held("plate, thin")
    assert kept is not None and kept.point == ""
    assert "nothing measured" in setup.label  # not "partly": no figure of it is
    assert len(setup.assumed) == 4  # stiffness, frequency, damping, direction
    way, _ = held("pump liner at by the jaws")
    assert way.assumed == ("taken to give away from the tool",)


def test_figures_and_direction_typed_go_before_those_on_record() -> None:
    setup, kept = held("pump liner", stiffness="9 kN/mm", gives="along the spindle", facing=True)
    assert kept is not None
    assert (setup.k_N_mm, setup.damping_ratio, setup.gives.name) == (9000.0, 0.015, "away")
    assert held("weak", gives="away and along")[0].gives.words == "away from the tool and along the feed"
    assert held("weak", stiffness="9 kN/mm")[0].label == "partly measured"
    assert held("")[1] is None


@pytest.mark.parametrize("text", ["pumpliner", "pump liner at the door", "pump liner at", "weak at top"])
def test_an_unknown_set_up_or_point_is_told_those_on_record(text: str) -> None:
    with pytest.raises(UnknownName) as raised:
        held(text)
    assert "mouth" in raised.value.hint or "Pump liner" in raised.value.hint


def test_a_figure_that_cannot_be_is_refused() -> None:
    with pytest.raises(InputError):
        held("pump liner", damping="0")

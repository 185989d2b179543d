"""crib setup: kept by name, measured at its points, and what other commands make of it."""

from pathlib import Path

import pytest
from commands import Crib
from ringing import taps, write_wav

CUT = ("--op", "turn", "--material", "C45", "--from", "62 mm", "--to", "60 mm", "--length", "300 mm")


def test_a_set_up_measured_bit_by_bit(crib_writing: Crib, tmp_path: Path) -> None:
    crib = crib_writing
    added = crib.json("setup", "add", "wheel disc", "--machine", "old lathe", "--note", "face plate")
    assert (added["machine"], added["points"]) == ("old lathe", [])
    rim = crib.json(
        "setup",
        "measure",
        "wheel disc:rim",
        "--force",
        "200 N",
        "--deflection",
        "0.050 mm",
        "--gives",
        "along",
    )
    assert rim["new"] is False
    [point] = rim["setup"]["points"]
    assert point["k_N_mm"] == pytest.approx(4000)
    assert point["k_low_N_mm"] < 4000 < point["k_high_N_mm"]
    assert (point["partly_assumed"], point["by"]) == (True, "Tamsin Arkwell")
    wav = write_wav(tmp_path / "tap.wav", taps([(130.0, 0.02, 1.0)], many=3))
    heard = crib.json("setup", "measure", "Wheel disc", "--point", "RIM", "--wav", str(wav))
    [point] = heard["setup"]["points"]
    assert point["times"] == 2
    assert point["k_N_mm"] == pytest.approx(4000)  # measured before, not now
    assert point["frequency_hz"] == pytest.approx(130, rel=2e-3)
    assert point["damping_low"] <= point["damping_ratio"] <= point["damping_high"]
    assert point["partly_assumed"] is False
    # stiffness counts by the push, pitch and damping by the recording: both are named
    assert point["how"].startswith("push test; recording, 3 taps in ")
    again = crib.json("setup", "measure", "wheel disc:rim", "--force", "200 N", "--deflection", "0.040 mm")
    [point] = again["setup"]["points"]
    assert point["k_N_mm"] == pytest.approx(5000)  # the newest counts
    assert point["how"].startswith("recording, 3 taps in ") and point["how"].endswith("; push test")
    # the beginning of a point is that point, as where it is asked
    crib.json("setup", "measure", "wheel disc:ri", "--frequency", "91 Hz")
    assert [one["name"] for one in crib.json("setup", "show", "wheel disc")["points"]] == ["rim"]
    hub = crib.json("setup", "measure", "wheel disc:hub", "--force", "900 N", "--deflection", "0.030 mm")
    assert [one["name"] for one in hub["setup"]["points"]] == ["rim", "hub"]  # the one that rings first
    picked = crib.json("pick", *CUT, "--setup", "wheel disc")
    assert (picked["job"]["setup_name"], picked["job"]["setup_point"]) == ("wheel disc", "rim")
    assert picked["job"]["k_N_mm"] == pytest.approx(5000)
    assert crib.json("pick", *CUT, "--setup", "wheel disc:hub")["job"]["setup_point"] == "hub"


def test_one_step_enters_and_measures(crib_writing: Crib) -> None:
    ran = crib_writing(
        "setup", "measure", "thin ring", "--add", "--frequency", "300 Hz", "--decay", "half in 6"
    )
    assert ran.status == 0
    assert ran.lines[0] == "Kept: thin ring (a new set-up)"
    assert "partly by assumed figures" in ran.lines[-1]
    assert "thin ring" in crib_writing("setup").out


def test_nothing_is_kept_of_a_measurement_that_tells_nothing(crib_writing: Crib) -> None:
    assert crib_writing.error("setup", "measure", "new one", "--add", status=2)["code"] == "bad_input"
    assert "new one" not in crib_writing("setup").out


def test_the_list_and_one(crib: Crib) -> None:
    found = crib.json("setup")
    assert [one["name"] for one in found["setups"]] == ["axle journal", "pump liner", "tall bracket"]
    shown = crib("setup", "tall bracket")
    assert "top of bore" in shown.lines[1]
    assert shown.lines[1].endswith("rings first")
    assert crib("setup", "show", "Tall Bracket").out == shown.out


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (("add", "weak"), "word for assumed figures"),
        (("add", " "), "needs a name"),
        (("add", "a:b"), "a point would be read"),
        (("add", "x" * 61), "hard to say"),
        (("add", "ring", "--machine", "moon lathe"), "no machine called"),
        (("show", "no such"), "no set-up called"),
        (("measure", "no such", "--frequency", "90 Hz"), "no set-up called"),
        (("measure", "pump liner", "--frequency", "90 Hz", "--gives", "sideways-ish"), "no direction"),
    ],
)
def test_what_cannot_be(crib_writing: Crib, arguments: tuple[str, ...], why: str) -> None:
    assert why in crib_writing.error("setup", *arguments, status=2)["message"]


def test_a_set_up_is_entered_once(crib_writing: Crib) -> None:
    assert crib_writing.error("setup", "add", "Pump Liner", status=1)["code"] == "not_possible"

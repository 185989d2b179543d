"""crib chatter: the contract's keys, the chart, the machine's speeds, and which mode rings."""

from math import pi, sqrt
from pathlib import Path
from xml.etree import ElementTree

import pytest
from commands import Crib

WEAK = ("--stiffness", "8 kN/mm", "--frequency", "160 Hz", "--damping", "2.5 %")
STRAIGHT = (*WEAK, "--Ks", "2000 N/mm2")
CUT = ("--material", "4140", "--feed", "0.2 mm/rev", "--KAPR", "95", "--RE", "0.8 mm")


def test_a_straight_edge_has_the_textbook_s_limit(crib: Crib) -> None:
    """b = 2 k zeta (1 + zeta) / Ks; rings at f sqrt(1 + 2 zeta) (Tlusty; Altintas 2012, ch. 4)."""
    found = crib.json("chatter", *STRAIGHT)
    limit = 2 * 8000 * 0.025 * 1.025 / 2000
    assert found["b_lim_mm"] == pytest.approx(limit)
    assert found["chatter_hz"] == pytest.approx(160 * sqrt(1.05))
    assert found["regenerative_stiffness_N_mm"] == pytest.approx(2000 * limit)
    deepest = min(one["b_lim_mm"] for one in found["lobes"])
    assert limit <= deepest < 1.02 * limit
    best = found["useful_lobes"][0]
    # just above 60 f / 1: a whole wave a turn
    assert 9600 < best["n_rev_min"] < 9600 * 1.04
    assert best["b_lim_mm"] == pytest.approx(best["gain"] * limit)


def test_published_lobe_of_the_shaping_example(crib: Crib) -> None:
    # Altintas, Manufacturing Automation, 2nd ed., p. 131: 250 Hz, 2.26e8 N/m, 1.2 %, at 30° to the chip's
    # normal with Ks 1000 N/mm²: 7.1 mm near 8700 rev/min, read from the chart; the other mode left out
    figures = ("--stiffness", "226 kN/mm", "--frequency", "250 Hz", "--damping", "0.012")
    found = crib.json("chatter", *figures, "--Ks", "750 N/mm2", "--speeds", "8000 to 9400")
    low = min(found["lobes"], key=lambda one: one["b_lim_mm"])
    assert low["b_lim_mm"] == pytest.approx(7.1, rel=0.04)
    assert low["n_rev_min"] == pytest.approx(8700, rel=0.01)


def test_a_tool_told_by_its_angles(crib: Crib) -> None:
    found = crib.json("chatter", *WEAK, *CUT, "--ap", "1 mm")
    assert 0 < found["b_lim_mm"] < 0.8
    assert found["margin"] == pytest.approx(found["allowed_N_mm"] / found["regenerative_stiffness_N_mm"])
    assert found["margin"] < 1
    assert "rings" in found["verdict"]
    assert found["forces"]["towards_N"] == found["forces"]["Fp_N"]
    finer = crib.json("chatter", *WEAK, *CUT[:-1], "0.4 mm", "--ap", "1 mm")
    assert finer["regenerative_stiffness_N_mm"] < found["regenerative_stiffness_N_mm"]
    # a stiffer support raises what it bears in proportion
    stiff = crib.json("chatter", "--stiffness", "16 kN/mm", *WEAK[2:], *CUT, "--ap", "1 mm")
    assert stiff["margin"] == pytest.approx(2 * found["margin"])


def test_depths_of_the_chart_are_those_of_the_sharp_reckoning(crib: Crib) -> None:
    found = crib.json("chatter", *WEAK, *CUT, "--gives", "along", "--speeds", "1500 to 12000")
    least = min(one["b_lim_mm"] for one in found["lobes"])
    assert least == pytest.approx(found["b_lim_mm"], rel=0.02)


def test_at_a_slow_speed_lobes_are_of_no_use_and_rubbing_is(crib: Crib) -> None:
    found = crib.json("chatter", *STRAIGHT, "--machine", "boring mill", "--n", "54", "--diameter", "100 mm")
    assert found["useful_lobes"] == []
    assert "of no use" in found["lobes_why"] or "too close together" in found["lobes_why"]
    slow = found["slow"]
    vc = pi * 100 * 54 / 1000
    assert slow["vc_m_min"] == pytest.approx(vc)
    assert slow["wave_mm"] == pytest.approx(vc * 1000 / 60 / found["chatter_hz"])
    low, likely, high = slow["quiet_m_min"]
    assert low < likely < high
    assert {one["n_rev_min"] for one in found["lobes"]} >= set(found["machine_speeds"])
    assert found["machine_speeds"]


def test_a_kept_set_up_and_a_tool_on_record(crib: Crib) -> None:
    asked = ("--tool", "H01", "--insert", "I01", "--material", "A36", "--feed", "0.2")
    top = crib.json("chatter", "--setup", "tall bracket:top", *asked, "--ap", "1 mm")
    bottom = crib.json("chatter", "--setup", "tall bracket:bottom", *asked, "--ap", "1 mm")
    assert top["margin"] < bottom["margin"]
    assert {mode["point"] for mode in top["modes"]} == {"top of bore", "bottom of bore"}
    assert top["regenerative_stiffness_N_mm"] == bottom["regenerative_stiffness_N_mm"]
    assert crib.json("chatter", "--setup", "tall bracket", *asked)["setup"] == top["setup"]  # the softest


def test_a_bar_gives_too(crib: Crib) -> None:
    asked = ("--setup", "pump liner", "--tool", "B08", "--material", "grey cast iron", "--feed", "0.15")
    short = crib.json("chatter", *asked, "--overhang", "100 mm", "--op", "bore")
    far = crib.json("chatter", *asked, "--overhang", "200 mm", "--op", "bore")
    alone = crib.json("chatter", "--setup", "pump liner", "--Ks", "2000 N/mm2")
    assert far["k_N_mm"] < short["k_N_mm"] < alone["k_N_mm"]
    # of that only the set-up was measured
    assert far["setup"].endswith("(measured) and tool") and "reckoned ones of the tool" in far["detail"]
    assert alone["setup"].endswith("(measured)") and alone["detail"].endswith("By measured figures.")


@pytest.mark.parametrize(
    ("heard", "fits"),
    [
        (("--heard", "92 Hz"), ["top of bore"]),
        (("--heard", "110 Hz"), ["bottom of bore"]),
        (("--heard", "300 Hz"), []),
        (("--marks", "12 mm", "--vc", "66 m/min"), ["top of bore"]),  # 91.7 Hz
    ],
)
def test_what_was_heard_tells_which_point_rings(crib: Crib, heard: tuple[str, ...], fits: list[str]) -> None:
    found = crib.json("chatter", "--setup", "tall bracket", "--Ks", "2000 N/mm2", *heard)
    nearest = [mode["point"] for mode in found["modes"] if mode["fits"]][:1]
    assert nearest == fits
    assert found["next_step"].startswith(f"{found['heard_hz']:.0f} Hz ")


def test_a_pitch_that_goes_with_the_turning_is_said_to(crib: Crib) -> None:
    found = crib.json("chatter", *STRAIGHT, "--heard", "20 Hz", "--n", "400")
    assert "3 times a turn" in " ".join(found["assumed"])
    assert "jaws" in found["next_step"]


def test_for_people_there_is_a_chart_and_bars(crib: Crib, tmp_path: Path) -> None:
    path = tmp_path / "lobes.svg"
    ran = crib("chatter", *WEAK, *CUT, "--ap", "1 mm", "--svg", str(path))
    assert ran.status == 0
    assert "rev/min" in ran.out
    assert "where it gives" in ran.out
    assert (
        max(map(len, [line for line in ran.lines if "source:" not in line and "assumed:" not in line])) < 160
    )
    assert ElementTree.fromstring(path.read_text(encoding="utf-8")).tag.endswith("svg")
    picture = tmp_path / "lobes.PNG"
    for _ in range(2):  # an earlier picture is replaced
        assert crib("chatter", *WEAK, *CUT, "--ap", "1 mm", "--chart", str(picture)).status == 0
    assert picture.read_bytes().startswith(b"\x89PNG")
    wrong = crib.error("chatter", *WEAK, *CUT, "--chart", str(tmp_path / "lobes.jpg"), status=2)
    assert "end it in .svg or .png" in wrong["hint"]
    assert {one.name for one in tmp_path.iterdir()} == {"lobes.svg", "lobes.PNG"}


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (WEAK, "what cuts"),
        ((*WEAK, "--Ks", "0"), "can't be"),
        ((*WEAK, "--Ks", "2000 N"), "is a force"),
        ((*WEAK, "--material", "4140"), "material and feed"),
        (("--setup", "no such", "--Ks", "2000 N/mm2"), "no set-up called"),
        (("--setup", "tall bracket:middle", "--Ks", "2000 N/mm2"), "no point of tall bracket"),
        ((*STRAIGHT, "--marks", "1.2 mm"), "how fast was it cutting"),
        ((*STRAIGHT, "--speeds", "0 to 100"), "can't be"),
        ((*WEAK, *CUT, "--tool", "Z99"), "called 'Z99'"),
        ((*WEAK, *CUT, "--tool", "H01", "--insert", "I37"), "does not fit"),
        ((*STRAIGHT, "--machine", "moon lathe"), "no machine called"),
    ],
)
def test_what_cannot_be_is_said_in_one_line(crib: Crib, arguments: tuple[str, ...], why: str) -> None:
    assert why in crib.error("chatter", *arguments, status=2)["message"]


def test_a_kept_set_up_brings_its_machine_and_no_faster_speed_is_advised(crib: Crib) -> None:
    cut = ("--tool", "H01", "--insert", "I01", "--material", "A36", "--feed", "0.2", "--ap", "1 mm")
    found = crib.json("chatter", "--setup", "tall bracket:top", *cut)
    fastest = max(found["machine_speeds"])
    assert fastest == max(crib.json("machine", "show", "boring mill")["speeds_rev_min"])
    assert all(one["n_rev_min"] <= fastest for one in found["useful_lobes"])
    assert any(line.startswith("on the boring mill") for line in found["assumed"])
    # without a machine, what it may run is left to its plate
    free = crib.json("chatter", *WEAK, *CUT, "--ap", "1 mm")
    assert any("plate and manual" in line for line in free["assumed"])
    assert "where machine, chuck and head allow it" in free["next_step"]


def test_a_pick_on_a_kept_set_up_runs_no_faster_than_its_machine(crib: Crib) -> None:
    cut = ("--op", "turn", "--material", "C45", "--from", "63 mm", "--to", "60 mm", "--setup", "axle journal")
    found = crib.json("pick", *cut)
    speeds = crib.json("machine", "show", "old lathe")["speeds_rev_min"]
    assert {one["n_rev_min"] for one in found["candidates"]} <= set(speeds)


def test_what_the_logbook_taught_counts_as_in_a_pick(crib: Crib) -> None:
    cut = ("--tool", "H19", "--insert", "I23", "--material", "C45", "--feed", "0.15", "--ap", "1 mm")
    found = crib.json("chatter", "--setup", "axle journal", *cut)
    asked = (
        "--op",
        "turn",
        "--material",
        "C45",
        "--from",
        "63 mm",
        "--to",
        "60 mm",
        "--setup",
        "axle journal",
    )
    picked = crib.json("pick", *asked)
    assert found["learned"] == picked["job"]["learned"] != []
    first = picked["candidates"][0]
    assert found["allowed_N_mm"] == pytest.approx(
        first["stability_margin"] * first["regenerative_stiffness_N_mm"], rel=0.01
    )
    plain = crib.json("chatter", *WEAK, *CUT)
    assert plain["learned"] == []

"""crib proven, crib speed --own and crib machine suits: what is printed, the documents, the exit status."""

import pytest
from commands import Crib

CUT = ("--material", "4140", "--tool", "coated carbide")


def test_a_speed_proved_listed_withdrawn(crib_writing: Crib) -> None:
    [valve] = crib_writing.json("proven")["proven"]  # the workshop's own, of the slide valve
    crib_writing("proven", "forget", str(valve["id"]))
    assert crib_writing.error("proven", status=1)["code"] == "nothing_found"
    ran = crib_writing("proven", "add", *CUT, "--vc", "360 ft/min", "--feed", "0.21", "--note", "dry")
    assert ran.status == 0
    assert ran.lines[0].startswith("Recorded: 4140")
    assert "by Tamsin Arkwell" in ran.out
    assert "the book: start at" in ran.out
    [one] = crib_writing.json("proven")["proven"]
    # 360 ft of 0.3048 m
    assert one["vc_m_min"] == pytest.approx(109.728)
    assert (one["f_mm"], one["ap_mm"], one["note"], one["withdrawn_at"]) == (0.21, None, "dry", None)
    assert crib_writing("proven").out == crib_writing("proven", "list").out
    gone = crib_writing("proven", "forget", str(one["id"]), "--why", "wrong grade")
    assert gone.lines[0].startswith("Withdrawn: the shop's own: 109.7 m/min")
    assert crib_writing.error("proven", "forget", str(one["id"]), status=1)["code"] == "not_possible"
    assert crib_writing("proven").status == 1
    listed = crib_writing("proven", "--all")
    assert "by Tamsin Arkwell: wrong grade" in listed.out


def test_a_speed_in_the_user_s_own_units(crib_writing: Crib) -> None:
    assert crib_writing("setting", "units", "inch").status == 0
    told = crib_writing.json("proven", "add", *CUT, "--vc", "360", "--feed", "0.008", "--depth", "1/16")
    assert told["proven"]["vc_m_min"] == pytest.approx(109.728)
    assert told["proven"]["f_mm"] == pytest.approx(0.2032)
    assert told["proven"]["ap_mm"] == pytest.approx(1.5875)
    metric = crib_writing.json("proven", "add", *CUT, "--vc", "110", "--units", "metric")
    assert metric["proven"]["vc_m_min"] == 110


def test_a_speed_far_above_the_book_is_asked_back(crib_writing: Crib) -> None:
    """Coated carbide in 4140: the tables end at 230 m/min."""
    slip = crib_writing("proven", "add", *CUT, "--vc", "1100 m/min").out
    assert "times the book's highest: a slip? crib proven forget 2 withdraws it" in slip
    assert "a slip" not in crib_writing("proven", "add", *CUT, "--vc", "250 m/min").out


def test_speed_gives_both_and_takes_the_one_asked_for(crib_writing: Crib) -> None:
    book = crib_writing.json("speed", *CUT)
    assert (book["speeds_from"], book["own"]) == ("book", [])
    crib_writing("proven", "add", *CUT, "--vc", "110 m/min")
    beside = crib_writing.json("speed", *CUT)
    assert beside["vc_m_min"] == book["vc_m_min"]
    assert [(one["counts"], one["proven"]["vc_m_min"]) for one in beside["own"]] == [(True, 110)]
    own = crib_writing.json("speed", *CUT, "--own")
    assert (own["speeds_from"], own["vc_m_min"]["start"]) == ("own", 110)
    assert own["book_vc_m_min"] == book["vc_m_min"]
    assert "  beside the shop's own: 110 m/min" in crib_writing("speed", *CUT).out
    assert "  own    the shop's own: 110 m/min" in crib_writing("speed", *CUT, "--own").out
    assert crib_writing.json("setting", "speeds", "own")["speeds"] == "own"
    assert crib_writing.json("speed", *CUT)["speeds_from"] == "own"
    assert crib_writing.json("speed", *CUT, "--book")["speeds_from"] == "book"
    why = crib_writing("speed", *CUT, "--why")
    assert why.status == 0
    assert "The shop's own proven speeds (crib proven)" in why.out


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (("add", *CUT), "bad_input"),
        (("add", *CUT, "--vc", "fast"), "bad_quantity"),
        (("add", "--material", "4140", "--tool", "wood", "--vc", "20"), "unknown_name"),
        (("add", "--tool", "hss", "--vc", "20"), "bad_input"),
        (("forget", "7"), "unknown_name"),
        (("forget", "seven"), "bad_input"),
        (("remove", "7"), "bad_input"),
    ],
)
def test_what_can_t_be_is_refused(crib: Crib, arguments: tuple[str, ...], code: str) -> None:
    assert crib.error("proven", *arguments, status=2)["code"] == code


def test_which_speeds_of_a_machine_suit(crib: Crib) -> None:
    asked = ("machine", "suits", "old lathe", "--material", "4140", "--tool", "hss", "--diameter", "60 mm")
    told = crib.json(*asked)
    ran = crib(*asked)
    assert ran.lines[0] == told["verdict"]
    marked = [line for line in ran.lines if line.startswith(" →")]
    assert len(marked) == 1
    assert f"{told['start']['n_rev_min']:g} rev/min" in marked[0]
    assert {"n_rev_min", "vc_m_min", "off_m_min", "start"} == set(told["steps"][0])
    assert crib(*asked, "--units", "inch").lines[2].strip().startswith("from ")


def test_where_no_speed_suits_the_answer_is_no(crib: Crib) -> None:
    asked = ("machine", "suits", "old lathe", *CUT, "--diameter", "1/4 in")
    told = crib.json(*asked, status=1)
    assert told["steps"] == []
    assert told["below"]["off_m_min"] < 0
    ran = crib(*asked)
    assert ran.status == 1
    assert "too slow" in ran.lines[0]


def test_a_machine_or_size_that_is_not_there(crib: Crib) -> None:
    hss = ("--material", "4140", "--tool", "hss")
    assert crib.error("machine", "suits", "shaper", *hss, "--diameter", "3 in", status=2)["nearest"]
    assert crib.error("machine", "suits", "old lathe", *hss, status=2)["code"] == "bad_input"

"""The three uses, each from the first word to the last through commands of their own process."""

from collections.abc import Callable
from pathlib import Path

import pytest
from commands import Ran, environment, run_process

Run = Callable[..., Ran]


@pytest.fixture
def crib(demo_address: str, tmp_path: Path) -> Run:
    """Runs `python -m crib` on a copy of the invented workshop, from a folder that is not the checkout."""
    env = environment(CRIB_DB=demo_address, XDG_DATA_HOME=str(tmp_path / "data"))
    return lambda *arguments: run_process(*arguments, cwd=tmp_path, env=env)


def test_which_left_hand_holder_is_on_site_and_what_does_it_take(crib: Run) -> None:
    asked = crib("find", "which left-hand holder is on site, and what insert does it take")
    assert (asked.status, asked.err) == (0, "")
    assert asked.lines[0] == "Yes, 11 left-hand holders on site."
    assert any(
        line.startswith("H01 ") and "takes WN..08, IC 12.7 mm (1/2 in)" in line for line in asked.lines
    )
    assert "Understood: hand L ('left-hand'), kind holder ('holder'), where here ('on site')" in asked.lines

    # the box on the bench says WNMG 432: which of them takes it?
    narrowed = crib("find", "left", "hand", "holder", "for", "a", "WNMG", "432", "here", "--json").json()
    assert [item["tag"] for item in narrowed["items"]] == ["H02", "H01"]
    assert narrowed["items"][1]["place"] == "works / machine shop / mill rack"

    # and which inserts are here for the one that was chosen, with edges left?
    inserts = crib("find", "inserts for", narrowed["items"][1]["designation"], "here", "--json").json()
    fresh = {item["tag"] for item in inserts["items"] if item["edges_left"]}
    assert fresh == {"I01", "I02", "I03", "I04", "I06", "I07", "I09"}, "I08 is used up"

    # the code of the chosen holder, read in full
    read = crib("decode", narrowed["items"][1]["designation"], "--json").json()
    assert (read["HAND"], read["KAPR_deg"], read["insert_seat"]) == ("L", 95.0, "WN..08")


def test_record_a_tool_brought_from_home(crib: Run) -> None:
    before = crib("find", "SCLCL2525M09", "here")
    assert before.status == 1
    assert before.lines[0] == "None here, but 1 at home or another site."
    assert "H11 at Tobin's home / shed bench" in before.out

    assert crib("setting", "me", "Tobin", "Ashgrove").status == 0
    brought = crib("bring", "H11", "I21", "--to", "Tobin's chest", "--why", "bogie bracket")
    assert (brought.status, brought.err) == (0, "")
    assert brought.lines[0].startswith("Brought in: ")

    now = crib("find", "SCLCL2525M09", "here", "--json")
    assert now.status == 0
    assert [(item["tag"], item["place"]) for item in now.json()["items"]] == [
        ("H11", "works / machine shop / Tobin's chest")
    ]
    told = crib("show", "H11")
    line = told.lines[-1]
    assert "brought in" in line
    assert "from Tobin's home / shed bench to works / machine shop / Tobin's chest" in line
    assert "(bogie bracket) - Tobin Ashgrove" in line
    audited = crib("audit")
    assert (audited.status, audited.lines[0]) == (0, "0 differences in 149 items rebuilt from the ledger.")

    # a second time it is here already: refused, and not written twice
    again = crib("bring", "H11", "--json")
    assert again.status == 1
    assert again.json()["error"]["code"] == "not_possible"
    assert crib("show", "H11", "--json").json()["ledger"][-1]["why"] == "bogie bracket"
    assert len(crib("show", "H11", "--json").json()["ledger"]) == 2


def test_pick_an_insert_for_a_cut_that_would_chatter(crib: Run) -> None:
    cut = (
        *("pick", "--op", "bore", "--material", "A36", "--from", "16 3/8 in", "--to", "16-1/2"),
        *("--length", "6 in", "--machine", "boring mill", "--hand", "left", "--scale"),
    )
    flimsy = crib(*cut, "--setup", "flimsy", "--json").json()
    assert flimsy["candidates"][0]["stability_margin"] < 1, "nothing on hand holds on a flimsy set-up"
    assert "chatter" in flimsy["detail"]
    assert any("times as stiff" in step["change"] for step in flimsy["ladder"])

    # braced, and pushed with a spring balance: 8 kN/mm; tapped: 160 Hz, 2.5 %
    braced = crib(
        *cut,
        *("--stiffness", "8 kN/mm", "--frequency", "160 Hz"),
        *("--damping", "2.5 %"),
        "--gives",
        "away",
        "--json",
    ).json()
    best = braced["candidates"][0]
    assert best["stability_margin"] > 1
    assert best["low_pressure"]
    assert best["reasons"]
    assert best["passes"][-1]["to_mm"] == 419.1
    assert best["n_rev_min"] in (9, 12, 17, 23, 32, 43, 59, 81, 110, 150, 205, 280)
    assert "By measured figures of the set-up." in braced["detail"]
    # what is better still lies at home: the ladder says where
    fetch = next(step for step in braced["ladder"] if step["change"].startswith("fetch"))
    assert "H11 at Tobin's home / shed bench" in fetch["how"]

    # brought in, it takes part
    assert crib("bring", "H11", "I21").status == 0
    then = crib(
        *cut,
        *("--stiffness", "8 kN/mm", "--frequency", "160 Hz"),
        *("--damping", "2.5 %"),
        "--gives",
        "away",
        "--json",
    ).json()
    pairs = [(one["holder"]["tag"], (one["insert"] or {}).get("tag")) for one in then["candidates"]]
    assert ("H11", "I21") in pairs
    margin = then["candidates"][pairs.index(("H11", "I21"))]["stability_margin"]
    assert margin > best["stability_margin"]

    # the same for people: the choice in the first line, the cautions before the end
    told = crib(*cut, "--setup", "weak")
    assert told.status == 0
    assert any(line.startswith("! ") for line in told.lines)
    assert told.lines[-1].startswith("Starting points only.")


def test_an_insert_is_chosen_and_its_edge_counted_down_by_the_next_list(crib: Run, tmp_path: Path) -> None:
    """The day's end: what was used goes into the books by a list, dry first."""
    history = tmp_path / "today.csv"
    history.write_text(
        "when,who,what,item,quantity,to,why\n2026-11-24T15:00:00Z,Tamsin Arkwell,edge used,I02,1,,bracket\n"
    )
    left = crib("show", "I02", "--json").json()["item"]["edges_left"]
    dry = crib("intake", str(history), "--dry-run")
    assert dry.lines[0] == "Would take: 1 history."
    assert crib("show", "I02", "--json").json()["item"]["edges_left"] == left
    assert crib("intake", str(history)).lines[0] == "Taken: 1 history."
    assert crib("show", "I02", "--json").json()["item"]["edges_left"] == left - 1
    assert crib("audit").status == 0

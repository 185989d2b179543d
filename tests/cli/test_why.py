"""--why: the chain behind a figure on pick, speed and demo, for people and as the key "why"."""

import pytest
import why_check
from commands import Crib

CUT = ("--op", "turn", "--material", "1045", "--from", "95 mm", "--to", "90 mm", "--machine", "old lathe")
STEP = {"part", "name", "symbol", "formula", "numbers", "value", "unit", "source", "assumed", "table"}
SPEED = ("speed", "--material", "4140", "--tool", "hss", "--diameter", "3 in", "--machine", "old lathe")


def test_pick_prints_the_chain_after_the_answer(crib: Crib) -> None:
    plain, why = crib("pick", *CUT).lines, crib("pick", *CUT, "--why").lines
    assert why[: len(plain)] == plain
    told = "\n".join(why[len(plain) :])
    assert "How it comes about: " in told
    assert "What would change it most" in told
    assert "vc = π × D × n / 1000" in told


def test_programs_get_the_chain_as_one_more_key(crib: Crib) -> None:
    plain, why = crib.json("pick", *CUT), crib.json("pick", *CUT, "--why")
    chain = why.pop("why")
    assert why == plain
    assert chain["rank"] == 1
    assert all(set(step) == STEP for step in chain["steps"])
    found = {step["symbol"]: step["value"] for step in chain["steps"]}
    best = plain["candidates"][0]
    for symbol, key in (("n", "n_rev_min"), ("vc", "vc_m_min"), ("Fc", "Fc_N"), ("P", "pressure_N")):
        assert found[symbol] == best[key]


def test_documents_can_be_reckoned_on(crib: Crib) -> None:
    """Figures of a document have nine digits: each formula still gives its result."""
    for step in crib.json("pick", *CUT, "--why")["why"]["steps"]:
        numbers = {one["symbol"]: one["value"] for one in step["numbers"]}
        if step["table"]:
            symbols = [column["symbol"] for column in step["table"]["columns"]]
            pieces = [dict(zip(symbols, row, strict=True)) for row in step["table"]["rows"]]
        if step["formula"]:
            rows = pieces if "Σ" in step["formula"] else ()
            worked = why_check.work_out(step["formula"], numbers, rows)
            assert worked == pytest.approx(step["value"], rel=1e-6, abs=1e-8), step["name"]


def test_any_rank_can_be_asked_for(crib: Crib) -> None:
    answer = crib.json("pick", *CUT, "--why", "4")
    fourth = answer["candidates"][3]
    assert answer["why"]["rank"] == 4
    assert fourth["holder"]["tag"] in answer["why"]["of"]
    refused = crib.error("pick", *CUT, "--why", "999", status=1)
    assert "there is no candidate 999" in refused["message"]
    assert refused["hint"].startswith("--why 1 … ")


def test_where_nothing_does_it_there_is_nothing_to_show(crib: Crib) -> None:
    cut = ("--op", "bore", "--material", "A36", "--from", "200 mm", "--to", "203 mm", "--length", "1 m")
    refused = crib.error("pick", *cut, "--machine", "old lathe", "--why", status=1)
    assert "nothing on hand does it" in refused["message"]
    assert "without --why" in refused["hint"]


def test_speed_prints_its_chain_too(crib: Crib) -> None:
    plain, why = crib.json(*SPEED), crib.json(*SPEED, "--why")
    chain = why.pop("why")
    assert why == plain
    found = {step["symbol"]: step["value"] for step in chain["steps"]}
    assert found["v_s"] == plain["vc_m_min"]["start"]
    assert (found["n"], found["f"]) == (plain["n_rev_min"], plain["machine_f_mm"])
    assert "n = not_above(n_w, " in crib(*SPEED, "--why").out


def test_the_demo_explains_the_worked_job(crib: Crib) -> None:
    assert "margin: the worst pass: M_w = min(M, M2)" in crib("demo", "--why").out
    assert crib.json("demo", "--why", "2")["why"]["rank"] == 2

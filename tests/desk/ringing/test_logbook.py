"""The logbook: what a cut teaches the next pick on the same set-up, and how contradictions are borne."""

import pytest

from crib.desk.picking.pick import PickAnswer, PickRequest, pick
from crib.desk.ringing.logbook import LogRequest, log_cut, logged, withdraw
from crib.desk.ringing.offered import keep, last, offered
from crib.errors import CribError, InputError, NothingFound, NotPossible, UnknownName

BRACKET = PickRequest(
    op="bore", material="A36", from_="416 mm", to="419 mm", length="150 mm", machine="boring mill",
    hand="left", setup="tall bracket",
)  # fmt: skip


def log(store: str, answer: PickAnswer, result: str, *, candidate: int = 1, **told: str) -> int:
    of = offered(answer.job, answer.candidates[candidate - 1])
    return log_cut(store, LogRequest(result=result, **told), of).cut.id


def test_a_cut_is_logged_as_it_was_offered(demo_address: str) -> None:
    answer = pick(demo_address, BRACKET)
    done = log_cut(
        demo_address,
        LogRequest(result="Edge-broke", minutes="4", heard="90", job="bogie", note="a flame-cut edge"),
        offered(answer.job, answer.candidates[0]),
    )
    best, cut = answer.candidates[0], done.cut
    assert (cut.tool, cut.insert, cut.result) == (
        best.holder.tag,
        best.insert and best.insert.tag,
        "edge broke",
    )
    assert (cut.n_rev_min, cut.f_mm, cut.ap_mm) == pytest.approx((best.n_rev_min, best.f_mm, best.ap_mm))
    assert (cut.setup, cut.point, cut.by) == ("tall bracket", "top of bore", "Tamsin Arkwell")
    # a square shank adds no spring of its own: the set-up bears the cut's own stiffness
    assert cut.regenerative_stiffness_N_mm == pytest.approx(best.regenerative_stiffness_N_mm)
    assert done.cautions and done.defer
    assert logged(demo_address, setup="tall bracket")[0].id == cut.id


def test_what_was_done_otherwise_is_logged_so(demo_address: str) -> None:
    answer = pick(demo_address, BRACKET)
    number = log(demo_address, answer, "chatter", feed="0.12 mm", depth="1 mm", n="59")
    cut = logged(demo_address)[0]
    assert (cut.id, cut.f_mm, cut.ap_mm, cut.n_rev_min) == (number, 0.12, 1.0, 59.0)
    assert cut.regenerative_stiffness_N_mm is None  # reckoned anew where it is looked at
    assert any("chatter in 1" in line for line in pick(demo_address, BRACKET).job.learned)


def test_clean_cuts_raise_the_margin_of_the_next_pick_and_ringing_ones_lower_it(demo_address: str) -> None:
    before = pick(demo_address, BRACKET)
    assert before.job.learned == ()
    margin = before.candidates[0].stability_margin
    for _ in range(3):
        log(demo_address, before, "chatter")
    rang = pick(demo_address, BRACKET)
    same = next(one for one in rang.candidates if one.holder.tag == before.candidates[0].holder.tag)
    assert same.stability_margin < margin
    assert rang.job.damping_ratio < before.job.damping_ratio
    assert rang.job.k_N_mm == before.job.k_N_mm
    assert "chatter in 3" in rang.job.learned[0] and "instead of" in rang.job.learned[0]
    other = pick(demo_address, BRACKET_BOTTOM).job
    assert other.learned == ()  # what was cut at the top says nothing of the bottom


BRACKET_BOTTOM = PickRequest(
    op="bore", material="A36", from_="416 mm", to="419 mm", length="150 mm", machine="boring mill",
    hand="left", setup="tall bracket at bottom of bore",
)  # fmt: skip


def test_contradictory_cuts_are_borne_and_said(demo_address: str) -> None:
    answer = pick(demo_address, BRACKET)
    log(demo_address, answer, "chatter", depth="0.1 mm")
    log(demo_address, answer, "clean", depth="3 mm", n="281")
    log(demo_address, answer, "marks")
    said = pick(demo_address, BRACKET).job.learned[0]
    assert "contradict" in said


def test_withdrawn_it_teaches_nothing_more(demo_address: str) -> None:
    before = pick(demo_address, BRACKET)
    number = log(demo_address, before, "chatter")
    gone = withdraw(demo_address, number, why="another insert")
    assert (gone.withdrawn_by, gone.withdrawn_why) == ("Tamsin Arkwell", "another insert")
    assert pick(demo_address, BRACKET).candidates == before.candidates
    with pytest.raises(NotPossible):
        withdraw(demo_address, number)
    with pytest.raises(UnknownName):
        withdraw(demo_address, 9999)
    assert number in [one.id for one in logged(demo_address, withdrawn=True)]


def test_the_demo_s_cuts_have_taught_their_set_ups(demo_store: str) -> None:
    liner = PickRequest(
        op="bore", material="grey cast iron", from_="139 mm", to="140 mm", length="160 mm",
        machine="old lathe", setup="pump liner",
    )  # fmt: skip
    taught, slow = pick(demo_store, liner).job.learned
    assert "1 clean cut up to" in taught and "chatter in 1 from" in taught
    assert slow.startswith("1 clean cut left out")


@pytest.mark.parametrize(
    ("told", "error"),
    [
        ({"result": "lovely"}, UnknownName),
        ({"result": "clean", "depth": "0"}, InputError),
        ({"result": "clean", "minutes": "1e9"}, InputError),
        ({"result": "clean", "note": "x" * 3000}, InputError),
        ({"result": "clean", "heard": "high"}, InputError),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_written(
    demo_address: str, told: dict[str, str], error: type[CribError]
) -> None:
    answer = pick(demo_address, BRACKET)
    before = logged(demo_address)
    with pytest.raises(error):
        log_cut(demo_address, LogRequest(**told), offered(answer.job, answer.candidates[0]))
    assert logged(demo_address) == before


def test_the_last_pick_is_kept_beside_the_store(demo_address: str) -> None:
    with pytest.raises(NothingFound):
        last(demo_address, 1)
    answer = pick(demo_address, BRACKET)
    keep(demo_address, answer.job, answer.candidates)
    assert last(demo_address, 2) == offered(answer.job, answer.candidates[1])
    with pytest.raises(NothingFound):
        last(demo_address, 500)
    with pytest.raises(NothingFound):
        logged(demo_address, material="titanium")
    with pytest.raises(UnknownName):
        logged(demo_address, setup="no such")

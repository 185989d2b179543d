"""What cuts teach of a limit: against scipy's distributions, and what must hold whatever was logged."""

from math import exp, log

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import lognorm, skewnorm

from crib.errors import InputError, TableError
from crib.trade import tables
from crib.trade.rigidity.chatter import allowed_stiffness
from crib.trade.rigidity.learning import RESULTS, LearningRules, Limit, Trial, damping_for, learn

RULES = LearningRules.load(tables.rows("learning_rules"))
STIFF = st.floats(1.0, 1e5)
TRIALS = st.lists(st.builds(Trial, K_N_mm=STIFF, result=st.sampled_from(RESULTS)), max_size=8)


def taught(reckoned: float, *cuts: tuple[float, str]) -> Limit:
    return learn(reckoned, [Trial(K_N_mm=K, result=result) for K, result in cuts], RULES, assumed=False)


def test_without_a_cut_the_prior_is_a_lognormal_about_the_reckoned_limit() -> None:
    for assumed, factor in ((False, RULES.prior_measured), (True, RULES.prior_assumed)):
        found = learn(400.0, [], RULES, assumed=assumed)
        ends = lognorm(s=log(factor), scale=400.0).ppf([0.1, 0.5, 0.9])
        assert [found.low_N_mm, found.N_mm, found.high_N_mm] == pytest.approx(list(ends), rel=2e-3)


def test_one_cut_just_at_the_reckoned_limit_gives_a_skew_normal() -> None:
    """A normal prior times a normal distribution function at its mean is Azzalini's skew normal (1985)."""
    width = log(RULES.prior_measured)
    for result, sign in (("clean", 1.0), ("chatter", -1.0)):
        found = taught(400.0, (400.0, result))
        law = skewnorm(a=sign * width / log(RULES.doubt), loc=log(400.0), scale=width)
        ends = [exp(at) for at in law.ppf([0.1, 0.5, 0.9])]
        assert [found.low_N_mm, found.N_mm, found.high_N_mm] == pytest.approx(ends, rel=5e-3)


def test_clean_and_ringing_cuts_bracket_the_limit() -> None:
    found = taught(250.0, (410.0, "clean"), (380.0, "clean"), (300.0, "clean"), (600.0, "chatter"))
    assert (found.clean, found.rang, found.clean_to_N_mm, found.rang_from_N_mm) == (
        3, 1, pytest.approx(410.0), pytest.approx(600.0)
    )  # fmt: skip
    assert 400.0 < found.N_mm < 600.0
    assert not found.contradictory
    before = taught(250.0)
    assert found.high_N_mm / found.low_N_mm < before.high_N_mm / before.low_N_mm


def test_marks_say_that_the_limit_is_about_there() -> None:
    found = taught(250.0, (400.0, "marks"), (400.0, "marks"), (400.0, "marks"))
    assert 330.0 < found.N_mm < 420.0
    assert (found.marked, found.clean_to_N_mm, found.rang_from_N_mm) == (3, None, None)


def test_cuts_that_contradict_each_other_widen_the_band() -> None:
    agreed = taught(400.0, (380.0, "clean"), (420.0, "chatter"))
    quarrel = taught(400.0, (380.0, "clean"), (420.0, "chatter"), (900.0, "clean"), (150.0, "chatter"))
    assert quarrel.contradictory and not agreed.contradictory
    assert quarrel.high_N_mm / quarrel.low_N_mm > 1.5 * agreed.high_N_mm / agreed.low_N_mm


@settings(max_examples=60)
@given(STIFF, TRIALS, st.booleans())
def test_whatever_was_logged_there_is_a_band_around_the_limit(
    reckoned: float, trials: list[Trial], assumed: bool
) -> None:
    found = learn(reckoned, trials, RULES, assumed=assumed)
    assert 0.0 < found.low_N_mm < found.N_mm < found.high_N_mm
    assert found.clean + found.rang + found.marked == len(trials)


@settings(max_examples=40)
@given(st.floats(50.0, 2000.0), st.floats(50.0, 2000.0))
def test_a_clean_cut_never_lowers_the_limit_and_a_ringing_one_never_raises_it(
    reckoned: float, K: float
) -> None:
    before = taught(reckoned).N_mm
    assert taught(reckoned, (K, "clean")).N_mm >= before * 0.999
    assert taught(reckoned, (K, "chatter")).N_mm <= before * 1.001


@given(st.floats(1.0, 3e4), st.floats(100.0, 1e6))
def test_the_damping_for_a_limit_gives_that_limit(limit: float, k: float) -> None:
    zeta = damping_for(limit, k)
    if 0.0 < zeta < 1.0:
        assert allowed_stiffness(k, zeta) == pytest.approx(limit, rel=1e-6)


@pytest.mark.parametrize(
    ("reckoned", "trial"),
    [
        (0.0, (1.0, "clean")),
        (400.0, (-1.0, "clean")),
        (400.0, (1.0, "worn out")),
        (400.0, (float("nan"), "clean")),
    ],
)
def test_what_cannot_be_is_refused(reckoned: float, trial: tuple[float, str]) -> None:
    with pytest.raises(InputError):
        taught(reckoned, trial)


def test_a_table_with_a_row_missing_is_a_fault() -> None:
    with pytest.raises(TableError):
        LearningRules.load(tables.rows("learning_rules")[:-1])

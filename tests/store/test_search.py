"""Tokens: what is asked with the words of a text finds that text."""

from hypothesis import given
from hypothesis import strategies as st

from crib.store.search import compact, index_tokens, normalise, postgres_match, query_tokens, sqlite_match

typed = st.text(st.sampled_from("aAbøØßéµÅ019 .,-/_x×⌀°½\"'*+\u0301İ\u212a\x00"), max_size=25) | st.text(
    max_size=25
)


@given(typed)
def test_a_text_is_found_by_itself(text):
    assert set(query_tokens(text)) <= set(index_tokens([text]).split())


@given(typed)
def test_a_code_is_found_without_its_blanks(text):
    assert compact(text) in {*index_tokens([], [text]).split(), ""}


@given(typed)
def test_normalising_twice_is_normalising_once(text):
    assert normalise(normalise(text)) == normalise(text)


@given(st.text(st.characters(max_codepoint=127), max_size=25))
def test_plain_letters_are_folded_the_same_alone_and_beside_others(text):
    assert normalise(f"{text} é") == f"{normalise(text)} e".lstrip()


@given(typed)
def test_tokens_are_letters_and_digits(text):
    for token in (*query_tokens(text), *index_tokens([text], [text]).split()):
        assert token
        assert token.replace("_", "-").isalnum()


def test_signs_of_the_drawing_office():
    assert normalise("⌀25 ± 0,02  95° 20 × 30") == "25 ± 0,02 95 20x30"
    assert normalise("Bjørn Ø12 Straße café") == "bjorn 12 strasse cafe"
    assert normalise("3½ in") == "3 1/2 in"


def test_a_number_is_asked_for_whole():
    assert query_tokens("0.8 16-3/8 0,4") == ("08", "16", "38", "04")
    assert set(index_tokens(["0.8"]).split()) == {"0", "8", "08"}


def test_operators_are_quoted():
    assert sqlite_match(["or", 'a"bc'], True) == '"or" "abc"*'
    assert postgres_match(["or", "a'\\bc"], True) == "'or' & 'abc':*"
    assert sqlite_match(["or", 'a"bc'], False) == '"or" "abc"'
    assert sqlite_match([], True) == postgres_match([], True) == ""

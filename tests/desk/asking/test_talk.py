"""Shop talk: each question a machinist asks narrows to what it means, and shows which word said so."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.cli.root import COMMANDS
from crib.desk.asking.talk import Names, Wanted, book_asked, understand, vocabulary
from crib.errors import InputError, UnknownName
from crib.trade import tables

WORDS = vocabulary(tables.rows("shop_words"))
NAMES = Names(
    parties={"harriet pell": 1, "pell": 1, "hp": 1, "company": 2},
    sites={"works": 10},
    places={"cabinet a": "Works / Lathe bay / Cabinet A"},
    me=1,
    companies=(2,),
)
CODES = {"WNMG080408": "insert", "WNMG 080408": "insert", "PCLNL2525M12": "holder"}


def ask(question: str, names: Names = NAMES) -> Wanted:
    return understand(question, names, WORDS, lambda typed: CODES.get(typed.upper()))


def test_left_hand_holder_on_site() -> None:
    wanted = ask("left-hand holder on site")
    assert (wanted.hand, wanted.kind, wanted.where, wanted.tokens) == ("L", "holder", "here", ())
    assert [(said.field, said.from_) for said in wanted.said] == [
        ("hand", "left-hand"),
        ("kind", "holder"),
        ("where", "on site"),
    ]


def test_the_whole_question_as_asked_aloud() -> None:
    wanted = ask("Which left-hand holder is on site, and what insert does it take?")
    assert (wanted.hand, wanted.kind, wanted.where, wanted.tokens) == ("L", "holder", "here", ())


def test_a_code_behind_for_is_what_it_must_take() -> None:
    wanted = ask("left hand holder for a WNMG 080408 here")
    assert (wanted.kind, wanted.fits, wanted.code, wanted.where) == ("holder", "WNMG 080408", None, "here")


def test_a_code_before_its_holder_is_still_what_it_must_take() -> None:
    assert ask("WNMG080408 left hand holder").fits == "WNMG080408"


def test_a_code_alone_is_the_tool_itself() -> None:
    wanted = ask("WNMG080408")
    assert (wanted.code, wanted.fits) == ("WNMG080408", None)


def test_inserts_for_a_holder() -> None:
    wanted = ask("inserts for PCLNL2525M12")
    assert (wanted.kind, wanted.fits) == ("insert", "PCLNL2525M12")


@pytest.mark.parametrize(
    "question",
    [
        "left hnad holdr on sight",
        "lefthand toolholdr onsite",
        "LH holder, here?",
        "left handed holders on-site",
    ],
)
def test_typing_slips_and_other_words(question: str) -> None:
    wanted = ask(question)
    assert (wanted.hand, wanted.kind, wanted.where, wanted.tokens) == ("L", "holder", "here", ())


def test_whose_and_where() -> None:
    assert ask("harriet pell's bars at home").owner_ids == (1,)
    assert ask("company inserts in cabinet a").place == "Works / Lathe bay / Cabinet A"
    assert ask("my mics").owner_ids == (1,)
    assert ask("my mics").tokens == ("micrometer",)


def test_who_i_am_is_asked_for_when_it_matters() -> None:
    said = ask("my mics", Names()).said
    assert "crib setting me" in said[0].value


@pytest.mark.parametrize(
    ("question", "size_mm", "field"),
    [
        ("25 mm boring bar", (25.0, 25.0), "dcon_mm"),
        ("left hand holders 3/4 in shank", (19.05, 19.05), "h_mm"),
        ("1 inch shank left hand", (25.4, 25.4), "h_mm"),
        ("left hand 25x25", (25.0, 25.0), "h_mm"),
        ("0.4 nose inserts", (0.4, 0.4), "re_mm"),
        ("what'll measure 410-440 mm", (410.0, 440.0), "covers_mm"),
        ("gauge for 16 to 16 1/2 in", (406.4, 419.1), "covers_mm"),
        ("10,2 mm drill", (10.2, 10.2), "dc_mm"),
    ],
)
def test_sizes_mean_what_the_kind_is_told_by(question: str, size_mm: tuple[float, float], field: str) -> None:
    wanted = ask(question)
    assert wanted.size_mm == pytest.approx(size_mm)
    assert wanted.size_field == field


def test_a_size_of_nothing_in_particular_is_passed_over_aloud() -> None:
    wanted = ask("32 mm")
    assert wanted.size_field == ""
    assert wanted.said[-1].field == "passed over"


def test_fields() -> None:
    wanted = ask('kind=bar owner="Harriet Pell" hand=left at=works condition=worn')
    assert (wanted.kind, wanted.owner_ids, wanted.hand, wanted.site_id, wanted.condition) == (
        "bar",
        (1,),
        "L",
        10,
        "worn",
    )


def test_wrong_fields_say_what_is_right() -> None:
    with pytest.raises(InputError, match="no field 'colour'") as error:
        ask("colour=red")
    assert "kind" in error.value.hint
    with pytest.raises(InputError, match="not a kind"):
        ask("kind=spanner")
    with pytest.raises(UnknownName) as unknown:
        ask("owner=Hariet")
    assert "no person called 'Hariet'" in unknown.value.message


def test_other_words_are_looked_for_in_the_record() -> None:
    assert ask("grey box inserts").tokens == ("grey", "box")


@given(st.text(max_size=60))
def test_any_text_is_understood_or_refused_clearly(question: str) -> None:
    try:
        wanted = ask(question)
    except InputError as error:
        assert error.message and error.hint
    else:
        assert wanted.kind is None or any(said.field in ("kind", "text") for said in wanted.said)


@pytest.mark.parametrize(
    ("question", "command"),
    [
        ("What do I need to order before Monday?", "restock"),
        ("What can't be used because a part's gone?", "missing"),
        ("What's out of my box?", "out --mine"),
        ("Friday: what can I take home?", "out --still-here"),
        ("The shop owes me for these four.", "claim"),
        ("What'd it cost to replace B03?", "worth B03"),
        ("How do I show this one is mine?", "mine"),
        ("If it all burned tonight?", "list insurance"),
        ("left-hand holder on site", ""),
        ("what did Wilf borrow", ""),
        ("WNMG080408", ""),
    ],
)
def test_what_the_books_answer_leads_there(question: str, command: str) -> None:
    assert book_asked(question, tables.rows("shop_words")) == command


def test_every_book_that_talk_names_is_a_command() -> None:
    named = {row["value"].split()[0] for row in tables.rows("shop_words") if row["field"] == "book"}
    assert named <= set(COMMANDS)

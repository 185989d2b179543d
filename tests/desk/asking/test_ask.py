"""What have we got: answers on the invented workshop, and on odd stocks made for one question."""

from datetime import date
from pathlib import Path

import pytest
from small_shop import PEOPLE, PLACES, open_shop, take_lists

from crib.desk.asking.ask import Found, find
from crib.desk.doings.bring_in import bring_in
from crib.desk.keeping.settings import put
from crib.errors import BadDesignation, InputError, NotPossible, StoreMissing, UnknownName


def tags(found: Found) -> set[str]:
    return {item.tag for item in found.items}


def understood(found: Found) -> dict[str, str]:
    return {said.field: said.value for said in found.understood}


# -- the questions named on the card ----------------------------------------------------------------------


def test_which_left_hand_holder_is_on_site_and_what_it_takes(demo_store: str) -> None:
    found = find(demo_store, "which left-hand holder is on site, and what insert does it take")
    assert understood(found) == {"hand": "L", "kind": "holder", "where": "here"}
    # by hand from demo_data/holders.csv: H01-H15 without H03, H11, H13 (at home) and H04 (lent)
    assert tags(found) == {f"H{n:02}" for n in (1, 2, 5, 6, 7, 8, 9, 10, 12, 14, 15)}
    assert found.total == len(found.items) == 11
    assert all(item.on_site and item.HAND == "L" and item.kind == "holder" for item in found.items)
    takes = {item.tag: item.takes for item in found.items}
    assert takes["H01"] == "WN..08, IC 12.7 mm (1/2 in)"
    assert takes["H10"] == "DC..11, IC 9.525 mm (3/8 in)"
    assert found.verdict == "Yes, 11 left-hand holders on site."


def test_what_must_not_be_overlooked_is_said(demo_store: str) -> None:
    found = find(demo_store, "left-hand holder on site")
    assert "H12 is damaged" in found.detail
    assert "H05: shim missing" in found.detail


def test_left_hand_holder_for_an_insert_here(demo_store: str) -> None:
    found = find(demo_store, "left hand holder for a WNMG 080408 here")
    assert tags(found) == {"H01", "H02"}
    assert understood(found)["fits"] == "WNMG 080408"
    assert "left-hand holders for WNMG 080408 on site" in found.verdict


@pytest.mark.parametrize(
    "question",
    [
        "left hand holder for wnmg432 here",
        "here, a left holder that takes WNMG-08-04-08",
        "lh toolholder for WNMG 08 04 08 on site?",
        "lefthand holdr for WNMG080408 on sight",
        "kind=holder hand=left at=here fits=WNMG080408",
    ],
)
def test_the_same_question_in_other_words(demo_store: str, question: str) -> None:
    assert tags(find(demo_store, question)) == {"H01", "H02"}


def test_flags_and_words_narrow_together(demo_store: str) -> None:
    found = find(demo_store, "holder", hand="left", at="here", fits="WNMG 080408", owner="Tamsin Arkwell")
    assert tags(found) == {"H02"}
    assert tags(find(demo_store, "", kind="holder", condition="damaged")) == {"H12"}


def test_inserts_for_a_holder_by_its_code(demo_store: str) -> None:
    found = find(demo_store, "inserts for MWLNL 2525M08")
    # all 12.7 mm trigons, metric and inch boxes; I05 is the 9.525 mm one
    assert tags(found) == {"I01", "I02", "I03", "I04", "I06", "I07", "I08", "I09"}
    assert "I08 is used up" in found.detail


def test_an_inch_box_is_found_by_its_metric_name_and_back(demo_store: str) -> None:
    assert "I13" in tags(find(demo_store, "CNMG120408"))
    assert "I11" in tags(find(demo_store, "CNMG 432"))
    assert "I12" not in tags(find(demo_store, "CNMG120408"))


# -- none, or only not here -------------------------------------------------------------------------------


def test_none_here_but_one_at_home(demo_store: str) -> None:
    found = find(demo_store, "left hand holder for VBMT160404 here")
    assert (found.total, found.items) == (0, ())
    assert [item.tag for item in found.elsewhere] == ["H13"]
    assert found.verdict.startswith("None here, but 1 at home")
    assert "H13 at Wilf's home / cellar bench" in found.detail
    assert not found.elsewhere[0].on_site


def test_none_here_but_one_lent(demo_store: str) -> None:
    found = find(demo_store, "MWLNL 12-4B here")
    assert [item.tag for item in found.elsewhere] == ["H04"]
    assert "1 lent out" in found.verdict
    assert "H04 lent to Wilf Oddney until 2026-12-18" in found.detail


def test_some_at_home_and_some_lent_are_counted_apart(sqlite_url: str, tmp_path: Path) -> None:
    items = """tag,code,owner,place,lent_to,due_back
X1,PCLNL2525M12,Ada Quill,Ada's home,,
X2,PCLNL2525M12,Moor End Works,shop,Bert Stone,2026-12-01
X3,PCLNL2525M12,Ada Quill,Ada's home,,
X4,PCLNR2525M12,Ada Quill,shop,,
"""
    open_shop(sqlite_url, tmp_path / "lists", items=items)
    found = find(sqlite_url, "left hand holder for CNMG 432 here")
    assert found.total == 0
    assert {item.tag for item in found.elsewhere} == {"X1", "X2", "X3"}
    assert found.verdict == "None here, but 2 at home or another site and 1 lent out."


def test_without_here_those_elsewhere_are_counted_too(demo_store: str) -> None:
    found = find(demo_store, "left hand holder for WNMG 080408")
    assert tags(found) == {"H01", "H02", "H03", "H04"}
    assert {item.tag for item in found.items if item.on_site} == {"H01", "H02"}
    assert "2 of those shown on site" in found.verdict


def test_none_at_all_says_that_it_speaks_of_the_record_only(demo_store: str) -> None:
    found = find(demo_store, "holder for SNGN090308T")
    assert (found.total, found.elsewhere) == (0, ())
    assert "No holders for SNGN090308T on record" in found.verdict
    assert "never entered" in found.detail


def test_damaged_and_incomplete_are_not_called_missing(demo_store: str) -> None:
    damaged = find(demo_store, "left hand holder for DNMG150408 here")
    assert tags(damaged) == {"H12"}
    assert "H12 is damaged" in damaged.detail
    gauge = find(demo_store, "tag=M07")
    assert gauge.total == 1
    assert "8 in rod missing" in gauge.detail


def test_used_up_and_not_counted_differ(demo_store: str) -> None:
    empty, uncounted = find(demo_store, "tag=I08").items[0], find(demo_store, "tag=I44").items[0]
    assert empty.edges_left == 0
    assert uncounted.edges_left is None


def test_a_loan_whose_borrower_has_left_still_says_who_has_it(demo_store: str) -> None:
    (lent,) = find(demo_store, "tag=B11").items
    assert (lent.held_by, lent.due_back, lent.on_site) == ("Perrin Sallow", None, False)
    here = find(demo_store, "S16T-SCLCR3 here")
    assert here.total == 0
    assert "lent to Perrin Sallow" in here.detail


def test_an_overdue_loan_gives_its_day(demo_store: str, monkeypatch: pytest.MonkeyPatch) -> None:
    (reamer,) = find(demo_store, "tag=D09").items
    assert (reamer.held_by, reamer.due_back) == ("Tobin Ashgrove", "2026-10-15")
    for day, told in ((date(2026, 10, 15), ""), (date(2026, 10, 16), ", OVERDUE")):
        monkeypatch.setattr("crib.desk.dates.today", lambda day=day: day)
        found = find(demo_store, "who's got D09")
        assert found.verdict == f"D09 is lent to Tobin Ashgrove until 2026-10-15{told}."
        assert "lent" not in found.detail and found.next_step.startswith("crib return D09")


def test_the_same_mark_on_two_tools_gives_both(demo_store: str) -> None:
    found = find(demo_store, "WO 7")
    assert tags(found) == {"H06", "B13"}
    assert {item.mark for item in found.items} == {"WO 7"}


def test_marks_that_differ_by_a_dot_stay_apart(demo_store: str) -> None:
    tobin, tamsin = find(demo_store, "T.A holders"), find(demo_store, "TA holders")
    assert {item.owner for item in tobin.items} == {"Tobin Ashgrove"}
    assert {item.owner for item in tamsin.items} == {"Tamsin Arkwell"}


def test_who_has_it_and_what_is_lent(demo_store: str) -> None:
    assert tags(find(demo_store, "what is lent out")) == {"H04", "B11", "D09", "M04"}
    assert tags(find(demo_store, "my holders at home")) == {"H20"}
    assert tags(find(demo_store, "what has Wilf got")) == {"H04", "M04"}


def test_what_is_here_is_not_to_be_brought_from_home(demo_store: str) -> None:
    found = find(demo_store, "WNMG080408 of Tamsin at home")
    assert found.elsewhere[0].on_site and "bring" not in found.next_step


def test_edges_left_is_no_left_hand(demo_store: str) -> None:
    assert find(demo_store, "edges left WNMG080408").verdict.endswith("132 edges left in all.")


# -- typing slips and half words --------------------------------------------------------------------------


def test_a_slip_in_a_word_of_the_record_is_mended_and_said(demo_store: str) -> None:
    found = find(demo_store, "trigonn inserts")
    assert found.total > 0
    assert all("trigon" in item.label for item in found.items)
    assert [(said.value, said.from_) for said in found.understood if said.field == "text"] == [
        ("trigon", "trigonn")
    ]


def test_a_code_finds_what_has_a_makers_signs_behind_it(sqlite_url: str, tmp_path: Path) -> None:
    items = (
        "tag,kind,code,owner,place,condition\n"
        "X1,insert,CNMG120408-AB,Ada Quill,shop,new\n"
        "X2,insert,CNMG120408,Ada Quill,shop,new\n"
        "X3,insert,CNMG 432-RK,Ada Quill,shop,new\n"
        "X4,insert,CNMG120412,Ada Quill,shop,new\n"
    )
    open_shop(sqlite_url, tmp_path / "lists", items=items)
    found = find(sqlite_url, "CNMG 12 04 08")
    assert [item.tag for item in found.items] == ["X2", "X1", "X3"]  # the very code comes first


def test_half_a_code_finds_what_begins_so(demo_store: str) -> None:
    assert tags(find(demo_store, "MWLNL")) == {"H01", "H02", "H04"}
    assert {"I18", "I19", "I22"} <= tags(find(demo_store, "CCMT09"))


def test_a_word_that_no_record_holds_finds_nothing(demo_store: str) -> None:
    found = find(demo_store, "unobtainium")
    assert (found.total, found.items, found.elsewhere) == (0, (), ())


@pytest.mark.parametrize(
    ("question", "error"),
    [
        ("colour=red", InputError),
        ("condition=broken", InputError),
        ("hand=sideways", InputError),
        ("kind=spanner", InputError),
        ("owner=Bob", UnknownName),
        ("at=nowhere", UnknownName),
        ("fits=ZZZ", BadDesignation),
    ],
)
def test_a_field_that_can_t_be_is_refused_with_what_would_be_right(
    demo_store: str, question: str, error: type[InputError]
) -> None:
    with pytest.raises(error) as raised:
        find(demo_store, question)
    assert raised.value.message
    assert raised.value.hint


# -- pages ------------------------------------------------------------------------------------------------


def test_pages_follow_on_without_gap_or_repeat(demo_store: str) -> None:
    whole = find(demo_store, "inserts", limit=1000)
    pages = [find(demo_store, "inserts", limit=20, offset=at).items for at in (0, 20, 40)]
    assert [item.tag for page in pages for item in page] == [item.tag for item in whole.items]
    assert len(pages[2]) == whole.total - 40 == 7
    assert find(demo_store, "inserts", limit=20, offset=1000).items == ()


def test_pages_of_what_fits_follow_on_too(demo_store: str) -> None:
    whole = find(demo_store, "inserts for MWLNL2525M08", limit=1000)
    pages = [find(demo_store, "inserts for MWLNL2525M08", limit=3, offset=at) for at in (0, 3, 6)]
    assert [item.tag for page in pages for item in page.items] == [item.tag for item in whole.items]
    assert {page.total for page in pages} == {whole.total}


# -- where we are -----------------------------------------------------------------------------------------


def test_here_follows_the_setting(demo_address: str) -> None:
    put(demo_address, "site", "Tobin's home")
    found = find(demo_address, "left hand holders here")
    assert tags(found) == {"H03", "H11"}
    assert all(item.on_site for item in found.items)


def test_here_without_a_setting_says_how_to_set_it(sqlite_url: str, tmp_path: Path) -> None:
    take_lists(sqlite_url, tmp_path / "lists", {"people": PEOPLE, "places": PLACES})
    with pytest.raises(NotPossible) as raised:
        find(sqlite_url, "holders here")
    assert "crib setting site" in raised.value.hint
    assert find(sqlite_url, "holders").total == 0


def test_a_missing_store_is_said_and_not_made(tmp_path: Path) -> None:
    path = tmp_path / "none" / "crib.db"
    with pytest.raises(StoreMissing):
        find(str(path), "holders")
    assert not path.parent.exists()


def test_after_bringing_it_in_it_is_here(demo_address: str) -> None:
    bring_in(demo_address, ["H13"])
    assert tags(find(demo_address, "left hand holder for VBMT160404 here")) == {"H13"}


# -- users' text is data ----------------------------------------------------------------------------------

HOSTILE = [
    "[bold red]not markup[/]",
    "\x1b]0;title\x07\x1b[2Jcleared",
    "=cmd|' /C calc'!A0",
    "left \u202eright-to-left\u202c mark",
    "'; DROP TABLE item; --",
    "%s %n {0} ${HOME} `id`",
    "zero\u200bwidth \ufeff and é́ combined",
    "long " + "x" * 5000,
]


@pytest.mark.parametrize("label", HOSTILE)
def test_hostile_text_comes_back_as_it_was_written(sqlite_url: str, tmp_path: Path, label: str) -> None:
    quoted = label.replace('"', '""')
    items = f'tag,kind,label,owner,place,note\nX1,other,"{quoted}",Ada Quill,shop / bay,"{quoted}"\n'
    open_shop(sqlite_url, tmp_path / "lists", items=items)
    (found,) = find(sqlite_url, "tag=X1").items
    assert found.label == label
    assert found.note == label


@pytest.mark.parametrize("question", [*HOSTILE, '"', "a=b=c", "= = =", "NEAR(", "* OR 1", "\x00", "\ud800"])
def test_hostile_questions_are_answered_or_refused_clearly(demo_store: str, question: str) -> None:
    try:
        found = find(demo_store, question)
    except InputError as error:
        assert error.message
    else:
        assert found.verdict
        assert found.total <= 149, "the invented workshop holds no more"


@pytest.mark.parametrize(
    ("question", "tags"),
    [
        ("what of mine is out", {"M04"}),
        ("what is overdue", {"D09", "M04"}),
        ("who has the 1 in bar", {"B11"}),
        ("which inserts of mine are still in the building", {"I04", "I25", "I28", "I38"}),
    ],
)
def test_what_is_out_overdue_and_still_here(
    demo_store: str, question: str, tags: set[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("crib.desk.dates.today", lambda: date(2026, 11, 27))
    assert {item.tag for item in find(demo_store, question).items} == tags


def test_my_own_bar_is_not_another_s(demo_store: str) -> None:
    found = find(demo_store, "who has my 25 mm bar")
    assert found.verdict == "None lent out, but 1 on site."
    assert [item.tag for item in found.elsewhere] == ["B05"]


def test_a_size_said_aloud_is_a_size(demo_store: str) -> None:
    # by hand from demo_data/bars.csv: the 25 mm bars
    aloud, typed = find(demo_store, "a twenty-five mm bar"), find(demo_store, "a 25 mm bar")
    assert tags(aloud) == tags(typed) and "B05" in tags(aloud)


def test_none_of_mine_but_somebody_else_s(demo_store: str) -> None:
    found = find(demo_store, "is my bore gauge at home or in the shop")
    assert found.verdict == "No gauges of that owner, but 1 of others'."
    assert [item.tag for item in found.elsewhere] == ["M11"]


def test_edges_of_several_boxes_are_added_up(demo_store: str) -> None:
    found = find(demo_store, "how many corners have we got of WNMG 080408")
    left = [item.edges_left for item in found.items]
    assert None not in left and f"; {sum(n or 0 for n in left)} edges left in all." in found.verdict


def test_what_the_books_answer_names_its_command(demo_store: str) -> None:
    found = find(demo_store, "what do I need to order before Monday?")
    assert (found.book, found.next_step, found.items) == ("restock", "crib restock", ())

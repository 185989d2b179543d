"""Claims: made from what happened, gaps said loudly, taken further by steps, added up as printed."""

from pathlib import Path

import pytest
from pictures_made import photo

from crib.desk.asking.ask import find
from crib.desk.asking.story import story
from crib.desk.doings.moving import move
from crib.desk.doings.undo import undo
from crib.desk.doings.wear import count, use
from crib.desk.keeping.audit import audit
from crib.desk.keeping.settings import put
from crib.desk.owed import evidence
from crib.desk.owed.claim_doing import (
    LineRequest,
    add,
    agree,
    amend,
    close,
    correct,
    new,
    refuse,
    replace_with,
    send,
    settle,
    withdraw,
)
from crib.desk.owed.claims import Claim, claim, claims
from crib.desk.owed.worth import WorthRequest, record
from crib.errors import CribError, InputError, NotPossible, UnknownName

ME = "Tamsin Arkwell"
WORN = LineRequest(event="worn out", basis="agreed", amount="48")
BROKEN = LineRequest(event="broken", basis="like for like", amount="25.50")


@pytest.fixture
def shop(demo_address: str) -> str:
    """The invented workshop, with money in euros and rules chosen; none of its own claims counts here."""
    put(demo_address, "currency", "EUR")
    put(demo_address, "rules", "accountable plan")
    return demo_address


@pytest.fixture
def sent(shop: str) -> str:
    """A claim of two lines, handed in."""
    number = new(shop, ["H10"], WORN).number
    add(shop, number, ["I04"], LineRequest(event="consumed", basis="consumption", edges="9", amount="21.15"))
    return send(shop, number, accept_gaps=True).number


def states(found: Claim) -> tuple[str, ...]:
    return (found.state, *(line.state for line in found.lines))


def test_a_line_takes_day_and_words_from_the_ledger(shop: str) -> None:
    for line in (one for one in claims(shop).claims if "D08" in one.tools):
        withdraw(shop, line.number, [], why="made anew in this test")
    found = new(shop, ["D08"], WORN)
    (line,) = found.lines
    assert (str(line.on), line.what_happened) == (
        "2026-06-06",
        "blades worn out on the railway's bronze bushes",
    )
    assert (line.asked, line.state, found.state) == ("48.00 EUR", "draft", "draft")
    assert {str(one.due) for one in found.deadlines} >= {"2026-08-05", "2026-10-04"}
    last = story(shop, "D08").ledger[-1]
    assert (last.what, last.why) == ("claimed", f"claim {found.number}, line 1: worn out")


def test_no_basis_is_picked(shop: str) -> None:
    record(shop, "H10", WorthRequest(agreed="85 EUR"))
    record(shop, "H10", WorthRequest(replacement="140 EUR"))
    with pytest.raises(NotPossible) as raised:
        new(shop, ["H10"], LineRequest(event="broken"))
    assert "agreed (85.00 EUR)" in raised.value.hint
    assert "like for like (140.00 EUR)" in raised.value.hint
    assert new(shop, ["H10"], LineRequest(event="broken", basis="agreed")).sums.asked == "85.00 EUR"


@pytest.mark.parametrize(
    ("told", "asked", "how"),
    [
        ({"basis": "like for like", "pieces": "3"}, "420.00 EUR", "3 × 140.00 EUR"),
        ({"basis": "age-reduced"}, "84.00 EUR", "(1 − 96/240 months)"),
        ({"basis": "share", "share": "50 %"}, "70.00 EUR", "50 % of 140.00 EUR"),
        ({"basis": "repair", "repair": "40 EUR"}, "40.00 EUR", "the lower of"),
        ({"basis": "repair", "repair": "400 EUR"}, "140.00 EUR", "the lower of"),
        ({"basis": "receipt"}, "60.00 EUR", "paid"),
    ],
)
def test_each_basis_works_its_sum_out_and_shows_it(
    shop: str, told: dict[str, str], asked: str, how: str
) -> None:
    record(shop, "H10", WorthRequest(replacement="140 EUR", life="20", source="agreed with the foreman"))
    record(shop, "H10", WorthRequest(origin="bought", got="2018-06-06", paid="60 EUR"))
    (line,) = new(shop, ["H10"], LineRequest(event="broken", on="2026-06-06", **told)).lines
    assert line.asked == asked
    assert how in (line.worked_out or "")


def test_consumed_edges_by_the_price_of_one_insert(shop: str) -> None:
    record(shop, "I04", WorthRequest(replacement="9.40 EUR"))
    (line,) = new(shop, ["I04"], LineRequest(event="consumed", basis="consumption", edges="9")).lines
    # a W insert has three corners on each of two faces (ISO 1832): 9/6 × 9.40
    assert (line.asked, line.worked_out) == ("14.10 EUR", "9 of 6 edges each × 9.40 EUR, the price of one")


def test_gaps_are_loud_and_go_as_they_are_filled(shop: str, tmp_path: Path) -> None:
    found = new(shop, ["H10"], WORN)
    gaps = found.all_gaps
    assert "LINE 1 (H10): NO PHOTO" in gaps
    assert "LINE 1 (H10): VALUE NOT AGREED" in gaps
    assert "NO POLICY OR AGREEMENT NAMED" in gaps
    assert all(gap.split("(")[0].isupper() for gap in found.gaps)
    with pytest.raises(NotPossible, match=f"has {len(gaps)} gaps: NO POLICY"):
        send(shop, found.number)
    (tmp_path / "a.jpg").write_bytes(photo())
    evidence.add(shop, "H10", [str(tmp_path / "a.jpg")])
    evidence.add(shop, f"{found.number}/1", [str(tmp_path / "a.jpg")], kind="statement", says="I saw it")
    record(
        shop, "H10", WorthRequest(agreed="85 EUR", source="both initials", origin="gift", got="2019-04-12")
    )
    filled = amend(shop, found.number, clause="house policy of 2024, 3", place="the works")
    assert filled.gaps == ()
    assert set(gaps) - set(filled.all_gaps) >= {"LINE 1 (H10): NO PHOTO", "LINE 1 (H10): VALUE NOT AGREED"}
    assert "LINE 1 (H10): NO RECEIPT" in filled.all_gaps
    assert [proof.of for proof in filled.lines[0].proofs] == ["H10", f"{found.number}/1"]


def test_the_same_tool_is_not_on_two_claims_that_stand(shop: str) -> None:
    first = new(shop, ["H10"], WORN)
    with pytest.raises(NotPossible, match=f"H10 is on claim {first.number} already"):
        new(shop, ["H10"], BROKEN)
    with pytest.raises(NotPossible, match="on this claim already"):
        add(shop, first.number, ["H10"], BROKEN)
    withdraw(shop, first.number, [1], why="wrong tool")
    assert claim(shop, first.number).sums.asked == "0.00 EUR"
    again = new(shop, ["H10"], BROKEN)
    assert f"LINE 1 (H10): WAS ON CLAIM {first.number} BEFORE" in again.all_gaps


@pytest.mark.parametrize(
    ("tags", "line", "error"),
    [
        (["H10", "H03"], WORN, NotPossible),  # Tobin's
        (["H10", "H01"], WORN, NotPossible),  # the company's
        (["H10", "H99"], WORN, UnknownName),
        (["H10"], LineRequest(event="worn out", basis="agreed"), NotPossible),  # nobody agreed on anything
        (["H10"], LineRequest(event="worn out", basis="agreed", amount="48 USD"), InputError),
        (["H10"], LineRequest(event="vanished", basis="agreed", amount="48"), UnknownName),
        (["H10"], LineRequest(event="broken", basis="share", amount=""), NotPossible),
        (["H10"], LineRequest(event="broken", basis="agreed", amount="48", pieces="0"), InputError),
    ],
)
def test_all_or_nothing(shop: str, tags: list[str], line: LineRequest, error: type[CribError]) -> None:
    before = claims(shop).claims
    with pytest.raises(error):
        new(shop, tags, line)
    assert claims(shop).claims == before
    assert story(shop, "H10").ledger[-1].what != "claimed"


def test_an_amount_changes_by_a_dated_step_only(shop: str) -> None:
    number = new(shop, ["H10"], WORN).number
    found = correct(shop, number, 1, "45.50", why="price list looked up", on="2026-11-20")
    assert (found.sums.asked, found.lines[0].asked) == ("45.50 EUR", "45.50 EUR")
    step = found.steps[-1]
    assert (str(step.on), step.line_no, step.amount, step.why) == (
        "2026-11-20",
        1,
        "45.50 EUR",
        "price list looked up",
    )
    with pytest.raises(InputError, match="why"):
        correct(shop, number, 1, "1", why=" ")


def test_part_agreed_part_refused_part_settled_closed(shop: str, sent: str) -> None:
    assert states(claim(shop, sent)) == ("sent", "sent", "sent")
    assert states(agree(shop, sent, [1], amount="40", by="the foreman")) == (
        "part agreed",
        "part agreed",
        "sent",
    )
    assert states(refuse(shop, sent, [2], why="normal wear")) == ("part agreed", "part agreed", "refused")
    with pytest.raises(InputError, match=r"40\.00 EUR is open, not 41\.00 EUR"):
        settle(shop, sent, [1], amount="41")
    paid = settle(shop, sent, [1], amount="15", how="cash")
    assert (states(paid)[0], paid.sums.paid, paid.sums.open) == ("part settled", "15.00 EUR", "25.00 EUR")
    with pytest.raises(InputError, match="why is it closed"):
        close(shop, sent)
    done = settle(shop, sent)
    assert (states(done), done.sums.open) == (("settled", "settled", "refused"), "0.00 EUR")
    assert close(shop, sent).state == "closed"
    with pytest.raises(NotPossible, match="is closed"):
        agree(shop, sent, [2])
    assert [step.state for step in claim(shop, sent).steps if step.line_no is None] == [
        "draft", "sent", "part agreed", "part agreed", "part settled", "settled", "closed"
    ]  # fmt: skip


def test_steps_in_the_wrong_order_are_refused(shop: str) -> None:
    number = new(shop, ["H10"], WORN).number
    for step in (agree, settle, close):
        with pytest.raises(NotPossible, match="is draft"):
            step(shop, number)
    send(shop, number, accept_gaps=True)
    for again in (lambda: send(shop, number, accept_gaps=True), lambda: add(shop, number, ["I04"], BROKEN)):
        with pytest.raises(NotPossible, match="is sent"):
            again()
    with pytest.raises(InputError, match="less than"):
        agree(shop, number, [1], amount="48.01")


def test_replaced_in_kind_the_owner_is_asked_for_and_never_assumed(shop: str, sent: str) -> None:
    agree(shop, sent)
    with pytest.raises(InputError, match="whose is the new tool"):
        replace_with(shop, sent, 1, tag="H77", owner=" ")
    with pytest.raises(NotPossible, match="tag H01 is taken"):
        replace_with(shop, sent, 1, tag="H01", owner="company")
    done = replace_with(shop, sent, 1, tag="H77", owner="company", mark="HLR 77", old_to="company")
    assert done.lines[0].replaced_by == ("H77",)
    assert done.state == "part settled"
    (fresh,) = find(shop, "tag=H77").items
    (old,) = find(shop, "tag=H10").items
    assert (fresh.owner, fresh.condition, fresh.mark) == ("Hattersbeck Light Railway", "new", "HLR 77")
    assert fresh.designation == old.designation
    assert (old.owner, old.condition) == ("Hattersbeck Light Railway", "scrap")
    assert settle(shop, sent, how="cash").state == "settled"
    assert audit(shop).differences == ()


def test_own_tools_that_are_worn_and_on_no_claim_are_named(shop: str) -> None:
    for one in claims(shop).claims:
        assert not {tool.item.tag for tool in claims(shop).suggested} & set(one.tools)
    put(shop, "me", "Wilf Oddney")
    assert all(tool.item.owner == "Wilf Oddney" for tool in claims(shop).suggested)


def test_what_is_used_up_or_counted_away_is_named_but_no_part_that_went_back(shop: str) -> None:
    use(shop, "I25", edges=6, gone=5)
    count(shop, "I38", 0, why="not in the chest")
    (chest,) = (item.place for item in find(shop, "tag=I04").items)
    part = move(shop, ["I04"], "works", pieces=6 - 1, edges=17).items[-1].tag
    move(shop, [part], chest)
    assert find(shop, f"tag={part}").items[0].quantity == 0
    named = {one.item.tag: (one.event, one.why) for one in claims(shop).suggested}
    assert named["I25"][0] == "consumed"
    assert named["I38"] == ("lost", "not in the chest")
    assert part not in named


def test_fewer_pieces_and_used_edges_are_named_with_their_count_until_they_are_claimed(shop: str) -> None:
    use(shop, "I25", edges=2)
    undone = use(shop, "I25", edges=1)
    undo(shop, undone.act)
    count(shop, "I38", 3, why="two fell into the pit")
    count(shop, "I04", 8)

    def named() -> dict[str, str]:
        return {one.item.tag: one.told for one in claims(shop).suggested}

    assert named() | {"I25": "consumed 2 edges", "I38": "lost 2 pieces"} == named()
    assert "I04" not in named(), "more were found than the books had"
    count(shop, "I38", 5, why="found again")
    assert "I38" not in named()
    line = LineRequest(event="consumed", basis="consumption", edges="2", amount="4")
    number = new(shop, ["I25"], line).number
    assert "I25" not in named()
    for step in (lambda: send(shop, number, accept_gaps=True), lambda: agree(shop, number)):
        step()
    settle(shop, number)
    use(shop, "I25", edges=1)
    assert named()["I25"] == "consumed 1 edge", "what was claimed and paid is not named again"


def test_what_was_not_agreed_is_said_with_what_may_be_done_next(shop: str, sent: str) -> None:
    assert claim(shop, sent).rest == ()
    told = agree(shop, sent, [1], amount="40").rest
    assert (
        told[0] == "Line 1: 48.00 EUR asked, 40.00 EUR agreed, 40.00 EUR of it open; 8.00 EUR was not agreed."
    )
    assert f"crib claim agree {sent} 1 --amount" in " ".join(told)
    refuse(shop, sent, [2], why="normal wear")
    paid = settle(shop, sent)
    assert (paid.state, paid.sums.not_agreed) == ("settled", "29.15 EUR")
    assert paid.rest[1] == "Line 2: 21.15 EUR asked, 0.00 EUR agreed; 21.15 EUR was not agreed."
    assert "A new claim can ask for it again, with what was had (--had …)" in " ".join(paid.rest)
    said = " ".join((*told, *paid.rest)).lower()
    assert not [word for word in ("entitle", "owed", "right to") if word in said]


def test_a_basis_without_a_value_says_which_option_records_it(shop: str) -> None:
    with pytest.raises(NotPossible) as raised:
        new(shop, ["H10"], LineRequest(event="broken", basis="receipt"))
    assert raised.value.message == "H10: what it cost is not on record"
    assert raised.value.hint == "crib worth H10 --paid … records it; --amount tells the sum itself"
    record(shop, "H10", WorthRequest(agreed="85 EUR"))
    with pytest.raises(NotPossible) as raised:
        new(shop, ["H10"], LineRequest(event="broken", basis="receipt"))
    assert raised.value.hint.endswith("; on record: agreed (85.00 EUR)")


HALF = "house: hand in: 14 days from event; share: 50 % over 10 EUR, at most 150 EUR a year"


def broken(on: str = "2026-06-06", **told: str) -> LineRequest:
    return LineRequest(event="broken", basis="share", on=on, **told)


def test_a_sum_a_year_is_counted_over_all_claims_of_that_year(shop: str) -> None:
    for tag, price in (("H10", "140 EUR"), ("H14", "120 EUR"), ("B05", "90 EUR"), ("I04", "10 EUR")):
        record(shop, tag, WorthRequest(replacement=price))
    first = new(shop, ["H10", "H14"], broken(), rules=HALF)
    assert [line.asked for line in first.lines] == ["70.00 EUR", "60.00 EUR"]
    assert "at most 150.00 EUR a year; 70.00 EUR asked or agreed in 2026" in (first.lines[1].worked_out or "")
    assert first.allowances == (
        "On the basis share at most 150.00 EUR a year: 130.00 EUR asked or agreed in 2026 "
        f"(claim {first.number}); 20.00 EUR left.",
    )
    second = new(shop, ["B05"], broken(), rules=HALF)
    assert second.lines[0].asked == "20.00 EUR"
    assert "45.00 EUR; at most 150.00 EUR a year" in (second.lines[0].worked_out or "")
    withdraw(shop, second.number, [], why="next year then")
    assert new(shop, ["B05"], broken("2025-06-06"), rules=HALF).lines[0].asked == "45.00 EUR"
    with pytest.raises(NotPossible, match=r"for tools over 10\.00 EUR; one costs 10\.00 EUR"):
        add(shop, first.number, ["I04"], broken())
    send(shop, first.number, accept_gaps=True)
    assert agree(shop, first.number, [1], amount="30").allowances[0].endswith("60.00 EUR left.")


def test_nothing_left_of_the_year_is_refused_unless_the_sum_is_told(shop: str) -> None:
    record(shop, "H10", WorthRequest(replacement="140 EUR"))
    record(shop, "H14", WorthRequest(replacement="120 EUR"))
    line = broken(share="50 %, at most 70 EUR a year")
    made = new(shop, ["H10"], line)
    with pytest.raises(NotPossible, match=r"nothing is left of 2026") as raised:
        add(shop, made.number, ["H14"], line)
    assert "--amount" in raised.value.hint
    assert add(shop, made.number, ["H14"], broken(amount="12")).lines[1].asked == "12.00 EUR"


def test_a_fixed_sum_a_year_against_receipts_beside_a_known_set_of_rules(shop: str) -> None:
    record(shop, "H10", WorthRequest(origin="bought", got="2026-05-06", paid="360 EUR"))
    rules = "accountable plan; receipt: at most 300 EUR a year"
    found = new(shop, ["H10"], LineRequest(event="bought", basis="receipt", on="2026-05-06"), rules=rules)
    assert (found.lines[0].asked, found.rules) == ("300.00 EUR", rules)
    assert found.deadlines


@pytest.mark.parametrize(
    "rules",
    [
        "house: share: half of it",
        "house: share: 0 %",
        "house: receipt: 50 %",
        "house: share: at most 150 a year",
        "accountable plan; hand in: 3 days from event",
    ],
)
def test_a_rule_that_says_no_sum_is_refused(shop: str, rules: str) -> None:
    with pytest.raises(CribError) as raised:
        new(shop, rules=rules)
    assert raised.value.hint


def test_nothing_speaks_of_a_right(shop: str, sent: str) -> None:
    found = claim(shop, sent)
    said = " ".join([found.defer, *(one.what for one in found.deadlines), *found.all_gaps]).lower()
    assert "may be wages" in said
    assert "entitle" not in said
    assert "tax free" not in said


def test_two_at_once_for_the_same_tool_on_each_engine(store_url: str, tmp_path: Path) -> None:
    from concurrent.futures import ThreadPoolExecutor

    from small_shop import open_shop

    items = "tag,kind,label,owner,place\nW1,other,a tool,Ada Quill,shop\n"
    open_shop(store_url, tmp_path / "lists", items=items)
    put(store_url, "currency", "EUR")

    def claim_it(_: int) -> str:
        try:
            return new(store_url, ["W1"], BROKEN).number
        except NotPossible as error:
            return error.message

    with ThreadPoolExecutor(4) as pool:
        said = list(pool.map(claim_it, range(4)))
    made = [one for one in said if one.startswith("20")]
    assert len(made) == 1, said
    assert sum("is on claim" in one or "do not allow" in one for one in said) == 3
    assert len(claims(store_url).claims) == 1

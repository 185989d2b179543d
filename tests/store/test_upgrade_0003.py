"""What the third version adds stays as it was said, but for the columns that may still be written."""

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from sqlalchemy import text
from store.stock import fill

from crib.errors import NotPossible
from crib.store import ledger
from crib.store.models import (
    Claim,
    ClaimLine,
    ClaimStep,
    Evidence,
    LedgerLine,
    LoggedCut,
    Origin,
    Proof,
    Setup,
    SetupPoint,
    Worth,
)
from crib.store.writing import writing

MONDAY = datetime(2026, 3, 2, 8, tzinfo=UTC)


@pytest.fixture
def books(store_url: str) -> str:
    """A store with one row in each of the new books."""
    ids = fill(store_url)
    item, anna, company = ids["T-7"], ids["anna"], ids["Narrow Gauge Company"]
    with writing(store_url) as session:
        session.add(Setup(name="bracket", points=[SetupPoint(at=MONDAY, point="top", k_n_mm=4000.0)]))
        session.add(LoggedCut(at=MONDAY, operation="boring", material="A36", result="clean"))
        session.add(Origin(item_id=item, at=MONDAY, how="gift"))
        session.add(
            Worth(item_id=item, at=MONDAY, on_date=date(2026, 3, 2), basis="agreed", amount=Decimal("0.10"),
                  currency="EUR")
        )  # fmt: skip
        claim = Claim(
            number="C-1", claimant_id=anna, payer_id=company, made_on=date(2026, 3, 2), currency="EUR"
        )
        evidence = Evidence(
            sha256="00", media_type="image/png", name="a.png", size=1, at=MONDAY, content=b"x"
        )
        session.add_all([claim, evidence])
        session.flush()
        line = ClaimLine(line_no=1, item_id=item, event="lost", basis="agreed", amount=Decimal("12.50"))
        claim.lines.append(line)
        session.add(ClaimStep(claim_id=claim.id, at=MONDAY, to_state="draft", amount=Decimal("12.50")))
        session.add(Proof(evidence_id=evidence.id, kind="photo", at=MONDAY, item_id=item))
    return store_url


@pytest.mark.parametrize(
    ("table", "kept"),
    [
        ("setup_point", "k_n_mm = 1"),
        ("cut", "result = 'chatter'"),
        ("origin", "how = 'inherited'"),
        ("worth", "amount = '9'"),
        ("claim", "claimant_id = payer_id"),
        ("claim_line", "amount = '9'"),
        ("claim_step", "amount = '9'"),
        ("evidence", "content = NULL"),
        ("proof", "item_id = 2"),
    ],
)
def test_what_was_said_once_stays(books: str, table: str, kept: str) -> None:
    for statement in (f"UPDATE {table} SET {kept}", f"DELETE FROM {table}"):
        with pytest.raises(NotPossible, match="never"), writing(books) as session:
            session.execute(text(statement))


def test_a_cut_and_a_proof_can_be_withdrawn_and_money_is_exact(books: str) -> None:
    with writing(books) as session:
        session.get_one(LoggedCut, 1).withdrawn_at = MONDAY
        session.get_one(Proof, 1).withdrawn_why = "another tool"
    with writing(books) as session:
        assert session.get_one(LoggedCut, 1).withdrawn_at == MONDAY
        assert (session.get_one(Worth, 1).amount, session.get_one(ClaimStep, 1).amount) == (
            Decimal("0.10"),
            Decimal("12.50"),
        )


def test_batches_split_and_merge_by_lines_that_name_each_other(store_url: str) -> None:
    ids = fill(store_url)
    one, other = ids["I-1"], ids["I-2"]
    with writing(store_url) as session:
        for item, pieces in ((one, -1), (other, 1)):
            entry = ledger.Entry(
                item_id=item, what="merged", at=MONDAY, quantity_change=pieces,
                other_item_id=other if item == one else one, act="a1", told="Anna, by word",
            )  # fmt: skip
            ledger.record(session, entry)
        last = session.get_one(LedgerLine, session.execute(text("SELECT max(id) FROM ledger")).scalar_one())
        assert (last.item_id, last.other_item_id, last.act, last.told) == (other, one, "a1", "Anna, by word")
        assert ledger.differences(session) == []
    with pytest.raises(ValueError, match="other batch"):
        ledger.Entry(item_id=one, what="split", at=MONDAY, quantity_change=-1)

"""The SQL of proofs, worths and claims, held against the models on both engines."""

from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import select
from store.stock import fill

from crib.store import models, papers
from crib.store.read import reading
from crib.store.writing import writing

AT = datetime(2026, 3, 2, 8, tzinfo=UTC)
DAY = date(2024, 2, 29)


def written(url: str) -> dict[str, int]:
    """Write one of each, every column filled; and a bare one of each."""
    ids = fill(url)
    item, anna, company = ids["T-7"], ids["anna"], ids["Narrow Gauge Company"]
    with writing(url) as session:
        evidence = models.Evidence(
            sha256="00ff",
            media_type="text/plain",
            name="é.txt",
            size=3,
            at=AT,
            content=b"\x00\xffa",
            by_id=anna,
        )
        claim = models.Claim(
            number="2026-1", claimant_id=anna, payer_id=company, made_on=DAY, currency="EUR", rules="r",
            clause="c", place_of_work="p", note="n",
        )  # fmt: skip
        session.add_all(
            [
                evidence,
                claim,
                models.Origin(
                    item_id=item, at=AT, how="gift", by_id=anna, on_date=DAY, from_whom="f", maker="m",
                    receipt="r", paid=Decimal("0.10"), currency="EUR", note="n",
                ),
                models.Origin(item_id=ids["T 8"], at=AT, how="unknown"),
                models.Worth(
                    item_id=item, at=AT, on_date=DAY, basis="agreed", amount=Decimal("85.00"), currency="EUR",
                    by_id=anna, life_years=12.5, source="s",
                ),
                models.Worth(
                    item_id=item, at=AT, on_date=date(2020, 1, 1), basis="estimate", amount=Decimal("1.00"),
                    currency="USD",
                ),
            ]
        )  # fmt: skip
        session.flush()
        line = models.ClaimLine(
            line_no=1, item_id=item, event="broken", basis="agreed", amount=Decimal("85.00"), on_date=DAY,
            what_happened="w", job="j", machine="m", seen_by="s", asked_by="a", worked_out="o", old_piece="p",
            already_had=Decimal("5.00"), ledger_id=1,
        )  # fmt: skip
        claim.lines.append(line)
        session.flush()
        session.add_all(
            [
                models.ClaimStep(
                    claim_id=claim.id, at=AT, to_state="sent", claim_line_id=line.id, on_date=DAY,
                    amount=Decimal("80.00"), by_id=anna, to_whom="t", why="w", replacement_item_id=item,
                ),
                models.ClaimStep(claim_id=claim.id, at=AT, to_state="closed"),
                models.Proof(
                    evidence_id=evidence.id, kind="photo", at=AT, item_id=item, on_date=DAY, by_id=anna,
                    says="s", withdrawn_at=AT, withdrawn_why="w",
                ),
                models.Proof(evidence_id=evidence.id, kind="other", at=AT, claim_line_id=line.id),
            ]
        )  # fmt: skip
    return ids


def orm(url: str, model: Any, row_type: Any) -> set[tuple[object, ...]]:
    """The rows that reading should give, made from the models."""
    with writing(url) as session:
        names = {party.id: party.name for party in session.scalars(select(models.Party))}
        found = set()
        for one in session.scalars(select(model)):
            cells = {name: getattr(one, name) for name in row_type._fields if hasattr(model, name)}
            for name in set(row_type._fields) - set(cells):
                if name in ("by", "claimant", "payer"):
                    cells[name] = names.get(getattr(one, f"{name}_id"))
                else:
                    cells[name] = getattr(session.get_one(models.Evidence, one.evidence_id), name)
            found.add(row_type(**cells))
        return found


def test_everything_reads_as_the_models_have_it(store_url: str) -> None:
    ids = written(store_url)
    with reading(store_url) as reader:
        found = {
            models.Proof: papers.proofs(reader),
            models.Origin: papers.origins(reader),
            models.Worth: papers.worths(reader),
            models.Claim: papers.claims(reader),
            models.ClaimLine: papers.claim_lines(reader),
            models.ClaimStep: papers.claim_steps(reader),
        }
        assert papers.content(reader, 1) == b"\x00\xffa"
        # by item, by line, by number, by claim
        assert [row.kind for row in papers.proofs(reader, item_ids=[ids["T-7"]])] == ["photo"]
        assert [row.kind for row in papers.proofs(reader, line_ids=[1])] == ["other"]
        assert [row.kind for row in papers.proofs(reader, item_ids=[ids["T-7"]], line_ids=[1])] == [
            "photo",
            "other",
        ]
        assert [row.id for row in papers.proofs(reader, number=2)] == [2]
        assert [row.how for row in papers.origins(reader, [ids["T 8"]])] == ["unknown"]
        assert [row.basis for row in papers.worths(reader, [ids["T-7"]])] == ["estimate", "agreed"]
        assert papers.worths(reader, []) == ()
        assert [row.number for row in papers.claims(reader, "2026-1")] == ["2026-1"]
        assert papers.claims(reader, "x' OR '1") == ()
        assert papers.claim_lines(reader, 2) == papers.claim_steps(reader, 2) == ()
    for model, rows in found.items():
        assert set(rows) == orm(store_url, model, type(rows[0]))

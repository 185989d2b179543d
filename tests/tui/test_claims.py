"""Claims on the invented workshop's store, wholly by keyboard at 80 x 24."""

from datetime import UTC, date, datetime

import pytest
from pypdf import PdfReader

from crib.desk import people
from crib.desk.keeping.settings import put
from crib.desk.owed.claim_doing import withdraw
from crib.tui.app import CribApp
from crib.tui.books import BOOKS

SIZE = (80, 24)


@pytest.fixture(autouse=True)
def a_fixed_day(monkeypatch):
    """A day after all that the demo records, so that pictures don't age."""
    for module in ("dates", "owed.claims", "owed.claim_doing", "owed.worth"):
        monkeypatch.setattr(f"crib.desk.{module}.today", lambda: date(2026, 11, 27), raising=False)
    for module in ("dates", "owed.claim_doing"):
        monkeypatch.setattr(f"crib.desk.{module}.now", lambda: datetime(2026, 11, 27, 9, tzinfo=UTC))


@pytest.fixture
def store(demo_address):
    """The invented workshop by other rules than its own: their days are long past, whatever today is."""
    put(demo_address, "rules", "accountable plan")
    return demo_address


def said(pilot, line="verdict"):
    return pilot.app.screen.query_one(f"#{line}").said


def area(pilot):
    return pilot.app.screen.AREA


async def to_claims(pilot, until):
    await pilot.press("f9", *["down"] * [book.name for book in BOOKS].index("Claims"), "enter")
    await until(pilot, lambda: area(pilot) == "claims" and pilot.app.screen.is_settled and said(pilot) != "")


def is_at(pilot, name, end):
    """Tell whether a screen is open and its first line ends so."""
    return lambda: area(pilot) == name and pilot.app.screen.is_settled and said(pilot).endswith(end)


async def test_a_claim_from_the_first_line_to_the_last(store, until, looks_like, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    async with CribApp(store, "demo: a private copy").run_test(size=SIZE) as pilot:
        await to_claims(pilot, until)
        await looks_like(pilot, "claims_80x24")
        await pilot.press("n")
        await until(pilot, is_at(pilot, "claim_new", "?"))
        await pilot.press(*"H02", "enter", "right", "enter")
        # no basis chosen: it is asked back, and what was typed stays
        await pilot.press("f5")
        await until(pilot, lambda: said(pilot).startswith("! H02: on which basis is it asked?"))
        assert "agreed (40.00 EUR)" in said(pilot, "why")
        await looks_like(pilot, "claim_new_80x24")
        await pilot.press("a", "f5")
        await until(pilot, is_at(pilot, "claims", "made; draft."))
        await pilot.press("home", "enter")
        await until(pilot, is_at(pilot, "claim", "DRAFT, 40.00 EUR asked."))
        await looks_like(pilot, "claim_80x24")
        await pilot.press("p")
        await until(pilot, is_at(pilot, "claim_print", "?"))
        await pilot.press("ctrl+s")
        await until(pilot, lambda: area(pilot) == "claim" and "saved as" in said(pilot))
        (pdf,) = tmp_path.glob("*.pdf")
        assert "40.00 EUR" in PdfReader(pdf).pages[0].extract_text()
        await pilot.press("e")
        await until(pilot, is_at(pilot, "evidence", "no photo, no receipt, no statement."))
        await pilot.press("escape")
        await until(pilot, lambda: area(pilot) == "claim" and pilot.app.screen.is_settled)
        await pilot.press("s")
        await until(pilot, is_at(pilot, "claim_send", "?"))
        await pilot.press("f5")
        await until(pilot, lambda: "gaps" in said(pilot))
        await pilot.press("down", "down", "y", "f5")
        await until(pilot, is_at(pilot, "claim", ": sent."))
        await pilot.press("w")
        await until(pilot, is_at(pilot, "claim_answer", "?"))
        await pilot.press("enter", "enter", *"30", "f5")
        await until(pilot, is_at(pilot, "claim", "agreed; part agreed."))
        await pilot.press("y")
        await until(pilot, is_at(pilot, "claim_pay", "?"))
        await pilot.press("enter", *"10.50", "enter", *"cash", "f5")
        await until(pilot, is_at(pilot, "claim", "paid; part settled."))
        await pilot.press("r")
        await until(pilot, is_at(pilot, "claim_replace", "?"))
        await pilot.press("1", "enter", *"H88", "enter", *"me", "f5")
        await until(pilot, is_at(pilot, "claim", "line 1 replaced; settled."))
        await pilot.press("x")
        await until(pilot, is_at(pilot, "claim_close", "then."))
        await pilot.press("f5")
        await until(pilot, is_at(pilot, "claim", ": closed."))
        await looks_like(pilot, "claim_closed_80x24")
        await pilot.press("escape")
        await until(pilot, lambda: area(pilot) == "claims")


async def test_tools_are_marked_for_a_claim(store, until):
    withdraw(store, "2026-1", [], why="to claim it anew")
    people.add(store, "Sutton Regrinding", company=True)
    async with CribApp(store).run_test(size=SIZE) as pilot:
        await to_claims(pilot, until)
        await pilot.press("end", "space", "n")
        await until(pilot, is_at(pilot, "claim_new", "?"))
        values = pilot.app.screen.form.values()
        assert (values["tags"], values["event"]) == ("D08", "worn out")
        await pilot.press("l", "f5")
        await until(pilot, lambda: said(pilot).startswith("! Who is asked to pay?"))
        assert "Hattersbeck Light Railway, Sutton Regrinding" in said(pilot, "why")
        await pilot.press(*["down"] * 13, *"hattersbeck", "f5")
        await until(pilot, is_at(pilot, "claims", "made; draft."))


async def test_a_sheet_to_sign(store, until, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    async with CribApp(store).run_test(size=SIZE) as pilot:
        await pilot.press("f9", *["down"] * [book.name for book in BOOKS].index("Sign-in sheet"), "enter")
        await until(pilot, is_at(pilot, "sheet", "?"))
        await pilot.press(*"mine.pdf", "down", "down", *"1 jan 2020", "down", *"perrin", "f5")
        await until(pilot, lambda: said(pilot).startswith("! No tool of Perrin Sallow's was brought in"))
        await pilot.press(*["backspace"] * 6, *"tobin", "f5")
        await until(pilot, lambda: said(pilot).startswith("Tobin Ashgrove: 2 own tools, saved as"))
        assert "Own tools brought in" in PdfReader(tmp_path / "mine.pdf").pages[0].extract_text()

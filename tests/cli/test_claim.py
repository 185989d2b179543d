"""What is owed, by command: evidence, worth, a claim from the first line to the last, and sheets to sign."""

from pathlib import Path

from commands import Crib
from pictures_made import photo


def test_a_claim_from_the_photo_to_the_last_step(crib_writing: Crib, tmp_path: Path) -> None:
    crib = crib_writing
    (tmp_path / "chip.jpg").write_bytes(photo(exif=True))
    told = crib("evidence", "add", "H10", str(tmp_path / "chip.jpg"), "--says", "chipped seat")
    assert "chip.jpg is dated 2025-02-28, by its camera." in told.lines
    (proof,) = crib.json("evidence", "H10")["evidence"]
    assert (proof["kind"], proof["says"], proof["on"]) == ("photo", "chipped seat", "2025-02-28")
    number = str(proof["number"])
    saved = crib.json("evidence", "save", number, str(tmp_path / "copy.jpg"))["saved"]
    assert Path(saved).read_bytes()[:3] == b"\xff\xd8\xff"

    # an amount and its currency may stand apart, as people type them
    worth = crib.json("worth", "H10", "--agreed", "85", "eur", "--source", "both initials")
    assert {v["basis"]: v["amount"] for v in worth["values"]}["agreed"] == "85.00 EUR"
    assert "agreed" in crib("worth", "H10").out
    assert "NO PHOTO" not in crib("mine", "H10").out

    line = ("--event", "broken", "--on", "2026-11-20", "--seen", "Wilf", "--job", "bracket")
    refused = crib.error("claim", "new", "H10", *line, status=1)
    assert "agreed (85.00 EUR)" in refused["hint"]
    made = crib("claim", "new", "H10", *line, "--basis", "agreed", "--place", "the works")
    assert "GAPS (" in made.out
    assert "NO POLICY OR AGREEMENT NAMED" in made.out
    assert crib("claim", "add", "2026-3", "I04", "--event", "consumed", "--basis", "consumption",
                "--amount", "14.10", "--edges", "9").status == 0  # fmt: skip
    assert crib("claim", "amend", "2026-3", "--clause", "house rules, 3").status == 0
    assert crib("claim", "correct", "2026-3", "2", "--amount", "12", "--why", "counted again").status == 0
    crib.error("claim", "send", "2026-3", status=1)
    assert crib.json("claim", "send", "2026-3", "--accept-gaps", "--to", "the office")["state"] == "sent"
    assert crib.json("claim", "agree", "2026-3", "1", "--by", "the foreman")["state"] == "part agreed"
    crib.error("claim", "refuse", "2026-3", "2", status=2)
    assert crib("claim", "refuse", "2026-3", "2", "--why", "normal wear").status == 0
    part = crib.json("claim", "settle", "2026-3", "--amount", "35", "--how", "cash")
    assert (part["state"], part["sums"]["open"]) == ("part settled", "50.00 EUR")
    crib.error("claim", "replace", "2026-3", "1", "--tag", "H77", status=2)
    done = crib.json("claim", "replace", "2026-3", "1", "--tag", "H77", "--owner", "company")
    assert (done["state"], done["lines"][0]["replaced_by"]) == ("settled", ["H77"])
    assert "CLOSED" in crib("claim", "close", "2026-3").lines[0]

    files = [str(tmp_path / f"claim.{kind}") for kind in ("pdf", "csv", "xlsx")]
    assert crib.json("claim", "print", "2026-3", *files)["saved"] == files
    assert Path(files[0]).read_bytes().startswith(b"%PDF-")
    crib.error("claim", "print", "2026-3", files[0], status=2)
    crib.error("claim", "print", "2026-3", str(tmp_path / "claim.doc"), status=2)
    told = crib("claim", "2026-3")
    assert "house rules, 3" in told.out
    assert told.lines[-1].endswith("a payment may be wages.")
    assert [one["number"] for one in crib.json("claim")["claims"]] == ["2026-3", "2026-2", "2026-1"]
    assert crib.json("audit")["differences"] == []


def test_a_line_is_withdrawn_and_stays(crib_writing: Crib) -> None:
    crib = crib_writing
    gone = crib.json("claim", "withdraw", "2026-2", "1", "--why", "not worth it")
    assert (gone["lines"][0]["state"], gone["sums"]["asked"]) == ("withdrawn", "0.00 EUR")
    assert crib("evidence", "withdraw", "1", "--why", "another tool").status == 0
    assert "WITHDRAWN" in crib("evidence", "list", "D08", "--all").out


def test_sheets_to_sign(crib_writing: Crib, tmp_path: Path) -> None:
    crib = crib_writing
    crib("bring", "H03", "--told", "the foreman")
    found = crib.json(
        "sheet", "bring-in", "--since", "today", "--owner", "tobin", "--pdf", str(tmp_path / "s.pdf")
    )
    assert [(t["item"]["tag"], t["told"]) for t in found["sheet"]["tools"]] == [("H03", "the foreman")]
    assert Path(found["saved"]).read_bytes().startswith(b"%PDF-")
    assert "NO VALUE ON RECORD" in crib("sheet", "bring-in", "--owner", "tobin").out
    crib.error("sheet", "take-home", "--owner", "wilf", status=1)


def test_rules_and_currency_are_settings(crib_writing: Crib) -> None:
    crib = crib_writing
    assert crib.json("setting", "rules", "Accountable", "plan")["rules"] == "accountable plan"
    assert crib.json("setting", "currency", "usd")["currency"] == "USD"
    crib.error("setting", "rules", "what is fair", status=2)
    crib.error("setting", "currency", "$", status=2)

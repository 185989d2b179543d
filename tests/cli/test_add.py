"""crib add, from codes, from a like tool, and a drawer read line by line."""

import io

import pytest
from commands import Crib


def test_codes_are_added_and_their_reading_is_said(crib_writing: Crib) -> None:
    ran = crib_writing(
        "add", "CNMG 120408", "DCMT11T304", "--quantity", "5", "--grade", "tough", "--owner", "T.A"
    )
    assert ran.status == 0, ran.err
    assert ran.lines[0].startswith("I48: CNMG120408 = CNMG432, insert C, nose 0.8, tough, 5 pieces")
    document = crib_writing.json("add", "--like", "H03", "--mark", 'T.A "7"')
    assert document["added"][0]["done"]["items"][0]["mark"] == 'T.A "7"'
    assert crib_writing("undo", document["added"][0]["done"]["act"]).status == 0


def test_a_dry_run_writes_nothing(crib_writing: Crib) -> None:
    assert crib_writing("add", "CNMG120408", "--dry-run").lines[-1] == "Nothing was written."
    assert crib_writing.json("find", "tag=I48", status=1)["total"] == 0


def test_bad_codes_and_options_are_refused(crib_writing: Crib) -> None:
    assert crib_writing.error("add", "XNMG", status=2)["code"] in ("bad_designation", "bad_input")
    crib_writing.error("add", status=2)
    crib_writing.error("add", "CNMG120408", "--quantity", "many", status=2)
    crib_writing.error("add", "CNMG120408", "--drawer", "works", status=2)


def test_a_drawer_from_a_scanner(crib_writing: Crib, monkeypatch: pytest.MonkeyPatch) -> None:
    lines = "]C1CNMG120404 x10\r\nrubbish 99\r\n\r\nagain\r\n.\r\nCNMG120408\r\n"
    monkeypatch.setattr("sys.stdin", io.StringIO(lines))
    ran = crib_writing("add", "--drawer", "insert cabinet / drawer 2", "--owner", "company")
    assert ran.status == 1, "one line was not taken"
    assert ran.lines[0].startswith("From here on: Hattersbeck Light Railway's, at works / tool room")
    assert ran.lines[2].startswith("line 2, not taken: 'rubbish 99'")
    assert ran.lines[-1] == "2 taken in; 1 not taken, see above."
    monkeypatch.setattr("sys.stdin", io.StringIO(lines))
    document = crib_writing.json("add", "--drawer", "works", status=1)
    assert [one["tag"] for one in document["added"]] == ["I50", "I51"]
    assert [one["line"] for one in document["not_taken"]] == [2]
    crib_writing.error("add", "--drawer", "nowhere", status=2)

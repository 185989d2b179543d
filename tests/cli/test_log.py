"""crib log: one word after a pick, the list, a withdrawal; documents and exit status."""

import json
import os
import stat
from pathlib import Path

from commands import Crib

JOURNAL = (
    "--op", "turn", "--material", "C45", "--from", "63 mm", "--to", "60 mm", "--length", "300 mm",
    "--machine", "old lathe", "--setup", "axle journal",
)  # fmt: skip


def test_one_word_after_a_pick(crib_writing: Crib) -> None:
    assert crib_writing.error("log", "--last", "clean", status=1)["code"] == "nothing_found"
    picked = crib_writing.json("pick", *JOURNAL)
    ran = crib_writing("log", "--last", "clean", "--candidate", "2", "--minutes", "6")
    assert ran.status == 0
    assert ran.lines[0].startswith("Recorded as no. ")
    assert ran.lines[1] == "The next pick on the axle journal at middle reckons with it."
    newest = crib_writing.json("log", "--setup", "axle journal")["cuts"][0]
    second = picked["candidates"][1]
    assert (newest["tool"], newest["insert"]) == (second["holder"]["tag"], second["insert"]["tag"])
    assert (newest["result"], newest["minutes"]) == ("clean", 6)
    assert "2 clean cuts up to" in crib_writing("pick", *JOURNAL).out
    number = str(newest["id"])
    assert crib_writing("log", "--withdraw", number, "--why", "typed wrongly").status == 0
    assert number not in [str(one["id"]) for one in crib_writing.json("log")["cuts"]]
    assert "typed wrongly" in crib_writing("log", "--all").out


def test_bad_words_are_told_what_would_be_right(crib_writing: Crib) -> None:
    crib_writing("pick", *JOURNAL)
    assert "clean" in crib_writing.error("log", "splendid", status=2)["hint"]
    assert crib_writing.error("log", "--last", status=2)["code"] == "bad_input"
    assert crib_writing.error("log", "clean", "--candidate", "999", status=1)["code"] == "nothing_found"


def test_what_is_kept_of_a_pick_is_private_and_a_spoilt_file_no_harm(crib_writing: Crib) -> None:
    crib_writing("pick", *JOURNAL)
    kept = Path(os.environ["CRIB_DB"]).parent / "last-pick.json"
    assert stat.S_IMODE(os.stat(kept).st_mode) == 0o600
    assert json.loads(kept.read_text(encoding="utf-8"))[0]["setup"] == "axle journal"
    for spoilt in ("", "[1]", '[{"op": 1}]', "{}"):
        kept.write_text(spoilt, encoding="utf-8")
        assert crib_writing.error("log", "clean", status=1)["code"] == "nothing_found"

"""The contract with other programs: one JSON document, its keys and types, and the exit status."""

import csv
from pathlib import Path
from typing import Any

import pytest
from commands import Crib

TEXT = (str,)
NUMBER = (int, float)
MAYBE_TEXT = (str, type(None))
MAYBE_NUMBER = (int, float, type(None))
FLAG = (bool,)
LIST = (list,)
MAYBE_WHOLE = (int, type(None))

# design section 4, key by key; more keys may stand beside these
RANGE = {"low": NUMBER, "start": NUMBER, "high": NUMBER}
INSERT = {
    "kind": TEXT,
    "system": TEXT,
    "designation": TEXT,
    "equivalent": MAYBE_TEXT,
    "SC": TEXT,
    "EPSR_deg": MAYBE_NUMBER,
    "AN_deg": MAYBE_NUMBER,
    "tolerance": {"class": TEXT, "d_mm": MAYBE_NUMBER, "m_mm": MAYBE_NUMBER, "s_mm": MAYBE_NUMBER},
    "fixing": {"letter": TEXT, "hole": TEXT, "chipbreaker_faces": MAYBE_WHOLE},
    "double_sided": (bool, type(None)),
    "IC_mm": MAYBE_NUMBER,
    "L_mm": MAYBE_NUMBER,
    "S_mm": MAYBE_NUMBER,
    "RE_mm": MAYBE_NUMBER,
    "edge_condition": MAYBE_TEXT,
    "HAND": MAYBE_TEXT,
    "CEDC": MAYBE_WHOLE,
    "maker_suffix": MAYBE_TEXT,
}
HOLDER = {
    "kind": TEXT,
    "system": TEXT,
    "designation": TEXT,
    "equivalent": MAYBE_TEXT,
    "clamping": TEXT,
    "style": TEXT,
    "SC": TEXT,
    "KAPR_deg": MAYBE_NUMBER,
    "AN_deg": MAYBE_NUMBER,
    "HAND": TEXT,
    "H_mm": MAYBE_NUMBER,
    "B_mm": MAYBE_NUMBER,
    "LF_mm": MAYBE_NUMBER,
    "L_mm": MAYBE_NUMBER,
    "insert_seat": TEXT,
    "maker_suffix": MAYBE_TEXT,
}
BAR = {
    "kind": TEXT,
    "system": TEXT,
    "designation": TEXT,
    "shank_type": TEXT,
    "DCON_mm": NUMBER,
    "LF_mm": MAYBE_NUMBER,
    "clamping": TEXT,
    "style": TEXT,
    "KAPR_deg": MAYBE_NUMBER,
    "AN_deg": MAYBE_NUMBER,
    "HAND": TEXT,
    "insert_seat": TEXT,
    "maker_suffix": MAYBE_TEXT,
}
FOUND_ITEM = {
    "id": (int,),
    "kind": TEXT,
    "label": TEXT,
    "designation": MAYBE_TEXT,
    "HAND": MAYBE_TEXT,
    "owner": TEXT,
    "place": TEXT,
    "site": TEXT,
    "on_site": FLAG,
    "condition": TEXT,
    "quantity": (int,),
    "edges_left": MAYBE_WHOLE,
}
FIND = {"understood": [{"field": TEXT, "value": TEXT, "from": TEXT}], "items": [FOUND_ITEM], "total": (int,)}
SPEED = {
    "vc_m_min": RANGE,
    "n_rev_min": MAYBE_NUMBER,
    "f_mm": RANGE,
    "ap_mm": RANGE,
    "source": [TEXT],
    "assumed": [TEXT],
    "cautions": [TEXT],
}
TOOL = {"id": (int,), "tag": TEXT, "designation": MAYBE_TEXT, "owner": TEXT, "place": TEXT}
PICK = {
    "job": (dict,),
    "candidates": [
        {
            "rank": (int,),
            "holder": TOOL,
            "insert": (dict, type(None)),
            "vc_m_min": NUMBER,
            "n_rev_min": NUMBER,
            "f_mm": NUMBER,
            "passes": [
                {"from_mm": NUMBER, "to_mm": NUMBER, "ap_mm": NUMBER, "minutes": MAYBE_NUMBER},
            ],
            "Fc_N": NUMBER,
            "Ff_N": NUMBER,
            "Fp_N": NUMBER,
            "Pc_kW": NUMBER,
            "pressure_ratio": NUMBER,
            "stability_margin": NUMBER,
            "low_pressure": FLAG,
            "Rz_um": MAYBE_NUMBER,
            "reasons": [TEXT],
            "assumed": [TEXT],
            "sources": [TEXT],
            "cautions": [TEXT],
        }
    ],
    "rejected": [{"holder": TOOL, "why": TEXT}],
    "ladder": [{"change": TEXT, "gain": MAYBE_NUMBER, "how": TEXT}],
}

BRACKET = (
    *("pick", "--op", "bore", "--material", "A36", "--from", "16 3/8 in", "--to", "16 1/2 in"),
    *("--length", "6 in", "--machine", "boring mill", "--hand", "left", "--setup", "weak", "--scale"),
)
SPEED_OF = ("speed", "--material", "4140", "--tool", "coated carbide", "--op", "turn", "--diameter", "3 in")


def agree(document: Any, contract: Any, path: str = "") -> None:
    """Check that a document holds the keys of the contract, each of a right type."""
    if isinstance(contract, dict):
        assert isinstance(document, dict), path
        for key, wanted in contract.items():
            assert key in document, f"{path}.{key} is missing"
            agree(document[key], wanted, f"{path}.{key}")
    elif isinstance(contract, list):
        assert isinstance(document, list), path
        for number, entry in enumerate(document):
            agree(entry, contract[0], f"{path}[{number}]")
    else:
        assert isinstance(document, contract), f"{path} is {document!r}"
        assert bool in contract or not isinstance(document, bool), f"{path} is {document!r}"


# -- decode -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "code",
    [
        "CNMG120408",
        "WNMG 432",
        "CCGT09T304F",
        "RCMT1204M0",
        "SNGN090308T",
        "TNMG160404R",
        "DCMT 32.51",
        "VBMT160404",
    ],
)
def test_decode_an_insert(crib: Crib, code: str) -> None:
    document = crib.json("decode", code)
    agree(document, INSERT)
    assert document["kind"] == "insert"
    assert document["system"] in ("metric", "inch")


@pytest.mark.parametrize("code", ["MWLNL 2525 M08", "PCLNR 16-4D", "SRDCN2525M12", "CTGPR2020K16"])
def test_decode_a_holder(crib: Crib, code: str) -> None:
    document = crib.json("decode", code)
    agree(document, HOLDER)
    assert document["kind"] == "holder"


@pytest.mark.parametrize("code", ["S25R-SCLCR09", "A16M-SDUCR07", "S16T-SCLCR3", "E12Q-SCLCR06"])
def test_decode_a_bar(crib: Crib, code: str) -> None:
    document = crib.json("decode", code)
    agree(document, BAR)
    assert document["kind"] == "bar"


def test_decode_says_what_the_standard_says(crib: Crib) -> None:
    # ISO 1832:2017: C 80 deg, N 0 deg, M, G; edge 12.9 mm, 4.76 mm thick, corner 0.8 mm
    found = crib.json("decode", "cnmg", "12", "04", "08")
    assert (found["designation"], found["equivalent"]) == ("CNMG120408", "CNMG432")
    assert (found["SC"], found["EPSR_deg"], found["AN_deg"]) == ("C", 80.0, 0.0)
    assert (found["IC_mm"], found["S_mm"], found["RE_mm"]) == (12.7, 4.76, 0.8)
    assert (found["double_sided"], found["CEDC"]) == (True, 4)
    # the inch code gives the radius of its own system: 1/32 in
    assert crib.json("decode", "CNMG432")["RE_mm"] == pytest.approx(0.794, abs=5e-4)
    # a round insert's radius is half its diameter
    assert crib.json("decode", "RCMT1204M0")["RE_mm"] == 6.0


def test_decode_several_codes(crib: Crib) -> None:
    document = crib.json("decode", "CNMG120408", "MWLNL2525M08")
    assert [one["kind"] for one in document["codes"]] == ["insert", "holder"]


@pytest.mark.parametrize("code", ["CNZG120408", "CNMG", "XYZ", "", " ", "PCLNX2525M12", "S25R-SCLCQ09"])
def test_a_code_that_does_not_decode(crib: Crib, code: str) -> None:
    error = crib.error("decode", code, status=2)
    assert error["code"] == "bad_designation"
    assert isinstance(error["position"], int)
    assert isinstance(error["found"], str)
    assert isinstance(error["expected"], list)


def test_the_position_that_is_wrong_is_named(crib: Crib) -> None:
    error = crib.error("decode", "CNMI120408", status=2)
    assert (error["position"], error["found"]) == (4, "I")
    assert "G" in error["expected"]


# -- find -------------------------------------------------------------------------------------------------


def test_find(crib: Crib) -> None:
    document = crib.json("find", "left", "hand", "holder", "for", "a", "WNMG", "080408", "here")
    agree(document, FIND)
    assert document["total"] == len(document["items"]) == 2
    assert {item["designation"] for item in document["items"]} == {"MWLNL2525M08", "MWLNL2020K08"}


def test_find_by_flags_and_fields(crib: Crib) -> None:
    words = ["--at", "here", "--hand", "left", "--kind", "holder", "--owner", "Tamsin Arkwell"]
    document = crib.json("find", *words, "--condition", "good", "--fits", "WNMG080408")
    assert [item["tag"] for item in document["items"]] == ["H02"]
    assert crib.json("find", "kind=holder", "hand=left", "at=here", "condition=damaged")["total"] == 1


def test_find_everything_in_pages(crib: Crib) -> None:
    document = crib.json("find", "--limit", "7")
    assert (len(document["items"]), document["total"]) == (7, 149)


def test_nothing_found_is_status_1_with_the_whole_document(crib: Crib) -> None:
    document = crib.json("find", "unobtainium", status=1)
    agree(document, FIND)
    assert document["total"] == 0
    here = crib.json("find", "MWLNL", "12-4B", "here", status=1)
    assert [item["held_by"] for item in here["elsewhere"]] == ["Wilf Oddney"]


# -- speed and pick ---------------------------------------------------------------------------------------


def test_speed(crib: Crib) -> None:
    document = crib.json(*SPEED_OF, "--machine", "old lathe")
    agree(document, SPEED)
    assert document["n_rev_min"] in (11, 15, 21, 28, 39, 53, 72, 98, 133, 181, 246, 335, 456, 620)
    agree(crib.json("speed", "--material", "bronze", "--tool", "hss"), SPEED)


def test_pick(crib: Crib) -> None:
    document = crib.json(*BRACKET)
    agree(document, PICK)
    assert len(document["candidates"]) == 20
    assert document["total"] > 20
    assert document["candidates"][0]["rank"] == 1
    more = crib.json(*BRACKET, "--most", "1000")
    assert len(more["candidates"]) == document["total"]
    assert more["candidates"][:20] == document["candidates"]


def test_pick_with_measured_figures(crib: Crib) -> None:
    asked = [*BRACKET[:-3], "--stiffness", "8 kN/mm", "--frequency", "160 Hz", "--damping", "2.5 %"]
    document = crib.json(*asked, "--gives", "away", "--interrupted", "--depth", "1/32 in", "--site", "works")
    agree(document, PICK)
    assert [line["ap_mm"] for line in document["candidates"][0]["passes"]] == [0.79375, 0.79375]


def test_nothing_to_pick_is_status_1_with_the_whole_document(crib: Crib) -> None:
    document = crib.json(*BRACKET, "--from", "12 mm", "--to", "13 mm", status=1)
    agree(document, PICK)
    assert document["candidates"] == []
    assert document["rejected"]


# -- the other commands -----------------------------------------------------------------------------------


def test_show(crib: Crib) -> None:
    document = crib.json("show", "h04")
    agree(document["item"], FOUND_ITEM)
    assert document["item"]["held_by"] == "Wilf Oddney"
    assert document["ledger"][0]["what"] == "added"
    assert "from" in document["ledger"][0], "a trailing underscore is dropped"


def test_bring(crib_writing: Crib) -> None:
    document = crib_writing.json("bring", "H03", "--to", "mill rack", "--why", "bracket")
    (item,) = document["brought_in"]
    agree(item, FOUND_ITEM)
    assert (item["tag"], item["on_site"]) == ("H03", True)


def test_audit(crib: Crib) -> None:
    sound = {"differences": [], "evidence": [], "parents": [], "file": []}
    assert crib.json("audit") == {"items": 149, **sound}


def test_audit_that_finds_a_difference_says_no(crib_writing: Crib, demo_address: str) -> None:
    import sqlite3

    connection = sqlite3.connect(demo_address)
    with connection:
        connection.execute("UPDATE item SET quantity = 5 WHERE tag = 'I01'")
    connection.close()
    document = crib_writing.json("audit", status=1)
    assert [(one["field"], one["stored"]) for one in document["differences"]] == [("quantity", "5")]


def test_setting(crib_writing: Crib) -> None:
    assert crib_writing.json("setting") == {
        "me": "Tamsin Arkwell", "site": "works", "units": "metric", "currency": "EUR",
        "rules": "house: hand in: 30 days from event; answer: 30 days from sent",
    }  # fmt: skip
    assert crib_writing.json("setting", "me", "wilf", "oddney")["me"] == "Wilf Oddney"
    assert crib_writing.json("setting", "units", "inch")["units"] == "inch"


def test_sources(crib: Crib) -> None:
    found = crib.json("sources")["sources"]
    agree(found, [{"key": TEXT, "kind": TEXT, "title": TEXT}])
    kinds = {one["kind"] for one in found}
    assert {"standard", "handbook", "textbook", "common practice", "memory"} <= kinds
    narrowed = crib.json("sources", "ISO 1832")["sources"]
    assert 0 < len(narrowed) < len(found)
    assert crib.error("sources", "no such word anywhere", status=1)["code"] == "nothing_found"


def test_intake_dry_and_real(crib: Crib, tmp_path: Path) -> None:
    people = tmp_path / "people.csv"
    people.write_text("name,kind\nAda Quill,person\n")
    store = tmp_path / "mine.db"
    dry = crib.json("intake", str(people), "--dry-run", "--db", str(store))
    assert (dry["dry_run"], dry["counts"]) == (True, {"people": 1})
    assert not store.exists()
    real = crib.json("intake", str(people), "--db", str(store))
    assert (real["dry_run"], real["rows"]) == (False, dry["rows"])
    assert real["rows"] == [{"file": "people.csv", "line": 2, "what": "person Ada Quill", "how": "new"}]
    assert store.exists()


def test_intake_that_can_t_be(crib_writing: Crib, tmp_path: Path) -> None:
    items = tmp_path / "items.csv"
    with items.open("w", newline="") as file:
        csv.writer(file).writerows(
            [
                ["tag", "owner", "place", "code"],
                ["H01", "Tamsin Arkwell", "works", "CNMG120408"],
                ["N1", "x", "y", "z"],
            ]
        )
    error = crib_writing.error("intake", str(items), status=2)
    assert error["code"] == "bad_list"
    assert [(row["line"], row["column"]) for row in error["rows"]] == [(2, "tag"), (3, "owner")]
    told = crib_writing("intake", str(items)).err.splitlines()
    assert told[0] == "crib: 2 rows can't be taken, so none was"
    assert told[1] == "  items.csv:2  tag 'H01' is on record already"


def test_demo_path_is_one_line_that_is_a_store(crib: Crib, tmp_path: Path) -> None:
    ran = crib("demo", "--path")
    assert ran.status == 0
    (path,) = ran.lines
    assert Path(path).is_absolute()
    assert crib.json("find", "--db", path)["total"] == 149
    assert crib.json("demo", "--path") == {"path": path}


def test_demo_without_a_terminal_prints_the_worked_job(crib: Crib) -> None:
    ran = crib("demo")
    assert ran.status == 0
    assert "boring 415.925 mm (16 3/8 in) to 419.1 mm (16 1/2 in)" in ran.out
    assert crib.opened == []
    document = crib.json("demo")
    agree(document, PICK)
    assert document["candidates"] == crib.json(*BRACKET)["candidates"]


# -- bad input --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (("speed", "--material", "vibranium", "--tool", "hss"), "unknown_name"),
        (("pick", *BRACKET[1:], "--material", "vibranium"), "unknown_name"),
        (("pick", *BRACKET[1:], "--from", "5 kN"), "bad_quantity"),
        (("pick", *BRACKET[1:], "--feed", "10 rpm"), "bad_quantity"),
        (("pick", *BRACKET[1:], "--stiffness", "80 Hz"), "bad_quantity"),
        ((*SPEED_OF, "--diameter", "3 furlongs"), "bad_quantity"),
        (("pick", *BRACKET[1:], "--to", "16 in"), "bad_input"),
        (("find", "colour=red"), "bad_input"),
        (("find", "fits=ZZZ"), "bad_designation"),
        (("find", "--limit", "0"), "bad_input"),
        (("find", "--limit", "many"), "bad_input"),
        (("show", "H99"), "unknown_name"),
        (("bring", "H99"), "unknown_name"),
        (("setting", "colour", "red"), "bad_input"),
        (("setting", "me", "Nobody"), "unknown_name"),
        (("intake", "no-such-file.csv"), "bad_list"),
        (("intake",), "bad_input"),
        (("show",), "bad_input"),
        (("decode",), "bad_input"),
        (("pick",), "bad_input"),
        (("nosuchcommand",), "bad_input"),
        (("party", "Wilf Oddney", "--company"), "bad_input"),
        (("find", "--nosuchoption"), "bad_input"),
    ],
)
def test_bad_input_is_status_2_with_its_code(crib: Crib, arguments: tuple[str, ...], code: str) -> None:
    error = crib.error(*arguments, status=2)
    assert error["code"] == code
    assert error["message"]
    assert "\n" not in error["message"]


def test_out_takes_a_tool_or_a_person(crib: Crib) -> None:
    assert crib("out", "D09").lines[0].startswith("Tobin Ashgrove has D09")
    assert crib("out", "Wilf").lines[0] == "2 out with Wilf Oddney, 1 overdue."
    assert crib.error("out", "H99", status=2)["message"] == "no tag called 'H99'"


@pytest.mark.parametrize(("arguments"), [("bring", "H01"), ("bring", "H04"), ("bring", "H03", "H01")])
def test_a_no_is_status_1(crib_writing: Crib, arguments: tuple[str, ...]) -> None:
    assert crib_writing.error(*arguments, status=1)["code"] == "not_possible"


# -- what people get --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "arguments",
    [
        ("find", "left", "holder", "here"),
        ("show", "M07"),
        ("decode", "CNMG120408"),
        SPEED_OF,
        BRACKET,
        ("audit",),
        ("setting",),
        ("sources",),
    ],
)
def test_people_get_lines_and_programs_a_document(crib: Crib, arguments: tuple[str, ...]) -> None:
    told = crib(*arguments)
    assert (told.status, told.err) == (0, "")
    assert told.lines
    assert not told.out.lstrip().startswith("{")
    assert isinstance(crib.json(*arguments), dict)


def test_help_lists_every_command(crib: Crib) -> None:
    from crib.cli.root import COMMANDS

    for flag in ("--help", "-h"):
        ran = crib(flag)
        assert ran.status == 0
        assert all(f"  {name} " in ran.out for name in COMMANDS)
    for name in COMMANDS:
        ran = crib(name, "--help")
        assert ran.status == 0
        assert ran.out.startswith(f"Usage: crib {name}")
        assert "\\b" not in ran.out  # else click runs the examples together


def test_version(crib: Crib) -> None:
    from crib import __version__

    ran = crib("--version")
    assert (ran.status, __version__ in ran.out) == (0, True)


def test_ui_is_opened_on_the_store(crib: Crib, demo_store: str) -> None:
    assert crib("ui").status == 0
    assert crib("ui", "--db", "other.db").status == 0
    assert crib.opened == [demo_store, "other.db"]


def test_without_a_command_and_without_a_terminal_help_is_printed(crib: Crib) -> None:
    ran = crib()
    assert ran.status == 0
    assert "What have we got?" in ran.out
    assert crib.opened == []


def test_inch_users_get_inches_first(crib_writing: Crib) -> None:
    metric = crib_writing(*BRACKET).out
    crib_writing("setting", "units", "inch")
    inch = crib_writing(*BRACKET).out
    assert "415.925 mm (16 3/8 in)" in metric
    assert "16 3/8 in (415.925 mm)" in inch

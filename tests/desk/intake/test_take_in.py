"""A line typed or scanned becomes a tool on record; what can't be read is said, and nothing else is lost."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from nasty import NASTY, REFUSED, huge

from crib.desk.asking.ask import find
from crib.desk.asking.story import story
from crib.desk.doings.undo import undo
from crib.desk.intake.drawer import Drawer
from crib.desk.intake.scanned import scanned
from crib.desk.intake.take_in import keep, read_line, understand
from crib.desk.keeping.audit import audit
from crib.desk.keeping.settings import put
from crib.errors import CribError, InputError, NotPossible, UnknownName


@pytest.mark.parametrize(
    ("line", "values"),
    [
        ("CNMG 12 04 08", {"code": "CNMG 12 04 08"}),
        ("CNMG 120408 x10", {"code": "CNMG 120408", "quantity": 10}),
        ("CNMG120408 10x worn", {"code": "CNMG120408", "quantity": 10, "condition": "worn"}),
        ("CNMG120408 ×3 7 edges", {"code": "CNMG120408", "quantity": 3, "edges_left": 7}),
        ("CNMG120408 of Ada Quill", {"code": "CNMG120408", "owner": "Ada Quill"}),
        ("CNMG120408-PM x2 of T.A", {"code": "CNMG120408-PM", "quantity": 2, "owner": "T.A"}),
        ('kind=spare label="shim 12.7" count=6', {"kind": "spare", "label": "shim 12.7", "quantity": 6}),
        ("kind=rotary what=drill dc=8.5", {"kind": "rotary", "what": "drill", "dc": 8.5}),
        ("S20x20 holder", {"code": "S20x20 holder"}),
        ("WNMG 080404 x8, worn", {"code": "WNMG 080404", "quantity": 8, "condition": "worn"}),
        (
            "CNMG 120408 x10 of Ada Quill, new",
            {"code": "CNMG 120408", "quantity": 10, "owner": "Ada Quill", "condition": "new"},
        ),
        ("CNMG120408, 3 edges; x2", {"code": "CNMG120408", "edges_left": 3, "quantity": 2}),
    ],
)
def test_a_line_is_cut_into_columns(line: str, values: dict[str, object]) -> None:
    assert read_line(line) == values


@pytest.mark.parametrize("line", ["", "  ", "colour=red", "CNMG120408 quantity=ten", "kind=boat", huge()])
def test_a_line_that_can_t_be_read_is_refused(line: str) -> None:
    with pytest.raises(InputError) as told:
        read_line(line)
    assert len(told.value.message) < 200


def test_what_a_scanner_adds_is_dropped() -> None:
    # ISO/IEC 15424: ]C1 is Code 128, ]Q3 a QR code; STX, GS and ETX are controls of ISO 646
    assert scanned("\x02]C1CNMG\t120408\x1d\r\n\x03") == "CNMG 120408"
    assert scanned("]Q3H03\r") == "H03"
    assert scanned("]x") == "]x"


@given(st.text(max_size=60))
def test_any_line_is_read_or_refused(line: str) -> None:
    try:
        read_line(line)
    except InputError as error:
        assert error.message


def test_a_code_is_kept_under_the_next_tag_with_its_geometry(demo_address: str) -> None:
    line = understand(demo_address, "CNMG 120408 x10 new", at="insert cabinet / drawer 1")
    assert line.says == (
        "CNMG120408 = CNMG432, insert C, nose 0.8, new, 10 pieces, 40 edges, Tamsin Arkwell's, "
        "at works / tool room / insert cabinet / drawer 1"
    )
    assert line.also.startswith("On record already: I11 x10")
    assert find(demo_address, "tag=I48").total == 0, "understanding writes nothing"
    added = keep(demo_address, line)
    (item,) = find(demo_address, "tag=I48").items
    assert (added.tag, item.quantity, item.edges_left, item.condition) == ("I48", 10, 40, "new")
    assert item.on_site
    (first,) = story(demo_address, "I48").ledger
    assert (first.what, first.who, first.why) == ("added", "Tamsin Arkwell", "taken in")
    assert "I48" in {one.tag for one in find(demo_address, "for a PCLNL2525M12 here kind=insert").items}
    undo(demo_address, added.done.act)
    assert find(demo_address, "tag=I48").items[0].quantity == 0
    assert audit(demo_address).sound


def test_a_like_tool_differs_by_what_is_said(demo_address: str) -> None:
    added = keep(demo_address, understand(demo_address, "", like="M04", mark="TA 12", quantity=2))
    facts = dict(story(demo_address, added.tag).facts)
    (item,) = find(demo_address, f"tag={added.tag}").items
    assert (item.kind, item.label, item.mark, item.quantity) == (
        "gauge",
        "outside micrometer 75-100",
        "TA 12",
        2,
    )
    assert facts["from"].startswith("75 mm")
    assert "serial" not in facts, "each has its own"


@pytest.mark.parametrize(
    ("line", "how", "kind", "said"),
    [
        ("CNMG120408 of Nobody", {}, UnknownName, "no person called 'Nobody'"),
        ("CNMG120408", {"at": "nowhere"}, UnknownName, "no place called 'nowhere'"),
        ("CNMG120408 tag=I01", {}, InputError, "I01 is on record already"),
        ("CNMG120408 x3 99 edges", {}, InputError, "99 edges are more than 3 x 4"),
        ("MWLNL2525M08 3 edges", {}, InputError, "inserts only"),
        ("CNMG120408 x0", {}, InputError, "0 pieces"),
        ("CNMG120408 kind=holder", {}, InputError, "reads as an insert"),
        ("CNMG120408", {"like": "H03"}, InputError, "to be copied"),
        ("CNMG120408 lent_to=Wilf", {}, InputError, "crib lend"),
    ],
)
def test_what_can_t_be_is_refused_and_nothing_written(
    demo_address: str, line: str, how: dict[str, str], kind: type[CribError], said: str
) -> None:
    with pytest.raises(kind, match=said):
        keep(demo_address, understand(demo_address, line, **how))
    assert audit(demo_address).items == 149


def test_whose_and_where_must_be_known(sqlite_url: str) -> None:
    with pytest.raises(NotPossible, match="whose"):
        understand(sqlite_url, "CNMG120408")


def test_a_drawer_keeps_each_line_and_says_what_it_can_t_read(demo_address: str) -> None:
    drawer = Drawer(demo_address, at="insert cabinet / drawer 2")
    assert drawer.take("]C1CNMG 120404 x10\r").says.startswith("I48: CNMG120404 = CNMG431")
    with pytest.raises(CribError, match="rubbish"):
        drawer.take("rubbish 99")
    assert drawer.take("again").says.startswith("I49: CNMG120404")
    assert drawer.take("owner=T.A").says == (
        "From here on: Tobin Ashgrove's, at works / tool room / insert cabinet / drawer 2."
    )
    assert drawer.take("at=works / tool room / insert cabinet / drawer 1").says.endswith("drawer 1.")
    assert drawer.take("at=works / tool room / insert cabinet / drawer 2").says.endswith("drawer 2.")
    assert "Tobin Ashgrove's" in drawer.take("+").says
    assert drawer.take("undo").says == "Taken back: added I50 CNMG120404."
    assert [one.tag for one in drawer.kept] == ["I48", "I49"]
    drawer.take("-")
    drawer.take("-")
    with pytest.raises(NotPossible):
        drawer.take("-")
    assert [find(demo_address, f"tag=I{n}").items[0].quantity for n in (48, 49, 50)] == [0, 0, 0]
    assert audit(demo_address).sound


def test_an_inch_shop_s_bare_numbers_are_inches(demo_address: str) -> None:
    put(demo_address, "units", "inch")
    added = keep(demo_address, understand(demo_address, "kind=rotary what=reamer dc=3/4 lf=9"))
    assert dict(story(demo_address, added.tag).facts)["diameter"].startswith("3/4 in")


@pytest.mark.parametrize("name", [*NASTY, *REFUSED])
def test_hostile_text_is_kept_as_data_or_refused(demo_address: str, name: str) -> None:
    text = {**NASTY, **REFUSED}[name]
    for line in (text, f"CNMG120408 {text}", f'kind=other label="{text}"'):
        try:
            added = keep(demo_address, understand(demo_address, line, note=text))
        except CribError as error:
            assert error.message
        else:
            assert find(demo_address, f"tag={added.tag}").total == 1
    assert audit(demo_address).sound

"""Text on record is data: shown to people without its controls, given to programs as it was written."""

import csv
import io
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from commands import Crib
from nasty import NASTY, REFUSED, controls, huge, shown
from small_shop import open_shop, take_lists

from crib.errors import BadList
from crib.store.engine import close_engines

TEXTS = {name: text.strip() for name, text in NASTY.items()}  # a cell's blanks at either end are no data
HOLDERS = {name: f"H{number}" for number, name in enumerate(TEXTS)}


@pytest.fixture(scope="module")
def shop(sqlite_template: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A store whose every free text is hostile: a holder and an insert for each text."""
    folder = tmp_path_factory.mktemp("hostile")
    out = io.StringIO()
    rows = csv.writer(out)
    rows.writerow(("tag", "kind", "code", "label", "owner", "place", "note", "mark", "serial", "grade"))
    for name, text in TEXTS.items():
        tag = HOLDERS[name]
        rows.writerow((tag, "holder", "PCLNR2525M12", text, "Ada Quill", "shop", text, text, text, ""))
        rows.writerow(
            (tag.replace("H", "I"), "insert", "CNMG120408", text, "Ada Quill", "shop", text, "", "", text)
        )
    path = open_shop(
        str(shutil.copy(sqlite_template, folder / "crib.db")), folder / "lists", items=out.getvalue()
    )
    close_engines()
    yield path
    close_engines()


CUT = ("--op", "turn", "--material", "1045", "--from", "95", "--to", "90", "--machine", "lathe")


def told_safely(crib: Crib, *arguments: str) -> str:
    """Run a command; nothing of its answer is obeyed, and no record forges a line of it."""
    ran = crib(*arguments)
    assert ran.status == 0, ran
    assert controls(ran.out.replace("\t", "")) == []
    assert not [line for line in ran.lines if line.startswith("FORGED")]
    return ran.out


@pytest.mark.parametrize("name", list(TEXTS))
def test_people_see_it_without_its_controls(crib: Crib, shop: str, name: str) -> None:
    for arguments in (("find", f"tag={HOLDERS[name]}"), ("show", HOLDERS[name])):
        assert shown(TEXTS[name]) in told_safely(crib, *arguments, "--db", shop)


@pytest.mark.parametrize("arguments", [("pick", *CUT), ("find", "holder"), ("fit", "CNMG120408")])
def test_an_answer_of_many_records_has_no_controls(crib: Crib, shop: str, arguments: tuple[str, ...]) -> None:
    told_safely(crib, *arguments, "--db", shop)


def test_programs_get_it_as_it_was_written(crib: Crib, shop: str) -> None:
    for name, text in TEXTS.items():
        told = crib.json("show", HOLDERS[name], "--db", shop)
        item = told["item"]
        assert (item["label"], item["note"], item["mark"]) == (text, text, text)
        assert dict(told["facts"])["serial"] == text
    picked = crib.json("pick", *CUT, "--db", shop)
    assert picked["candidates"][0]["holder"]["label"] in TEXTS.values()


def test_a_refused_list_is_told_without_controls(crib: Crib, sqlite_url: str, tmp_path: Path) -> None:
    bad = tmp_path / "bad.csv"
    bad.write_text("tag,owner,place,kind\n\x1b[2JX1,\u202eNobody,[red]shop[/],spanner\x07\n")
    ran = crib("intake", str(bad), "--db", sqlite_url)
    assert ran.status == 2
    assert controls(ran.err) == []
    assert "spanner" in ran.err


@pytest.mark.parametrize("text", [*REFUSED.values(), huge()], ids=[*REFUSED, "huge"])
def test_what_no_store_can_hold_is_refused(crib: Crib, sqlite_url: str, tmp_path: Path, text: str) -> None:
    row = f'tag,owner,place,kind,note\nX1,Ada Quill,shop,other,"{text}"\n'
    with pytest.raises(BadList) as refused:
        take_lists(open_shop(sqlite_url, tmp_path), tmp_path, {"bad": row.encode("utf-8", "surrogatepass")})
    assert len(refused.value.message) < 500
    assert crib.json("find", "--db", sqlite_url, status=1)["total"] == 0

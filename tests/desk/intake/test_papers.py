"""Lists of origins, worths, claims and papers: taken whole or not at all; files only from beside the list."""

from pathlib import Path

import pytest
from pictures_made import photo
from small_shop import open_shop, take_lists

from crib.desk.owed import evidence
from crib.desk.owed.claims import claim
from crib.desk.owed.worth import worth
from crib.errors import BadList

ITEMS = "tag,kind,label,owner,place\nW1,other,a tool,Ada Quill,shop\n"
LISTS = {
    "o": "item,how,from,paid\nW1,gift,an aunt,\n",
    "w": "item,basis,amount,on,life,source\nW1,replacement,120 EUR,2026-01-05,20 years,a list\n",
    "c": "claim,claimant,payer,made,currency,rules\n"
    "2026-9,Ada Quill,Moor End Works,2026-02-01,EUR,Illinois\n",
    "l": "claim,line,item,event,basis,amount,on\n2026-9,1,W1,broken,agreed,85 EUR,2024-02-29\n",
    "s": "claim,line,state,amount,to\n2026-9,,draft,,\n2026-9,,sent,,the office\n2026-9,1,agreed,80 EUR,\n"
    "2026-9,,part agreed,,\n",
    "p": "item,file,kind,on\nW1,a.jpg,photo,2026-01-05\n2026-9/1,a.jpg,photo,\n",
}


@pytest.fixture
def shop(sqlite_url: str, tmp_path: Path) -> str:
    open_shop(sqlite_url, tmp_path / "lists", items=ITEMS)
    (tmp_path / "lists" / "a.jpg").write_bytes(photo())
    (tmp_path / "secret.jpg").write_bytes(photo(hue=7))
    return sqlite_url


def test_they_come_in_together(shop: str, tmp_path: Path) -> None:
    taken = take_lists(shop, tmp_path / "lists", LISTS)
    assert dict(taken.counts)["claim steps"] == 4
    found = claim(shop, "2026-9")
    assert (found.state, found.rules, found.lines[0].agreed) == ("part agreed", "Illinois", "80.00 EUR")
    assert str(found.deadlines[0].due) == "2024-03-30"
    assert [proof.of for proof in evidence.proofs(shop, "W1")] == ["W1"]
    assert len(found.lines[0].proofs) == 2
    origin = worth(shop, "W1").origin
    assert origin is not None
    assert (origin.how, origin.from_whom) == ("gift", "an aunt")


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("p", "item,file,kind\nW1,../secret.jpg,photo\n", "no plain file name"),
        ("p", "item,file,kind\nW1,nothing.jpg,photo\n", "No such file"),
        ("p", "item,file,kind\nW1,o.csv,photo\n", ""),
        ("w", "item,basis,amount,source\nW1,agreed,85,x\n", "in which currency"),
        ("w", "item,basis,amount,source\nW9,agreed,85 EUR,x\n", "no tag on record"),
        ("l", "claim,line,item,event,basis,amount\n2026-7,1,W1,broken,agreed,85 EUR\n", "no claim called"),
        ("l", "claim,line,item,event,basis,amount\n2026-9,1,W1,broken,agreed,85 USD\n", "is not in EUR"),
        ("s", "claim,line,state\n2026-9,4,sent\n", "has no line 4"),
        ("c", LISTS["c"].replace("Illinois", "easter"), "no set of rules"),
    ],
)
def test_what_can_t_be_taken(shop: str, tmp_path: Path, name: str, text: str, said: str) -> None:
    lists = {**LISTS, name: text}
    if not said:  # a text is evidence too, whatever it is called
        take_lists(shop, tmp_path / "lists", lists)
        return
    with pytest.raises(BadList) as raised:
        take_lists(shop, tmp_path / "lists", lists)
    assert said in str(raised.value.rows)
    assert worth(shop, "W1").origin is None

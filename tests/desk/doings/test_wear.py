"""Edges used, regraded, scrapped, counted: what the books say after, on both engines; and the last insert."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from subprocess import PIPE
from threading import Barrier, Thread

import pytest
from commands import LIMIT_S, environment
from small_shop import open_shop

from crib.desk.asking.ask import find
from crib.desk.asking.story import story
from crib.desk.doings.lending import lend
from crib.desk.doings.undo import undo
from crib.desk.doings.wear import count, regrade, scrap, use
from crib.desk.keeping.audit import audit
from crib.errors import CribError, InputError, NotPossible, UnknownName

TOOLS = """tag,kind,code,label,owner,place,condition,quantity,edges_left
I1,insert,CNMG120408,80 degree,Moor End Works,shop / bay,good,1,2
I2,insert,CCMT09T304,half used,Ada Quill,shop / bay,good,5,7
I3,insert,SNMG120412,nobody counted,Moor End Works,shop / bay,good,10,
I4,insert,CNMG120408,a full box,Moor End Works,shop / bay,new,10,
I5,insert,CCMT09T308,a full box,Moor End Works,shop / bay,new,10,
I6,insert,CCMT09T304,a full box said to be short,Moor End Works,shop / bay,new,10,19
I7,insert,RCMT1204M0,round,Moor End Works,shop / bay,new,10,
B1,bar,S25R-SCLCR09,boring bar 25,Ada Quill,shop / bay,good,1,
"""


@pytest.fixture
def shop(store_url: str, tmp_path: Path) -> str:
    return open_shop(store_url, tmp_path / "lists", tools=TOOLS)


def state(shop: str, tag: str) -> tuple[int, int | None, str]:
    (item,) = find(shop, f"tag={tag}").items
    return item.quantity, item.edges_left, item.condition


def test_a_new_box_has_the_edges_of_its_code_unless_it_is_said_otherwise(shop: str) -> None:
    # ISO 1832: C has 2 usable corners a face; N clearance with grooves on both faces (CNMG) cuts with both
    assert state(shop, "I4") == (10, 40, "new")
    assert state(shop, "I5") == (10, 20, "new")
    assert state(shop, "I6") == (10, 19, "new"), "the machinist's word wins"
    assert state(shop, "I7") == (10, None, "new"), "a round insert has no number of edges"
    assert state(shop, "I3") == (10, None, "good"), "a used box is counted, not computed"


def test_the_last_edge_of_the_last_piece(shop: str) -> None:
    assert use(shop, "I1", job="liner").detail == "One fresh edge is left."
    last = use(shop, "I1")
    assert "last edge" in last.detail
    assert state(shop, "I1") == (1, 0, "worn")
    with pytest.raises(NotPossible, match="only 0 left"):
        use(shop, "I1")
    undo(shop)
    assert state(shop, "I1") == (1, 1, "good")


def test_pieces_go_only_where_the_edges_left_can_be_on_the_rest(shop: str) -> None:
    use(shop, "I2", edges=2, gone=2)
    assert state(shop, "I2") == (3, 5, "good")
    with pytest.raises(NotPossible, match="4 fresh edges can't be on 1 pieces"):
        use(shop, "I2", gone=2)


def test_scrap_needs_a_reason_and_takes_its_edges_along(shop: str) -> None:
    with pytest.raises(InputError, match="reason"):
        scrap(shop, ["I2"], why=" ")
    scrap(shop, ["I2"], why="chipped", pieces=2, edges=3)
    assert state(shop, "I2") == (3, 4, "good")
    done = scrap(shop, ["I2", "B1"], why="run over")
    assert "claim" in done.detail, "they are Ada's own"
    assert (state(shop, "I2"), state(shop, "B1")) == ((3, 0, "scrap"), (1, None, "scrap"))
    with pytest.raises(NotPossible, match="scrap already"):
        scrap(shop, ["B1"], why="again")
    undo(shop)
    assert (state(shop, "I2"), state(shop, "B1")) == ((3, 4, "good"), (1, None, "good"))


def test_a_fresh_count_wins_over_the_books(shop: str) -> None:
    told = count(shop, "I2", 4, edges=6)
    assert told.verdict == "Counted I2 CCMT09T304: 4 pieces, 6 edges; the books said 5 and 7."
    told = count(shop, "I3", 9, edges=80)
    assert "your word stands" in told.detail
    assert state(shop, "I3") == (9, 80, "good")
    undo(shop)
    assert state(shop, "I3") == (10, None, "good"), "unknown again, not nothing"
    assert count(shop, "I2", 4, edges=6).verdict.endswith("as in the books.")
    count(shop, "I2", 0)
    assert state(shop, "I2") == (0, 0, "good")
    assert audit(shop).differences == ()


@pytest.mark.parametrize(
    ("doing", "error", "said"),
    [
        (lambda shop: use(shop, "I3"), NotPossible, "never counted"),
        (lambda shop: use(shop, "B1"), NotPossible, "no edges"),
        (lambda shop: use(shop, "I2", edges=8), NotPossible, "only 7 left"),
        (lambda shop: use(shop, "I2", edges=0), InputError, "0 edges"),
        (lambda shop: regrade(shop, ["B1"], "good"), NotPossible, "good already"),
        (lambda shop: regrade(shop, ["B1"], "scrap"), InputError, "say the state"),
        (lambda shop: regrade(shop, ["B1"], "shiny"), UnknownName, "shiny"),
        (lambda shop: count(shop, "B1", 1, edges=2), InputError, "no edges"),
        (lambda shop: count(shop, "I2", 0, edges=2), InputError, "no piece"),
        (lambda shop: count(shop, "I2", -1), InputError, "below nothing"),
    ],
)
def test_what_can_t_be_leaves_everything_as_it_was(
    shop: str, doing: Callable[[str], object], error: type[CribError], said: str
) -> None:
    with pytest.raises(error) as raised:
        doing(shop)
    assert said in raised.value.message
    assert [len(story(shop, tag).ledger) for tag in ("I2", "I3", "B1")] == [1, 1, 1]


def test_two_take_the_last_edge_one_gets_it_the_other_is_told(shop: str) -> None:
    use(shop, "I1")
    start, told = Barrier(2), []

    def take() -> None:
        start.wait()
        try:
            told.append(use(shop, "I1").detail)
        except NotPossible as error:
            told.append(error.message)

    threads = [Thread(target=take) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sum("last edge" in one for one in told) == 1
    assert sum("only 0 left" in one for one in told) == 1
    assert audit(shop).differences == ()


def test_two_programs_lend_the_last_piece_one_gets_it_the_other_is_told(shop: str) -> None:
    command = [sys.executable, "-m", "crib", "lend", "I1", "--to"]
    env = environment(CRIB_DB=shop)
    runs = [
        subprocess.Popen([*command, who], env=env, stdout=PIPE, stderr=PIPE, text=True)
        for who in ("Ada", "Bert")
    ]
    ends = [(*run.communicate(timeout=LIMIT_S), run.returncode) for run in runs]
    assert sorted(status for _, _, status in ends) == [0, 1], ends
    refused = next(err for _, err, status in ends if status == 1)
    assert "is lent to" in refused
    with pytest.raises(NotPossible, match="lent to"):
        lend(shop, ["I1"], "Ada Quill", pieces=None)

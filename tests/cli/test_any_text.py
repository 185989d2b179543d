"""Whatever is typed: an answer or one clear line, a status of 0 to 3, and one document for programs."""

import contextlib
import io
import json
import os
import unicodedata

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from crib.cli.output import clean
from crib.cli.root import run
from crib.errors import BadQuantity
from crib.units import Kind, read

# any text that an operating system can hand over: no NUL in an argument
ARGUMENT = st.text(st.characters(exclude_characters="\0", exclude_categories=["Cs"]), max_size=40)
LIKE_CODES = st.text("CDRSTVWNMGPBEKLA0123456789 .-/LRFT", max_size=20)
LIKE_SIZES = st.text("0123456789 ./,-+eE\"'⌀mincftkN", max_size=12)
FEW = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
FEWER = settings(FEW, max_examples=20)  # where an example is several commands that reckon


@pytest.fixture(autouse=True, scope="module")
def store(demo_store: str) -> None:
    """The commands ask the demo store."""
    before = os.environ.get("CRIB_DB")
    os.environ["CRIB_DB"] = demo_store
    yield
    os.environ.pop("CRIB_DB")
    if before is not None:
        os.environ["CRIB_DB"] = before


def ran(*arguments: str) -> tuple[int, str, str]:
    """Run a command; an exception that gets out is the traceback that nobody may see."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = run(arguments, lambda _: None)
    return status, out.getvalue(), err.getvalue()


def behaves(*arguments: str) -> None:
    """Check a command line both ways: for people and for programs."""
    status, out, err = ran(*arguments)
    assert status in (0, 1, 2), (status, err)
    if status == 2:
        assert out == ""
        assert err.startswith("crib: ")
    assert not [ch for ch in out + err if ch not in "\n\t" and unicodedata.category(ch) in ("Cc", "Cf")]
    told, document, _ = ran(*arguments, "--json")
    assert told == status
    parsed = json.loads(document)
    assert ("error" in parsed) == (status == 2) or status == 1


@FEW
@given(st.lists(ARGUMENT.filter(lambda word: not word.startswith("-")), min_size=1, max_size=4))
@example(["WNMG", "08\u202e04", "08"])
@example(["\x1b[31mCNMG120408"])
@example(["=cmd|' /C calc'!A0"])
@example(["[bold]x[/bold]"])
@example(["C" * 10_000])
def test_decode_any_text(words: list[str]) -> None:
    behaves("decode", *words)


@FEW
@given(LIKE_CODES.filter(lambda word: not word.startswith("-")))
def test_decode_half_a_code(code: str) -> None:
    behaves("decode", code)


@FEWER
@given(st.lists(ARGUMENT.filter(lambda word: not word.startswith("-")), max_size=5))
@example(['"'])
@example(["owner="])
@example(['owner="'])
@example(["=", "=="])
@example(["fits="])
@example(["%", "*", "NEAR("])
@example(["\U0001f527"])
@example(["x" * 10_000])
@example(["left"] * 2000)
def test_find_any_text(words: list[str]) -> None:
    behaves("find", *words)


@FEW
@given(ARGUMENT, st.sampled_from(["--at", "--owner", "--hand", "--kind", "--fits", "--condition"]))
@example('a" owner="b', "--at")
@example('"', "--owner")
@example("x=y", "--kind")
def test_find_any_flag(value: str, flag: str) -> None:
    behaves("find", f"{flag}={value}")


@FEWER
@given(ARGUMENT, ARGUMENT, LIKE_SIZES)
@example("4140", "hss", "1/0")
@example("4140", "hss", "1e999")
@example("4140", "hss", "nan")
@example("4140", "hss", "⌀")
def test_speed_any_text(material: str, tool: str, diameter: str) -> None:
    behaves("speed", f"--material={material}", "--tool=hss")
    behaves("speed", "--material=4140", f"--tool={tool}")
    behaves("speed", "--material=4140", "--tool=hss", f"--diameter={diameter}", "--machine=old lathe")


def is_of_the_shop(text: str) -> bool:
    """Whether it is no size at all, or one that a lathe could hold: thousands of passes take their time."""
    try:
        return 0.05 < read(text, Kind.LENGTH).value < 1000
    except BadQuantity:
        return True


@FEWER
@given(LIKE_SIZES.filter(is_of_the_shop), LIKE_SIZES.filter(is_of_the_shop))
@example("80", "1e-300")
@example("1e9 mm", "1 mm")
def test_pick_any_sizes(size: str, depth: str) -> None:
    cut = ("pick", "--op=turn", "--material=4140", "--machine=old lathe", "--most=1")
    behaves(*cut, f"--from={size}", "--to=70 mm")
    behaves(*cut, "--from=80 mm", "--to=70 mm", f"--depth={depth}")


@FEW
@given(st.lists(ARGUMENT, max_size=4))
def test_any_command_line_that_only_reads(words: list[str]) -> None:
    for command in ("decode", "find", "show", "speed", "pick", "sources"):
        status, _, err = ran(command, *words)
        assert status in (0, 1, 2)
        assert "Traceback" not in err


@given(st.text())
@example("a\x1b[2Jb\u202ec\nd\te")
def test_a_printed_line_is_one_line_without_controls(text: str) -> None:
    safe = clean(text)
    assert len(safe) == len(text)
    assert not [ch for ch in safe if ch != "\t" and unicodedata.category(ch) in ("Cc", "Cf")]
    assert all(was == now or now == "�" for was, now in zip(text, safe, strict=True))

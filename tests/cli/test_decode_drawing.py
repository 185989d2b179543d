"""crib decode --draw and --svg: where a drawing goes, and what it never writes over."""

import os
from pathlib import Path
from xml.etree import ElementTree

import pytest
from commands import Crib

CODE = "CNMG 12 04 08"


def has_braille(text: str) -> bool:
    return any("\u2800" < sign <= "\u28ff" for sign in text)


def test_a_pipe_gets_no_drawing_unless_asked(crib: Crib) -> None:
    assert not has_braille(crib("decode", CODE).out)
    asked = crib("decode", CODE, "--draw")
    assert has_braille(asked.out)
    assert "corner height m 3.0877 mm" in asked.out
    assert crib("decode", CODE).lines == asked.lines[: len(crib("decode", CODE).lines)]


def test_json_is_never_drawn_into(crib: Crib) -> None:
    assert crib.json("decode", CODE, "--draw") == crib.json("decode", CODE)


def test_one_code_in_a_terminal_is_drawn(crib: Crib, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("crib.cli.decode.sys", Terminal())
    monkeypatch.setattr("crib.cli.drawn.os.get_terminal_size", lambda _: os.terminal_size((100, 30)))
    assert has_braille(crib("decode", CODE).out)
    assert not has_braille(crib("decode", CODE, "--no-draw").out)
    assert not has_braille(crib("decode", "CNMG120408", "TNMG160408").out)


class Terminal:
    """Stands for sys where only its stdout is asked whether it is a terminal."""

    stdout = type("Out", (), {"isatty": staticmethod(lambda: True)})


def test_svg_goes_to_the_file_and_replaces_an_earlier_drawing(crib: Crib, tmp_path: Path) -> None:
    file = tmp_path / "part.svg"
    for code in (CODE, "TNMG160408"):
        ran = crib("decode", code, "--svg", str(file))
        assert ran.status == 0
        assert ElementTree.parse(file).getroot().tag.endswith("svg")
    assert "TNMG160408" in file.read_text(encoding="utf-8")
    assert os.listdir(tmp_path) == ["part.svg"]  # nothing half-written is left
    if os.name == "posix":
        assert file.stat().st_mode & 0o077 == 0
    assert crib.json("decode", CODE, "--svg", str(file))["designation"] == "CNMG120408"


def test_svg_leaves_other_files_alone(crib: Crib, tmp_path: Path) -> None:
    other = tmp_path / "notes.txt"
    other.write_text("keep me", encoding="utf-8")
    assert "something else" in crib.error("decode", CODE, "--svg", str(other), status=2)["message"]
    assert other.read_text(encoding="utf-8") == "keep me"
    crib.error("decode", CODE, "--svg", str(tmp_path), status=2)
    crib.error("decode", CODE, "--svg", os.devnull, status=2)
    assert not Path(os.devnull).is_file()


@pytest.mark.parametrize("name", ["", "none/part.svg", "a" * 300, "notes.txt/part.svg"])
def test_a_path_that_cannot_be_written_is_told(crib: Crib, tmp_path: Path, name: str) -> None:
    (tmp_path / "notes.txt").write_text("x", encoding="utf-8")
    path = str(tmp_path / name) if name else ""
    error = crib.error("decode", CODE, "--svg", path, status=2)
    assert "cannot be written" in error["message"]
    assert os.listdir(tmp_path) == ["notes.txt"]


def test_svg_wants_one_code(crib: Crib, tmp_path: Path) -> None:
    file = tmp_path / "x.svg"
    error = crib.error("decode", "CNMG120408", "TNMG160408", "--svg", str(file), status=2)
    assert "one code" in error["message"]
    crib.error("decode", "no code", "--svg", str(file), status=2)
    assert not file.exists()


def test_a_full_disk_leaves_the_earlier_drawing(
    crib: Crib, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "part.svg"
    crib("decode", CODE, "--svg", str(file))
    before = file.read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("crib.cli.drawn.os.replace", full)
    assert "No space left" in crib.error("decode", "TNMG160408", "--svg", str(file), status=2)["message"]
    assert file.read_bytes() == before
    assert os.listdir(tmp_path) == ["part.svg"]

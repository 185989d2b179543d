"""Photos and papers: checked by content, upright, stripped, each content once, withdrawn but never lost."""

import io
import stat
from datetime import date
from pathlib import Path

import pytest
from pictures_made import bomb, photo
from PIL import Image

from crib.desk.owed import evidence
from crib.desk.owed.pictures import LONGEST_SIDE, checked
from crib.errors import InputError, NotPossible, UnknownName
from crib.store.writing import writing


def file(folder: Path, name: str, content: bytes) -> str:
    path = folder / name
    path.write_bytes(content)
    return str(path)


def test_a_photo_is_kept_upright_and_without_where_it_was_taken(demo_address: str, tmp_path: Path) -> None:
    original = photo(exif=True, turned=True)
    assert b"maker of the camera" in original
    added = evidence.add(demo_address, "H03", [file(tmp_path, "mark.jpg", original)], says="my mark")
    (proof,) = added.proofs
    assert (proof.kind, proof.of, proof.says, proof.on) == ("photo", "H03", "my mark", date(2025, 2, 28))
    assert any("by its camera" in note for note in added.notes)
    _, kept = evidence.content(demo_address, proof.number)
    assert b"maker of the camera" not in kept
    with Image.open(io.BytesIO(kept)) as image:
        assert image.size == (64, 48)
        assert dict(image.getexif()) == {}
        corner = image.convert("L").getpixel((5, 5))
        assert isinstance(corner, int | float)
        assert corner > 200


def test_a_large_photo_becomes_smaller_and_a_png_keeps_its_kind() -> None:
    large = checked("large.jpg", photo(3000, 1000))
    with Image.open(io.BytesIO(large.content)) as image:
        assert image.size == (LONGEST_SIDE, LONGEST_SIDE // 3)
    assert checked("scan.png", photo(kind="PNG")).media_type == "image/png"


def test_the_content_tells_what_a_file_is_not_its_name(demo_address: str, tmp_path: Path) -> None:
    files = [
        file(tmp_path, "bill.jpg", b"%PDF-1.7\n%%EOF\n"),
        file(tmp_path, "said.pdf", b"Seen it in his box since 2011.\nW. O."),
    ]
    added = evidence.add(demo_address, "H03", files, kind="statement", on="2026-01-05")
    assert [proof.media_type for proof in added.proofs] == ["application/pdf", "text/plain"]
    assert any("stays in it" in note for note in added.notes)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "is empty"),
        (b"MZ\x90\x00", "is no JPEG, PNG, PDF or plain text"),
        (b"GIF89a\x01\x00\x01\x00", "is no JPEG"),
        (photo()[:400], "is damaged"),
        (b"\xff\xd8\xff\xe0junk", "is damaged"),
        (bomb(), "million pixels"),
        (bomb(20_000, 6_000), "million pixels"),
        (b"x" * (1024 * 1024 + 1), "is no JPEG"),
    ],
    ids=["empty", "program", "gif", "cut short", "junk", "bomb", "quiet bomb", "long text"],
)
def test_what_can_t_be_kept_is_refused_and_nothing_is(
    demo_address: str, tmp_path: Path, content: bytes, said: str
) -> None:
    good, bad = file(tmp_path, "good.jpg", photo()), file(tmp_path, "bad.jpg", content)
    with pytest.raises(InputError, match=said):
        evidence.add(demo_address, "H03", [good, bad])
    assert evidence.proofs(demo_address, "H03") == ()


def test_too_large_a_file_is_refused() -> None:
    with pytest.raises(InputError, match="larger than 25 MB"):
        checked("film.jpg", b"\xff\xd8\xff" + b"0" * (25 * 1024 * 1024))


def test_the_same_content_is_kept_once(demo_address: str, tmp_path: Path) -> None:
    path = file(tmp_path, "a.jpg", photo())
    first = evidence.add(demo_address, "H03", [path])
    second = evidence.add(demo_address, "H13", [path])
    assert any("kept once" in note for note in second.notes)
    assert first.proofs[0].sha256 == second.proofs[0].sha256
    with writing(demo_address) as session:
        count = "SELECT count(*) FROM evidence WHERE sha256 = ?"
        found = session.connection().exec_driver_sql(count, (first.proofs[0].sha256,)).scalar_one()
    assert found == 1


def test_a_withdrawn_proof_counts_no_more_and_stays(demo_address: str, tmp_path: Path) -> None:
    number = evidence.add(demo_address, "H03", [file(tmp_path, "a.jpg", photo())]).proofs[0].number
    gone = evidence.withdraw(demo_address, number, why="another tool")
    assert (gone.of, gone.withdrawn_why) == ("H03", "another tool")
    assert evidence.proofs(demo_address, "H03") == ()
    assert [one.number for one in evidence.proofs(demo_address, "H03", withdrawn=True)] == [number]
    with pytest.raises(NotPossible, match="withdrawn already"):
        evidence.withdraw(demo_address, number)
    with pytest.raises(UnknownName):
        evidence.withdraw(demo_address, 999)


def test_saved_privately_and_never_over_a_file(demo_address: str, tmp_path: Path) -> None:
    number = evidence.add(demo_address, "H03", [file(tmp_path, "a.jpg", photo())]).proofs[0].number
    path = Path(evidence.save(demo_address, number, str(tmp_path / "out.jpg")))
    assert path.read_bytes() == evidence.content(demo_address, number)[1]
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    with pytest.raises(InputError, match="is there already"):
        evidence.save(demo_address, number, str(path))


def test_opened_outside_under_a_name_of_our_own(
    demo_address: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tools = tmp_path / "tools"
    tools.mkdir()
    monkeypatch.setenv("PATH", str(tools))
    named = file(tmp_path, "-rf $(reboot).jpg", photo())
    number = evidence.add(demo_address, "H03", [named]).proofs[0].number
    with pytest.raises(NotPossible, match="nothing that opens files"):
        evidence.open_outside(demo_address, number)
    opener = tools / "xdg-open"
    opener.write_text('#!/bin/sh\necho "$1" > "$0.said"\n')
    opener.chmod(0o755)
    opened = Path(evidence.open_outside(demo_address, number))
    assert opened.name == f"evidence-{number}.jpg"
    assert stat.S_IMODE(opened.parent.stat().st_mode) == 0o700

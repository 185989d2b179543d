"""The sheet of tools brought in, or taken home, on paper: with photos and lines to sign on."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from crib.desk.dates import now
from crib.desk.outside import save_new
from crib.desk.owed import evidence
from crib.desk.owed.sign_in import SignedTool, SignSheet
from crib.report.paper import Column, Paper

PHOTO_WIDE_mm, PHOTO_HIGH_mm = 42.0, 32.0
TITLES = {"bring-in": "Own tools brought in", "take-home": "Own tools taken home"}


def save_sheet(address: str, sheet: SignSheet, path: str, *, size: str = "A4") -> str:
    """Write a sheet as PDF to a file that is not there yet; give the whole path.

    Args:
        address: the store, for the photos.
        sheet: what is on it.
        path: of the file.
        size: of the paper.

    Raises:
        InputError: there is no such paper, or the file can't be written.
    """
    photos = evidence.photos(address, (proof for tool in sheet.tools for proof in tool.photos))
    return save_new(path, sign_pdf(sheet, photos, size=size, made=now()))


def sign_pdf(
    sheet: SignSheet, photos: Mapping[int, bytes], *, size: str = "A4", made: datetime | None = None
) -> bytes:
    """Print the sheet.

    Args:
        sheet: what is on it.
        photos: number of the evidence -> its picture.
        size: of the paper.
        made: the moment that the file says it was made.

    Raises:
        InputError: there is no such paper.
    """
    paper = Paper(f"{TITLES[sheet.sheet]}: {sheet.owner}", size=size, landscape=True, made=made)
    paper.heading(TITLES[sheet.sheet])
    paper.fields(
        [
            ("Owner", sheet.owner),
            ("Site", sheet.site),
            ("Made", str(sheet.on)),
            ("Tools", f"{len(sheet.tools)}, {sheet.chosen}"),
        ]
    )
    columns = (
        Column(head="", share=0.4),
        Column(head="Tag", share=0.8),
        Column(head="Tool", share=3),
        Column(head="Mark, serial", share=1.4),
        Column(head="Condition", share=1),
        Column(head="Value of one", share=1.2, right=True),
        Column(head="Its basis", share=2.2),
        Column(head="Day, where to", share=2.2),
        Column(head="Who was told", share=1.4),
    )
    paper.table(columns, (_row(n, tool) for n, tool in enumerate(sheet.tools, 1)))
    for amount in sheet.sums:
        paper.text(f"Values shown, all pieces: {amount}.", bold=True)
    if sheet.not_valued:
        paper.text(f"NO VALUE ON RECORD: {', '.join(sheet.not_valued)}", bold=True)
    without = [tool.item.tag for tool in sheet.tools if not any(one.number in photos for one in tool.photos)]
    if without:
        paper.text(f"NO PHOTO: {', '.join(without)}", bold=True)
    paper.gap()
    shown = [
        (photos[proof.number], f"{tool.item.tag}" + (f", {proof.on}" if proof.on else ""))
        for tool in sheet.tools
        for proof in tool.photos
        if proof.number in photos
    ]
    paper.pictures(shown, wide_mm=PHOTO_WIDE_mm, high_mm=PHOTO_HIGH_mm)
    paper.gap()
    paper.text(
        "Signed as seen. Whose a tool is does not change by this sheet; what is paid is settled elsewhere."
    )
    paper.signatures([f"{sheet.owner}, owner", "who was told", "for the shop"])
    return paper.finished()


def _row(number: int, tool: SignedTool) -> Sequence[str]:
    item = tool.item
    many = f"{item.quantity} × " if item.quantity != 1 else ""
    names = " ".join(name for name in (item.designation, item.label) if name)
    value, basis = "", "NOT ON RECORD"
    if tool.value is not None:
        value = tool.value.amount or ""
        said = (tool.value.basis, str(tool.value.on or ""), tool.value.source)
        basis = ", ".join(part for part in said if part)
    marks = ", ".join(part for part in (item.mark, item.serial) if part)
    came = tool.on or "NO BRING-IN ON RECORD"
    where = f"{came}, {tool.place}" + (f"; {tool.why}" if tool.why else "")
    return (
        str(number), item.tag, many + names, marks or "NONE", item.condition, value, basis, where,
        tool.told or "NOBODY ON RECORD",
    )  # fmt: skip

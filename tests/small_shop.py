"""A shop of a few people and places for tests of the desk; each test adds the tools that it is about."""

from collections.abc import Mapping
from pathlib import Path

from crib.desk.intake.intake import Taken, intake
from crib.desk.keeping.settings import put

PEOPLE = """name,mark,kind
Moor End Works,MEW,company
Ada Quill,AQ,person
Bert Stone,BS,person
"""
PLACES = """place,kind,inside
shop,site,
Ada's home,site,
bay,area,shop
lathe,machine,shop / bay
mill,machine,shop / bay
"""
MACHINES = """\
place,kind,speeds_rev_min,feeds_mm_rev,power,efficiency,shank_high,bar_low,bar_high,facing_head,least_bore
shop / bay / lathe,lathe,20 40 80 160 320 640,0.05 0.1 0.2 0.4,4 kW,80 %,25 mm,8 mm,40 mm,no,
shop / bay / mill,boring mill,10 20 40 80 160,0.05 0.1 0.2 0.4,6 kW,80 %,25 mm,20 mm,50 mm,yes,200 mm
"""


def take_lists(store: str, folder: Path, lists: Mapping[str, str | bytes], **how: object) -> Taken:
    """Write lists to files and take them in."""
    folder.mkdir(exist_ok=True)
    files = []
    for name, text in lists.items():
        file = folder / f"{name}.csv"
        file.write_bytes(text if isinstance(text, bytes) else text.encode())
        files.append(str(file))
    return intake(store, files, **how)  # type: ignore[arg-type]


def open_shop(store: str, folder: Path, **lists: str) -> str:
    """Take in people, places and machines and the lists given; we are at the shop, and are Ada."""
    usual = {"people": PEOPLE, "places": PLACES, "machines": MACHINES}
    take_lists(store, folder, {**usual, **lists})
    put(store, "site", "shop")
    put(store, "me", "Ada Quill")
    return store

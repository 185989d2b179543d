"""The invented workshop's lists, read as plain CSV by rules written here a second time.

Nothing of crib is imported: a slip in a reader of ours cannot hide a slip in the data.
"""

import csv
import itertools
import math
import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

DATA = Path(__file__).resolve().parents[2] / "demo_data"
TODAY = date(2026, 11, 25)

PLAIN = "tag,kind,label,owner,place,condition,quantity,mark,lent_to,due_back,note"
HEADERS = {
    "people": "name,mark,kind,gone,note",
    "places": "place,kind,inside",
    "machines": "place,kind,speeds_rev_min,feeds_mm_rev,power,efficiency,swing,travel,shank_low,shank_high,"
    "bar_low,bar_high,facing_head,least_bore,head_speed_limit,note",
    "holders": "tag,kind,code,label,owner,place,condition,quantity,mark,serial,DMIN,lent_to,due_back,note",
    "bars": "tag,kind,code,label,owner,place,condition,quantity,mark,serial,DMIN,reach,shank_material,"
    "lent_to,due_back,note",
    "inserts": "tag,kind,code,label,owner,place,condition,quantity,edges_left,tool_material,application,"
    "grade,chipbreaker,mark,lent_to,due_back,note",
    "bits": "tag,kind,code,label,owner,place,condition,quantity,mark,tool_material,shank,HAND,KAPR,RE,rake,"
    "clearance,inclination,lent_to,due_back,note",
    "rotary": "tag,kind,code,label,owner,place,condition,quantity,mark,what,DC,tool_material,LF,"
    "lent_to,due_back,note",
    "gauges": "tag,kind,label,owner,place,condition,quantity,mark,serial,measures,low,high,resolution,"
    "lent_to,due_back,note",
    "rods": "gauge,length,owner,present",
    "checks": "gauge,on,result,due,by",
    "workholding": PLAIN,
    "spares": PLAIN,
    "parts": "item,part,number,present,note",
    "minimums": "code,grade,site,least,up_to,counted_in,lead,payer,price,note",
    "kits": "kit,need,count,item,note",
    "history": "when,who,what,item,quantity,to,due_back,why",
    "origins": "item,how,on,from,maker,receipt,paid,note,when,who",
    "worths": "item,basis,amount,on,life,source,when,who",
    "claims": "claim,claimant,payer,made,currency,rules,clause,place_of_work,note",
    "claim_lines": "claim,line,item,event,basis,amount,pieces,on,what,job,machine,seen,asked,old,"
    "worked_out,had",
    "claim_steps": "claim,line,state,on,amount,to,why,when,who",
    "papers": "item,file,kind,on,says,who",
    "setups": "setup,machine,note,point,when,who,gives,stiffness,frequency,damping,how",
    "cuts": "when,who,op,material,machine,setup,point,tool,insert,diameter,speed,feed,depth,length,minutes,"
    "heard,result,job,note",
}
ITEM_LISTS = ("holders", "bars", "inserts", "bits", "rotary", "gauges", "workholding", "spares")
CONDITIONS = {"new", "good", "worn", "damaged", "scrap"}
INCH_MM = 25.4

Row = dict[str, str]


def rows(name: str) -> list[Row]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        reader = csv.DictReader(file, restkey="too many", restval="MISSING")
        return [dict(row) for row in reader]


def items() -> list[Row]:
    return [{**row, "list": name} for name in ITEM_LISTS for row in rows(name)]


def path_of(place: Row) -> str:
    return f"{place['inside']} / {place['place']}" if place["inside"] else place["place"]


def site_of(path: str) -> str:
    return path.split(" / ")[0]


def people(kind: str = "") -> set[str]:
    return {row["name"] for row in rows("people") if kind in ("", row["kind"])}


def number(text: str) -> float:
    """Read `12`, `-4`, `0.5`, `3/4`, `16 3/8`."""
    whole = re.fullmatch(r"(-?\d+(?:\.\d+)?)", text)
    if whole:
        return float(whole[1])
    mixed = re.fullmatch(r"(?:(\d+) )?(\d+)/(\d+)", text)
    assert mixed, f"not a number: {text!r}"
    return int(mixed[1] or 0) + int(mixed[2]) / int(mixed[3])


def length_mm(text: str) -> float:
    value, _, unit = text.rpartition(" ")
    return number(value) * {"mm": 1.0, "in": INCH_MM}[unit]


# The codes, read by rules written here a second time -----------------------------------------------------

ANGLE_DEG = {"C": 80, "D": 55, "V": 35}  # ISO 1832:2017, position 1
SHAPES = "CDRSTVW"


def edge_code(shape: str, ic_mm: float) -> str:
    """Position 5 of ISO 1832: whole millimetres of the theoretical edge, decimals dropped."""
    if shape in "SR":
        edge = ic_mm
    elif shape == "T":
        edge = ic_mm * math.tan(math.radians(60))
    elif shape == "W":
        edge = ic_mm / 2 * (1 / math.tan(math.radians(40)) + 1 / math.tan(math.radians(80)))
    else:
        edge = ic_mm / math.sin(math.radians(ANGLE_DEG[shape]))
    return f"{int(edge):02d}"


def ic_of_edge(shape: str, code: str) -> float:
    """The inscribed circle (multiples of 1/8 in; 12 mm for the metric round) that carries this edge code."""
    if (shape, code) == ("R", "12"):
        return 12.0
    found = [d for d in (6.35, 9.525, 12.7, 15.875) if edge_code(shape, d) == code]
    assert len(found) == 1, f"no single size for {shape} {code}"
    return found[0]


def squeeze(code: str) -> str:
    return re.sub(r"[ -]", "", code).upper()


def read_insert(code: str) -> Row:
    """Shape, clearance, type, size, nose radius (tenths of a millimetre), edge and hand of an insert code."""
    text = squeeze(code)
    iso = re.fullmatch(
        rf"([{SHAPES}])([NBCP])([MGA])([GMATNR])(\d\d)(T3|\d\d)(\d\d|M0)([FETS]?)([RLN]?)", text
    )
    if iso:
        shape, ic, nose = iso[1], ic_of_edge(iso[1], iso[5]), iso[7]
        edge, hand = iso[8], iso[9] or "N"
    else:
        iso = re.fullmatch(rf"([{SHAPES}])([NBCP])([MGA])([GMATNR])(\d)(\d(?:\.5)?)(\d)", text)
        assert iso, f"insert code {code!r}"
        shape, ic, nose = iso[1], int(iso[5]) * INCH_MM / 8, f"{4 * int(iso[7]):02d}"
        edge, hand = "", "N"
    return {
        "shape": shape,
        "clearance": iso[2],
        "type": iso[4],
        "ic": f"{ic:.3f}",
        "nose": nose,
        "edge": edge,
        "hand": hand,
    }


def read_seat(code: str) -> Row:
    """Clamping, shape, style, clearance, hand and insert size of a holder's or bar's code, metric or inch."""
    text = squeeze(code)
    head = rf"([CMPS])([{SHAPES}])([A-Z])([NBCP])([RLN])"
    metric = re.fullmatch(head + r"(?P<shank>\d\d\d\d)(?P<length>[A-Z])(?P<size>\d\d)", text)
    inch = re.fullmatch(head + r"(?P<shank>\d\d)(?P<inch>\d)(?P<length>[A-Z])", text)
    bar = re.fullmatch(r"(?P<bar>[SAE])(?P<shank>\d\d)(?P<length>[A-Z])" + head + r"(?P<size>\d\d|\d)", text)
    found = metric or inch or bar
    assert found, f"holder code {code!r}"
    clamp, shape, style, clearance, hand = (g for g in found.groups()[3 if found is bar else 0 :][:5])
    named = found.groupdict()
    size = named.get("size") or named["inch"]
    eighths = len(size) == 1
    ic = int(size) * INCH_MM / 8 if eighths else ic_of_edge(shape, size)
    return {
        "clamp": clamp,
        "shape": shape,
        "style": style,
        "clearance": clearance,
        "hand": hand,
        "ic": f"{ic:.3f}",
        "shank": named["shank"],
        "length": named["length"],
        "bar": named.get("bar", ""),
        "system": "inch" if eighths else "metric",
    }


def fits(seat: Row, insert: Row) -> bool:
    same = all(seat[key] == insert[key] for key in ("shape", "clearance", "ic"))
    hand = insert["hand"] == "N" or seat["hand"] in ("N", insert["hand"])
    hole = seat["clamp"] == "C" or insert["type"] not in "NR"
    return same and hand and hole


def edges_per_insert(insert: Row) -> int:
    corners = {"C": 2, "D": 2, "V": 2, "T": 3, "W": 3, "S": 4}[insert["shape"]]
    two_faces = insert["clearance"] == "N" and insert["type"] in "GAN"
    return corners * (2 if two_faces else 1)


# The day of the demo: the lists, then the history over them ----------------------------------------------


def replay() -> Iterator[tuple[Row, dict[str, Row]]]:
    """Each event with the state before it was applied; the state is brought up to date after the yield."""
    now = {row["tag"]: dict(row) for row in items()}
    for event in rows("history"):
        yield event, now
        item = now[event["item"]]
        if event["what"] in ("moved", "brought in", "taken home"):
            item["place"] = event["to"]
        elif event["what"] == "lent":
            item["lent_to"], item["due_back"] = event["to"], event["due_back"]
        elif event["what"] == "returned":
            item["lent_to"], item["due_back"], item["place"] = "", "", event["to"]
        elif event["what"] in ("regraded", "scrapped"):
            item["condition"] = event["to"] or "scrap"
        elif event["what"] == "reground":
            item["DC"] = event["to"]
        elif event["what"] == "edge used":
            item["edges_left"] = str(int(item["edges_left"]) - int(event["quantity"]))
        elif event["what"] == "counted":
            item["quantity"] = event["quantity"]


def today() -> dict[str, Row]:
    state: dict[str, Row] = {}
    for _, state in replay():  # noqa: B007  the last state is what is wanted
        pass
    return state


def usable_here(item: Row) -> bool:
    return site_of(item["place"]) == "works" and not item["lent_to"] and item["condition"] in ("new", "good")


# Inside micrometer sets -----------------------------------------------------------------------------------


def cover(gauge: Row, rods: list[Row]) -> list[tuple[float, float]]:
    """Stretches that a tubular inside micrometer covers: the bare head at `low`, any rods end to end."""
    full = sum(length_mm(r["length"]) for r in rows("rods") if r["gauge"] == gauge["tag"])
    low = length_mm(gauge["low"])
    travel = length_mm(gauge["high"]) - low - full
    assert travel > 0, f"{gauge['tag']}: the rods are longer than the range"
    lengths = [length_mm(r["length"]) for r in rods]
    sums = {
        round(low + sum(some), 6)
        for n in range(len(lengths) + 1)
        for some in itertools.combinations(lengths, n)
    }
    joined: list[tuple[float, float]] = []
    for start in sorted(sums):
        if joined and start <= joined[-1][1] + 1e-6:
            joined[-1] = (joined[-1][0], start + travel)
        else:
            joined.append((start, start + travel))
    return joined


def gauge(tag: str) -> Row:
    return next(row for row in rows("gauges") if row["tag"] == tag)

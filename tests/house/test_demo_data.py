"""The invented workshop's lists: form, references, machines, codes and grinds, taken by themselves."""

import itertools
import re
from datetime import date

import pytest
from house.demo_lists import (
    CONDITIONS,
    DATA,
    HEADERS,
    INCH_MM,
    SHAPES,
    TODAY,
    edge_code,
    edges_per_insert,
    fits,
    items,
    length_mm,
    number,
    path_of,
    people,
    read_insert,
    read_seat,
    rows,
    site_of,
)

# Form -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", HEADERS)
def test_each_list_has_its_header_and_full_rows(name: str) -> None:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        assert file.readline().rstrip("\n") == HEADERS[name]
    read = rows(name)
    assert read
    for row in read:
        assert "too many" not in row
        assert "MISSING" not in row.values()


def test_no_list_beside_the_known_ones() -> None:
    assert {path.stem for path in DATA.glob("*.csv")} == set(HEADERS)


@pytest.mark.parametrize("name", HEADERS)
def test_cells_are_clean_text(name: str) -> None:
    for row in rows(name):
        for cell in row.values():
            assert cell == cell.strip()
            assert cell.isprintable()
            assert not re.match(r"[=+@]", cell), "a spreadsheet would take it for a formula"


def test_about_150_items_with_unique_tags() -> None:
    tags = [row["tag"] for row in items()]
    assert len(tags) == len(set(tags))
    assert 140 <= len(tags) <= 160
    assert all(re.fullmatch(r"[A-Z]\d\d", tag) for tag in tags)


def test_every_item_has_label_condition_and_quantity() -> None:
    for row in items():
        assert row["label"]
        assert row["condition"] in CONDITIONS, row["tag"]
        assert int(row["quantity"]) >= 1, row["tag"]


# References -----------------------------------------------------------------------------------------------


def test_places_form_a_tree_of_known_kinds() -> None:
    known: set[str] = set()
    for place in rows("places"):
        assert place["kind"] in {"site", "area", "cabinet", "drawer", "machine"}
        assert (place["inside"] == "") == (place["kind"] == "site")
        assert place["inside"] in known | {""}, "a parent stands above its children in the list"
        assert path_of(place) not in known
        known.add(path_of(place))
    assert len([p for p in rows("places") if p["kind"] == "site"]) == 4


def test_items_name_known_people_and_places() -> None:
    places = {path_of(p) for p in rows("places")}
    for row in items():
        assert row["owner"] in people(), row["tag"]
        assert row["place"] in places, row["tag"]
        assert row["lent_to"] in people() | {""}, row["tag"]
        if row["due_back"]:
            assert row["lent_to"], row["tag"]
            date.fromisoformat(row["due_back"])


def test_rods_and_checks_name_known_gauges_and_people() -> None:
    gauges = {row["tag"] for row in rows("gauges")}
    for rod in rows("rods"):
        assert rod["gauge"] in gauges
        assert rod["owner"] in people()
        assert rod["present"] in ("yes", "no")
    for check in rows("checks"):
        assert check["gauge"] in gauges
        assert check["by"] in people("person")
        assert check["result"] in ("pass", "fail")
        assert date.fromisoformat(check["on"]) <= TODAY
        assert date.fromisoformat(check["due"]) >= date.fromisoformat(check["on"])


def test_one_company_and_four_people_with_marks_of_which_two_look_alike() -> None:
    assert len(people("company")) == 1
    assert len(people("person")) == 4
    marks = [row["mark"] for row in rows("people")]
    assert len(marks) == len(set(marks))
    bare = [re.sub(r"\W", "", mark) for mark in marks]
    assert len(bare) - len(set(bare)) == 1


def test_personal_tools_stay_with_their_owners_site_or_the_works() -> None:
    for row in items():
        site = site_of(row["place"])
        if site != "works":
            assert site.removesuffix("'s home") == row["owner"].split()[0], row["tag"]


# Machines -------------------------------------------------------------------------------------------------


def steps(text: str) -> list[float]:
    return [number(part) for part in text.split()]


def test_machines_stand_at_machine_places() -> None:
    places = {path_of(p) for p in rows("places") if p["kind"] == "machine"}
    assert {m["place"] for m in rows("machines")} == places
    assert sorted(m["kind"] for m in rows("machines")) == ["boring mill", "drill", "lathe"]


def test_speeds_and_feeds_rise_in_geometric_order() -> None:
    for machine in rows("machines"):
        for column in ("speeds_rev_min", "feeds_mm_rev"):
            series = steps(machine[column])
            ratios = [b / a for a, b in itertools.pairwise(series)]
            assert min(ratios) > 1.2
            if machine["kind"] != "drill":
                assert max(ratios) / min(ratios) < 1.12, f"{machine['place']} {column} is uneven"


def test_machine_ranges_are_in_order_and_the_facing_head_says_what_is_not_recorded() -> None:
    for machine in rows("machines"):
        for low, high in (("shank_low", "shank_high"), ("bar_low", "bar_high")):
            assert bool(machine[low]) == bool(machine[high])
            if machine[low]:
                assert length_mm(machine[low]) < length_mm(machine[high])
    head = [m for m in rows("machines") if m["facing_head"] == "yes"]
    assert [m["kind"] for m in head] == ["boring mill"]
    assert length_mm(head[0]["least_bore"]) == 200
    assert head[0]["head_speed_limit"] == ""
    assert "plate illegible" in head[0]["note"]
    lathe = next(m for m in rows("machines") if m["kind"] == "lathe")
    assert 12 <= len(steps(lathe["speeds_rev_min"])) <= 16


# Codes ----------------------------------------------------------------------------------------------------


def test_every_insert_code_reads() -> None:
    for row in rows("inserts"):
        read_insert(row["code"])


def test_every_holder_and_bar_finds_an_insert_somewhere() -> None:
    boxes = [read_insert(row["code"]) for row in rows("inserts")]
    for row in rows("holders") + rows("bars"):
        seat = read_seat(row["code"])
        assert any(fits(seat, box) for box in boxes), row["code"]


def test_insert_size_codes_against_the_published_list() -> None:
    """Edge codes of ISO 1832, position 5, as reproduced in makers' catalogues."""
    printed = {
        ("W", 12.7): "08",
        ("W", 9.525): "06",
        ("C", 12.7): "12",
        ("C", 9.525): "09",
        ("C", 6.35): "06",
        ("D", 12.7): "15",
        ("D", 9.525): "11",
        ("D", 6.35): "07",
        ("T", 9.525): "16",
        ("V", 9.525): "16",
        ("S", 12.7): "12",
    }
    for (shape, ic), code in printed.items():
        assert edge_code(shape, ic) == code


def test_holders_have_the_shanks_shapes_hands_and_entering_angles_of_the_job() -> None:
    seats = [read_seat(row["code"]) for row in rows("holders")]
    assert {s["shape"] for s in seats} == set(SHAPES)
    assert {s["hand"] for s in seats} == set("RLN")
    assert {s["clamp"] for s in seats} == set("CMPS")
    metric = {s["shank"][:2] for s in seats if s["system"] == "metric"}
    assert metric == {"20", "25", "32"}
    assert {s["shank"] for s in seats if s["system"] == "inch"} == {"12", "16"}
    # ISO 5608 position 3: L 95, J 93, G 90, R and B 75, S and D 45 degrees
    assert {s["style"] for s in seats if s["hand"] == "L"} >= set("LJGRS")
    assert {s["style"] for s in seats} >= set("LJGRBSD")
    long_enough = {"20": "K", "25": "M", "32": "P"}  # ISO 5610: 125, 150, 170 mm
    assert all(long_enough[s["shank"][:2]] == s["length"] for s in seats if s["system"] == "metric")


def test_bars_reach_less_than_their_length_and_need_more_bore_than_their_diameter() -> None:
    length = {"K": 125, "M": 150, "Q": 180, "R": 200, "S": 250, "T": 300, "U": 350}  # ISO 6261
    bars = rows("bars")
    for row in bars:
        bar = read_seat(row["code"])
        inch = bar["system"] == "inch"
        diameter = int(bar["shank"]) * (INCH_MM / 16 if inch else 1)
        full = 12 * INCH_MM if inch else length[bar["length"]]
        assert diameter < length_mm(row["DMIN"]) < 1.6 * diameter, row["code"]
        assert 2 * diameter < length_mm(row["reach"]) < full, row["code"]
        assert row["shank_material"] == ("carbide" if bar["bar"] == "E" else "steel")
    diameters = {read_seat(row["code"])["shank"] for row in bars}
    assert {"12", "16", "20", "25", "32", "40", "50"} <= diameters
    assert {read_seat(row["code"])["hand"] for row in bars} == {"R", "L"}


def test_edges_left_never_exceed_what_the_box_can_hold() -> None:
    half_used = 0
    for row in rows("inserts"):
        insert = read_insert(row["code"])
        if row["edges_left"] == "" or insert["shape"] == "R":
            continue
        full = int(row["quantity"]) * edges_per_insert(insert)
        left = int(row["edges_left"])
        assert 0 <= left <= full, row["tag"]
        assert (row["condition"] == "new") == (left == full), row["tag"]
        half_used += 0 < left < full
    assert half_used >= 25


def test_tool_materials_and_applications_are_those_of_the_trade() -> None:
    allowed = {"coated carbide", "uncoated carbide", "cermet", "HSS", "CBN", "ceramic"}
    for row in rows("inserts"):
        assert row["tool_material"] in allowed
        assert re.fullmatch(r"[PMKNSH](01|[1-4][05]|05|50)", row["application"]), row["tag"]
    assert {row["tool_material"] for row in rows("bits")} == {"HSS", "cast cobalt", "brazed carbide"}


def test_grades_and_chipbreakers_are_words_not_makers_codes() -> None:
    for row in rows("inserts"):
        for column in ("grade", "chipbreaker"):
            assert re.search(r"[a-z]{3}", row[column]), f"{row['tag']} {column} looks like a maker's code"


def test_bits_have_a_whole_grind_and_both_hands() -> None:
    bits = rows("bits")
    assert {row["HAND"] for row in bits} == set("RLN")
    for row in bits:
        length_mm(row["shank"])
        length_mm(row["RE"])
        angles = [number(re.sub(r"( deg|°)$", "", row[c])) for c in ("KAPR", "rake", "clearance")]
        assert 30 <= angles[0] <= 107.5
        assert -10 <= angles[1] <= 30
        assert 4 <= angles[2] <= 15
        assert abs(number(re.sub(r"( deg|°)$", "", row["inclination"]))) <= 10


def test_rotary_tools_have_a_diameter_and_a_longer_length() -> None:
    for row in rows("rotary"):
        assert row["what"] in {"drill", "centre drill", "reamer", "tap", "end mill"}
        assert length_mm(row["DC"]) < length_mm(row["LF"]), row["tag"]


def test_both_unit_systems_are_typed() -> None:
    typed = [
        row[c]
        for name, columns in {
            "bars": ("DMIN", "reach"),
            "rotary": ("DC", "LF"),
            "gauges": ("low", "high"),
        }.items()
        for row in rows(name)
        for c in columns
    ]
    assert sum(text.endswith("in") for text in typed) >= 10
    assert sum(text.endswith("mm") for text in typed) >= 10
    assert any(re.search(r"\d \d+/\d+ in", text) for text in typed)

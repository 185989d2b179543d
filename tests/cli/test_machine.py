"""crib machine: the list, one machine, entering a chart, changing it; errors name what is near."""

import pytest
from commands import Crib

NEW = "works / machine shop / big lathe"


def test_all_machines_in_a_line_each(crib: Crib) -> None:
    ran = crib("machine")
    assert ran.status == 0
    assert [line.split(":")[0] for line in ran.lines] == ["boring mill", "old lathe", "pillar drill"]
    assert "14 speeds 11 to 620 rev/min, 9 feeds" in ran.out
    assert [one["name"] for one in crib.json("machine")["machines"]] == [
        "boring mill",
        "old lathe",
        "pillar drill",
    ]


def test_one_machine_by_its_name_alone(crib: Crib) -> None:
    ran = crib("machine", "boring mill")
    assert ran.out == crib("machine", "show", "boring mill").out
    assert "110 150 205 280 rev/min" in ran.out
    assert [line.split("not")[0].strip() for line in ran.lines if line.endswith("not recorded")] == [
        "head's speed limit",
        "head's tangential limit",
    ]
    told = crib.json("machine", "boring mill")
    assert (told["facing_head"], told["least_bore_mm"], told["head_speed_limit_rev_min"]) == (True, 200, None)
    assert told["efficiency"] == 0.65


def test_a_chart_entered_and_changed(crib_writing: Crib) -> None:
    chart = ("--kind", "lathe", "--speeds", "11 15 21", "--feeds", "0.06 0.08", "--power", "7 1/2 hp")
    ran = crib_writing("machine", "add", NEW, *chart)
    assert ran.status == 0
    assert ran.lines[0] == f"Added: big lathe ({NEW})"
    assert "efficiency             not recorded" in ran.out
    again = crib_writing.error("machine", "add", NEW, *chart, status=1)
    assert again["code"] == "not_possible"
    told = crib_writing.json("machine", "set", "big lathe", "--feeds", "0.002 0.004 in/rev", "--power", "")
    assert told["changed"] == [
        {
            "field": "feeds",
            "was": "0.06 0.08 mm/rev (0.0024 0.0031 in/rev)",
            "now": "0.002 0.004 in/rev (0.051 0.102 mm/rev)",
        },
        {"field": "power", "was": "5.593 kW (7.5 hp)", "now": ""},
    ]
    assert told["machine"]["power_kW"] is None
    assert told["machine"]["feeds_mm"] == [0.0508, 0.1016]
    same = crib_writing("machine", "set", "big lathe", "--power", "")
    assert "Everything was so on record already." in same.out
    inch = crib_writing.json("machine", "set", "big lathe", "--units", "inch", "--swing", "20")
    assert inch["machine"]["swing_mm"] == 508


@pytest.mark.parametrize(
    ("arguments", "code", "hint"),
    [
        (("old lath",), "unknown_name", "old lathe"),
        (("set", "old lathe"), "bad_input", "--power"),
        (("set", "old lathe", "--speeds", "11 11"), "bad_input", "each step once"),
        (("set", "old lathe", "--power", "7 mm"), "bad_quantity", ""),
        (("add", "big lathe", "--kind", "lathe"), "bad_input", "give its path"),
        (("add", "wroks / big lathe", "--kind", "lathe"), "unknown_name", "did you mean works?"),
        (("add", "works / big lathe", "--kind", "lath"), "unknown_name", "did you mean lathe?"),
        (("set", "old lathe", "--colour", "green"), "bad_input", ""),
    ],
)
def test_what_can_t_be_is_refused_in_one_line(
    crib: Crib, arguments: tuple[str, ...], code: str, hint: str
) -> None:
    error = crib.error("machine", *arguments, status=2)
    assert error["code"] == code
    assert hint in error["hint"]


def test_a_shop_without_machines_is_told_how_to_enter_one(crib: Crib, tmp_path: object) -> None:
    from crib.store.upgrade import open_store

    open_store(f"{tmp_path}/new.db", create=True)
    assert "crib machine add" in crib("machine", "--db", f"{tmp_path}/new.db").out

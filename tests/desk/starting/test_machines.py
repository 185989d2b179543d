"""Machines: a chart entered once, shown as it stands, changed field by field, wrong figures refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crib.desk.keeping.settings import put
from crib.desk.picking.pick import PickRequest, pick
from crib.desk.starting.chart import FIELDS, read_changes, read_steps
from crib.desk.starting.machines import Machine, exactly, machine, machines, save_machine
from crib.errors import CribError, InputError, NotPossible, StoreMissing, UnknownName
from crib.store.read import reading
from crib.store.upgrade import open_store
from crib.units import Kind

NEW = "works / machine shop / big lathe"


def as_recorded(store: str, name: str) -> Machine:
    return machine(store, name)


def test_the_workshop_s_machines_are_listed_by_path(demo_store: str) -> None:
    found = machines(demo_store)
    assert [one.name for one in found.machines] == ["boring mill", "old lathe", "pillar drill"]
    assert "works / machine shop" in found.places
    assert not any("lathe" in place or "drawer" in place for place in found.places)


def test_a_machine_tells_what_is_recorded_and_what_is_not(demo_store: str) -> None:
    mill = machine(demo_store, "boring MILL")
    # demo_data/machines.csv
    assert mill.speeds_rev_min == (9, 12, 17, 23, 32, 43, 59, 81, 110, 150, 205, 280)
    assert mill.feeds_mm == (0.05, 0.08, 0.12, 0.18, 0.27, 0.4, 0.6, 0.9)
    # 10 horsepower of 550 ft lbf/s; 36 in, 28 in by the inch of 25.4 mm
    assert mill.power_kW == pytest.approx(7.457, abs=0.001)
    assert (mill.swing_mm, mill.travel_mm) == pytest.approx((914.4, 711.2))
    assert mill.facing_head is True
    assert mill.not_recorded == ("head's speed limit", "head's tangential limit")
    assert dict(mill.fields)["least bore"] == "200 mm (7.874 in)"


def test_what_a_machine_can_t_have_is_not_called_missing(demo_store: str) -> None:
    drill, lathe = machine(demo_store, "pillar drill"), machine(demo_store, "old lathe")
    assert drill.not_recorded == ()
    assert lathe.not_recorded == ()


def test_a_chart_is_entered_once_and_pick_uses_it(demo_address: str) -> None:
    saved = save_machine(
        demo_address,
        "Works/Machine shop / big  lathe",
        {
            "kind": "lathe",
            "speeds": "13 26 52 104 208",
            "feeds": "0.002 0.004 0.008 in/rev",
            "power": "7 1/2 hp",
            "efficiency": "75 %",
            "shanks": "up to 1 1/4 in",
            "bars": "10 to 50 mm",
            "note": "chart read by lamp",
        },
        new=True,
    )
    assert saved.added
    assert saved.machine.path == NEW
    assert as_recorded(demo_address, "big lathe") == saved.machine
    assert saved.machine.feeds_mm == pytest.approx((0.0508, 0.1016, 0.2032))
    assert (saved.machine.shank_low_mm, saved.machine.shank_high_mm) == (None, pytest.approx(31.75))
    assert (saved.machine.bar_low_mm, saved.machine.bar_high_mm) == (10, 50)
    assert saved.machine.not_recorded == ("swing", "travel")
    job = PickRequest(
        op="turn", material="1045", from_="95 mm", to="90 mm", machine="big lathe", setup="fair"
    )
    answer = pick(demo_address, job)
    assert {one.n_rev_min for one in answer.candidates} <= {13, 26, 52, 104, 208}


def test_only_the_fields_named_change_and_the_change_is_told(demo_address: str) -> None:
    before = as_recorded(demo_address, "old lathe")
    saved = save_machine(demo_address, "old lathe", {"speeds": "620 11 15", "swing": "", "power": "7 1/2 hp"})
    after = saved.machine
    assert after.speeds_rev_min == (11, 15, 620)
    assert after.swing_mm is None
    # the power was that already
    assert [(one.field, one.now) for one in saved.changed] == [("speeds", "11 15 620 rev/min"), ("swing", "")]
    assert (after.feeds_mm, after.travel_mm, after.note) == (before.feeds_mm, before.travel_mm, before.note)
    assert not saved.added


def test_steps_and_a_stepless_range_take_each_other_s_place(demo_address: str) -> None:
    stepless = save_machine(demo_address, "old lathe", {"speeds": "40 to 2000"}).machine
    assert (stepless.speeds_rev_min, stepless.speed_low_rev_min, stepless.speed_high_rev_min) == (
        (),
        40,
        2000,
    )
    steps = save_machine(demo_address, "old lathe", {"speeds": "40 2000"}).machine
    assert (steps.speeds_rev_min, steps.speed_low_rev_min, steps.speed_high_rev_min) == (
        (40, 2000),
        None,
        None,
    )
    none = save_machine(demo_address, "old lathe", {"speeds": " "}).machine
    assert "speeds" in none.not_recorded


@pytest.mark.parametrize("engine", ["sqlite_url", "postgres_url"])
def test_a_machine_is_written_on_both_engines(engine: str, request: pytest.FixtureRequest) -> None:
    from crib.store.places import add_place
    from crib.store.writing import writing

    store = request.getfixturevalue(engine)
    with writing(store) as session:
        add_place(session, "shop", "site")
    fields = {
        "kind": "mill",
        "speeds": "20 40 80",
        "facing_head": "yes",
        "head_tangential_limit": "120 m/min",
    }
    save_machine(store, "shop / mill", fields, new=True)
    saved = save_machine(store, "mill", {"speeds": "40 80 160", "kind": "boring mill"})
    assert saved.machine.speeds_rev_min == (40, 80, 160)
    assert saved.machine.head_tangential_limit_m_min == pytest.approx(120)
    with reading(store) as crib:
        assert [(place.path, place.kind) for place in crib.places()] == [
            ("shop", "site"),
            ("shop / mill", "machine"),
        ]


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_what_a_form_would_show_reads_back_as_the_same_record(demo_address: str, system: str) -> None:
    put(demo_address, "units", system)
    for before in machines(demo_address).machines:
        after = save_machine(demo_address, before.path, before.typed).machine
        for name in ("speeds_rev_min", "feeds_mm", "facing_head", "note", "kind"):
            assert getattr(after, name) == getattr(before, name), name
        # printed with three decimals of a millimetre or four digits
        for name in ("power_kW", "efficiency", "swing_mm", "travel_mm", "shank_high_mm", "bar_low_mm"):
            was = getattr(before, name)
            assert getattr(after, name) == (was and pytest.approx(was, rel=1e-3)), name


def test_bare_numbers_are_in_the_user_s_own_units(demo_address: str) -> None:
    put(demo_address, "units", "inch")
    saved = save_machine(demo_address, "old lathe", {"feeds": "0.002 0.004", "swing": "20"})
    assert saved.machine.feeds_mm == pytest.approx((0.0508, 0.1016))
    assert saved.machine.swing_mm == pytest.approx(508)
    metric = save_machine(demo_address, "old lathe", {"swing": "520"}, system="metric").machine
    assert metric.swing_mm == 520


@pytest.mark.parametrize(
    ("typed", "kind", "steps"),
    [
        ("11 15 21", Kind.ROTATION, (11, 15, 21)),
        ("21, 15, 11 rpm", Kind.ROTATION, (11, 15, 21)),
        ("11,15,21", Kind.ROTATION, (11, 15, 21)),
        ("11; 15;21 ;", Kind.ROTATION, (11, 15, 21)),
        ("0,06 0,08", Kind.FEED, (0.06, 0.08)),
        (".06 .08 mm/rev", Kind.FEED, (0.06, 0.08)),
        ("2 4 thou/rev", Kind.FEED, (0.0508, 0.1016)),
        ("0.002 0.1 mm/rev 0.004 in/rev", Kind.FEED, (0.0508, 0.1, 0.1016)),
    ],
)
def test_charts_as_people_type_them(typed: str, kind: Kind, steps: tuple[float, ...]) -> None:
    assert read_steps(typed, kind, "metric") == pytest.approx(steps)


@pytest.mark.parametrize(
    ("changes", "error", "field", "said"),
    [
        ({"speeds": "11 15 15"}, InputError, "speeds", "15 rev/min stands twice"),
        ({"speeds": "11 0"}, InputError, "speeds", "'0' can't be"),
        ({"speeds": "111521283953"}, InputError, "speeds", "more than any machine has"),
        ({"speeds": "fast slow"}, InputError, "speeds", "speeds:"),
        ({"speeds": "2000 to 40"}, InputError, "speeds", "downwards"),
        ({"feeds": "0.06 kW"}, InputError, "feeds", "feeds:"),
        ({"feeds": "0.06 -0.08"}, InputError, "feeds", "feeds:"),
        ({"power": "7 mm"}, InputError, "power", "power:"),
        ({"power": "0"}, InputError, "power", "'0' can't be"),
        ({"efficiency": "75"}, InputError, "efficiency", "efficiency: '75' is more"),
        ({"efficiency": "101 %"}, InputError, "efficiency", "efficiency"),
        ({"shanks": "32 mm to 20 mm"}, InputError, "shanks", "downwards"),
        ({"facing_head": "maybe"}, InputError, "facing_head", "neither yes nor no"),
        ({"kind": "late"}, UnknownName, "kind", "'late'"),
        ({"kind": ""}, InputError, "kind", "needs its kind"),
        ({"note": "x" * 2001}, InputError, "note", "2001 characters"),
    ],
)
def test_a_figure_that_can_t_be_changes_nothing(
    demo_address: str, changes: dict[str, str], error: type[CribError], field: str, said: str
) -> None:
    before = as_recorded(demo_address, "old lathe")
    with pytest.raises(error) as raised:
        save_machine(demo_address, "old lathe", {"travel": "1 m", **changes})
    assert said in raised.value.message
    assert raised.value.details["field"] == field
    assert raised.value.hint
    assert as_recorded(demo_address, "old lathe") == before


@pytest.mark.parametrize(
    ("name", "changes", "error", "said"),
    [
        ("big lathe", {"kind": "lathe"}, InputError, "where does 'big lathe' stand?"),
        ("workz / big lathe", {"kind": "lathe"}, UnknownName, "no place called 'workz'"),
        (NEW, {"speeds": "11 15"}, InputError, "needs its kind"),
        ("works / machine shop / OLD lathe", {"kind": "lathe"}, NotPossible, "on record already"),
        ("works / machine shop", {"kind": "lathe"}, InputError, "on record as area, not as a machine"),
        ("works / machine shop / old lathe / little one", {"kind": "lathe"}, InputError, "in a machine"),
        (NEW, {"kind": "lathe", "colour": "green"}, UnknownName, "'colour'"),
    ],
)
def test_a_new_machine_needs_a_place_and_a_kind(
    demo_address: str, name: str, changes: dict[str, str], error: type[CribError], said: str
) -> None:
    before = machines(demo_address)
    with pytest.raises(error) as raised:
        save_machine(demo_address, name, changes, new=True)
    assert said in raised.value.message
    assert machines(demo_address) == before


def test_what_is_written_goes_to_no_near_name(demo_address: str) -> None:
    with pytest.raises(UnknownName) as raised:
        save_machine(demo_address, "old lath", {"note": "x"})
    assert raised.value.nearest == ("old lathe",)
    with pytest.raises(InputError, match="nothing to change"):
        save_machine(demo_address, "old lathe", {})


def test_two_machines_of_one_name_are_told_apart_by_their_path(demo_address: str) -> None:
    save_machine(demo_address, "works / old lathe", {"kind": "lathe"}, new=True)
    with pytest.raises(InputError) as raised:
        save_machine(demo_address, "old lathe", {"note": "which"})
    assert "works / machine shop / old lathe" in raised.value.hint
    assert save_machine(demo_address, "works / old lathe", {"note": "the other"}).machine.note == "the other"
    with reading(demo_address) as crib:
        assert exactly("works/machine shop/old lathe", crib.machines()).note != "the other"


def test_a_place_that_is_a_machine_without_a_chart_takes_one(demo_address: str) -> None:
    from crib.store import models
    from crib.store.places import add_place
    from crib.store.writing import writing

    with writing(demo_address) as session:
        works = session.query(models.Place).filter_by(path="works").one()
        add_place(session, "shaper", "machine", works)
    saved = save_machine(demo_address, "works / shaper", {"kind": "mill"}, new=True)
    assert saved.machine.kind == "mill"


def test_an_empty_and_a_missing_store(tmp_path: object) -> None:
    with pytest.raises(StoreMissing):
        machines(f"{tmp_path}/none.db")
    open_store(f"{tmp_path}/new.db", create=True)
    assert machines(f"{tmp_path}/new.db").machines == ()
    with pytest.raises(UnknownName, match="old lathe"):
        machine(f"{tmp_path}/new.db", "old lathe")


def test_every_field_says_what_may_be_typed() -> None:
    for name, field in FIELDS.items():
        assert (field.name, bool(field.hint), bool(field.columns)) == (name, True, True)


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(sorted(FIELDS)),
    st.text("0123456789 .,;/-+eEmin thourevpkwxfy%\"'⌀", max_size=24) | st.text(max_size=12),
)
def test_whatever_is_typed_is_read_or_refused_with_its_field(name: str, text: str) -> None:
    try:
        values = read_changes({name: text}, "metric")
    except InputError as error:
        assert error.details["field"] == name
        assert error.message
    else:
        assert set(values) == set(FIELDS[name].columns)

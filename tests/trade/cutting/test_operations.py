import pytest
from hypothesis import given
from hypothesis import strategies as st

from crib.errors import InputError, UnknownName
from crib.trade import tables
from crib.trade.cutting.materials import Materials, find_material
from crib.trade.cutting.operations import OTHER_OPERATIONS, Forms, OperationData, ToolSize, operation_data
from crib.trade.cutting.speeds import Range, starting_data

MATERIALS = Materials.load(tables.rows)
FORMS = Forms.load(tables.rows)
ROWS = {row["id"]: row for name in ("speeds", "speeds_other") for row in tables.rows(name)}
TOOLS = [row["name"] for row in tables.rows("tool_materials")]
IN = 25.4


def ask(material: str, tool: str, operation: str, **more: object) -> OperationData:
    size = {key: more.pop(key) for key in ("d_mm", "width_mm", "pitch_mm", "depth_mm") if key in more}
    found = find_material(material, MATERIALS)
    return operation_data(found, tool, operation, FORMS, size=ToolSize(**size), **more)  # type: ignore[arg-type]


def test_every_row_of_the_other_operations_can_be_read() -> None:
    materials = {row["id"] for row in MATERIALS.rows}
    seen = [row["id"] for name in ("speeds", "speeds_other") for row in tables.rows(name)]
    assert len(seen) == len(set(seen))
    for row in tables.rows("speeds_other"):
        assert 0 < float(row["vc_min_m_min"]) <= float(row["vc_max_m_min"]), row["id"]
        assert bool(row["f_min_mm"]) == bool(row["f_max_mm"])
        assert row["operation"] in OTHER_OPERATIONS
        assert row["tool"] in TOOLS
        assert row["run"] == "continuous"
        assert row["standing"] in ("main", "spare", "check")
        assert set(row["materials"].split()) <= materials, row["id"]


CASES = st.tuples(
    st.sampled_from(MATERIALS.all()),
    st.sampled_from(TOOLS),
    st.sampled_from(OTHER_OPERATIONS),
    st.sets(st.sampled_from(FORMS.speeds.conditions()), max_size=3),
    st.builds(
        ToolSize,
        d_mm=st.none() | st.floats(0.5, 90),
        width_mm=st.none() | st.floats(0.5, 12),
        pitch_mm=st.none() | st.sampled_from([0.5, 1.0, 1.5, 2.0, 3.0, 5.0, 25.4 / 12, 1.1]),
    ),
    st.none() | st.floats(50, 600),
    st.floats(0, 1),
)


@given(CASES)
def test_never_outside_the_rows_and_never_without_a_source(case: tuple) -> None:  # type: ignore[type-arg]
    material, tool, operation, conditions, size, hb, at = case
    try:
        data = operation_data(
            material, tool, operation, FORMS, size=size, conditions=sorted(conditions), hb=hb, at=at
        )
    except UnknownName as error:
        assert error.hint
        return
    used = [ROWS[row] for row in data.rows]
    assert data.table_vc_m_min.low == min(float(row["vc_min_m_min"]) for row in used)
    assert data.table_vc_m_min.high == max(float(row["vc_max_m_min"]) for row in used)
    for span in (data.vc_m_min, data.table_vc_m_min, data.f_mm, data.ap_mm):
        if span is not None:
            assert 0 < span.low <= span.start <= span.high
    low, high = data.table_vc_m_min.low, data.table_vc_m_min.high
    for factor in data.factors:
        if factor.quantity == "vc":
            low, high = low * factor.factor.low, high * factor.factor.high
    assert data.vc_m_min.low == pytest.approx(low)
    assert data.vc_m_min.high == pytest.approx(high)
    assert set(data.sources) <= set(tables.sources())
    for row in used:
        assert set(row["source"].split()) <= set(data.sources)
        assert row["standing"] != "check"


@pytest.mark.parametrize("operation", OTHER_OPERATIONS)
def test_what_has_turning_speeds_for_hss_has_them_here_too(operation: str) -> None:
    for material in MATERIALS.all():
        try:
            starting_data(material, "HSS", "turning", "rough", FORMS.speeds)
        except UnknownName:
            continue
        assert operation_data(material, "HSS", operation, FORMS).vc_m_min.start > 0


@given(st.floats(0.5, 76.2), st.sampled_from(["drilling", "reaming"]))
def test_feed_of_a_drill_stays_in_the_printed_rows_and_of_a_reamer_at_two_to_three_times(
    d_mm: float, operation: str
) -> None:
    rows = [
        row for row in tables.rows("drill_feeds") if float(row["d_above_mm"]) < d_mm <= float(row["d_to_mm"])
    ]
    feed = ask("A36", "HSS", operation, d_mm=d_mm).f_mm
    times = (1, 1) if operation == "drilling" else (2, 3)
    assert feed is not None
    assert feed.low == pytest.approx(times[0] * min(float(row["f_min_mm"]) for row in rows))
    assert feed.high == pytest.approx(times[1] * max(float(row["f_max_mm"]) for row in rows))


def test_without_the_size_there_is_a_speed_but_no_feed() -> None:
    for operation, word in (("drilling", "drill"), ("reaming", "reamer"), ("threading", "pitch")):
        data = ask("A36", "HSS", operation)
        assert (data.f_mm, data.ap_mm) == (None, None)
        assert any(f"{word}" in line and "not told" in line for line in data.assumed)


def test_deep_holes_lower_speed_and_feed_and_too_deep_is_refused() -> None:
    shallow, deep = (
        ask("A36", "HSS", "drilling", d_mm=10, depth_mm=20),
        ask("A36", "HSS", "drilling", d_mm=10, depth_mm=45),
    )
    assert deep.vc_m_min.start == pytest.approx(0.7 * shallow.vc_m_min.start)
    assert shallow.f_mm is not None and deep.f_mm is not None
    assert deep.f_mm.start == pytest.approx(0.8 * shallow.f_mm.start)
    with pytest.raises(InputError, match="past what the tables say"):
        ask("A36", "HSS", "drilling", d_mm=10, depth_mm=90)


def test_carbide_drills_go_by_hss_and_it_is_said() -> None:
    hss, carbide = ask("A36", "HSS", "drilling"), ask("A36", "carbide", "drilling")
    assert carbide.tool_material == "carbide"
    assert carbide.vc_m_min.low == pytest.approx(2 * hss.vc_m_min.low)
    assert carbide.vc_m_min.high == pytest.approx(3 * hss.vc_m_min.high)
    assert any("two to three times the speed of HSS" in line for line in carbide.assumed)
    assert "cut_navy_drill" in carbide.sources


def test_an_edge_takes_at_most_a_tenth_of_its_width_and_goes_eight_widths_deep() -> None:
    narrow = ask("A36", "coated", "grooving", width_mm=2, depth_mm=20)
    assert narrow.f_mm is not None
    assert narrow.f_mm.high <= 0.2
    assert narrow.deepest_mm == 16
    assert "too much for this width" in " ".join(narrow.notes)
    assert ask("A36", "coated", "grooving", width_mm=5).f_mm == Range.over(0.15, 0.35)
    hss = ask("4140", "HSS", "parting", width_mm=3)
    turning = starting_data(find_material("4140", MATERIALS), "HSS", "turning", "rough", FORMS.speeds)
    assert hss.vc_m_min.low == pytest.approx(0.5 * turning.table_vc_m_min.low)
    assert hss.f_mm == Range.over(0.0508, 0.127)


def test_a_thread_is_cut_in_the_printed_passes_and_its_feed_is_the_pitch() -> None:
    data = ask("1045", "coated", "threading", pitch_mm=1.5, conditions=["interrupted"])
    assert data.f_mm == Range(low=1.5, start=1.5, high=1.5)
    assert len(data.passes) == 8
    assert sum(one.ap_mm for one in data.passes) == pytest.approx(0.92)
    assert data.ap_mm is not None
    assert data.ap_mm.high == max(one.ap_mm for one in data.passes)
    odd = ask("1045", "coated", "threading", pitch_mm=1.1)
    assert odd.passes == ()
    assert any("no number of passes" in line for line in odd.assumed)


def test_a_reamer_wants_its_stock() -> None:
    data = ask("grey iron", "HSS", "reaming", d_mm=12)
    assert data.ap_mm is not None
    assert (data.ap_mm.low, data.ap_mm.high) == pytest.approx((0.010 * IN / 2, 0.016 * IN / 2))
    assert any("on the diameter" in line for line in data.notes)


def test_one_nickel_alloy_does_not_stand_in_for_another() -> None:
    easy, hard = ask("alloy 400", "HSS", "drilling"), ask("alloy 625", "HSS", "drilling")
    assert hard.vc_m_min.high < easy.vc_m_min.low


def test_a_measured_hardness_chooses_the_band() -> None:
    soft, hard = ask("1045", "HSS", "drilling", hb=150), ask("1045", "HSS", "drilling", hb=300)
    assert {ROWS[row]["hb_min"] for row in soft.rows} == {"125"}
    assert {ROWS[row]["hb_min"] for row in hard.rows} == {"275"}


@pytest.mark.parametrize(
    "wrong",
    [
        {"d_mm": 0.0},
        {"d_mm": -1.0},
        {"width_mm": 0.0},
        {"pitch_mm": -2.0},
        {"depth_mm": 0.0},
        {"hb": -1},
        {"conditions": ["rusty"]},
    ],
)
def test_what_can_t_be_is_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(InputError):
        ask("A36", "HSS", "drilling", **wrong)


def test_operations_of_the_lathe_are_not_for_here() -> None:
    with pytest.raises(UnknownName):
        ask("A36", "HSS", "turning")
    with pytest.raises(UnknownName) as told:
        ask("hardened 58-62 HRC", "HSS", "threading")
    assert told.value.hint

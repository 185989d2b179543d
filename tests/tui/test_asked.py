"""Where questions lead."""

import pytest

from crib.tui.asked import code_asked, read_cut, read_doing


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        (
            "turn 80 to 76 mm in 4140 old lathe",
            {"op": "turn", "from_": "80 mm", "to": "76 mm", "material": "4140", "machine": "old lathe"},
        ),
        (
            "bore 16 3/8 to 16 1/2 in A36 left hand weak boring mill",
            {
                "op": "bore",
                "from_": "16 3/8",
                "to": "16 1/2",
                "material": "A36",
                "hand": "left",
                "setup": "weak",
                "machine": "boring mill",
            },
        ),
        (
            "bore 16 to 16 3/8 in cast iron, 9 in long, on the boring mill, left hand",
            {
                "op": "bore",
                "from_": "16 in",
                "to": "16 3/8",
                "length": "9 in",
                "hand": "left",
                "material": "cast iron",
                "machine": "boring mill",
            },
        ),
        (
            "skim the pump liner from 400 mm to 398 mm in grey iron with scale, weak set-up",
            {
                "op": "turn",
                "from_": "400 mm",
                "to": "398 mm",
                "material": "grey iron",
                "skin": "scale",
                "setup": "weak",
            },
        ),
        (
            "turn ⌀1.25in to 1.2in interrupted 0.2 mm/rev 1 mm per pass",
            {
                "op": "turn",
                "from_": "⌀1.25in",
                "to": "1.2in",
                "interrupted": "yes",
                "feed": "0.2 mm/rev",
                "depth": "1 mm",
            },
        ),
        (
            'turn 2" to 1.9" in nickel alloy 625 on the old lathe at 80 Hz 5 kN/mm 3 %',
            {
                "op": "turn",
                "from_": '2"',
                "to": '1.9"',
                "material": "nickel alloy 625",
                "machine": "old lathe",
                "frequency": "80 Hz",
                "stiffness": "5 kN/mm",
                "damping": "3 %",
            },
        ),
        ("bore 16 in in bronze", {"op": "bore", "to": "16 in", "material": "bronze"}),
        ("face 415,9 mm", {"op": "face", "to": "415,9 mm"}),
        ("Turn 50", {"op": "turn", "to": "50"}),
    ],
)
def test_a_cut_fills_the_fields_it_names(text, fields):
    cut = read_cut(text)
    assert cut is not None
    assert cut.fields == fields


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("bore 16 to 16 3/8", ("16 in", "16 3/8")),
        ("bore 400 to 415,9 mm", ("400 mm", "415,9 mm")),
        ('turn 2" to 1.9', ('2"', '1.9 "')),
        ("turn 50 to 48", ("50", "48")),
        ("turn 50 mm to 1 3/4 in", ("50 mm", "1 3/4 in")),
    ],
)
def test_a_unit_said_once_counts_for_both_sizes(text, sizes):
    cut = read_cut(text)
    assert cut is not None
    assert (cut.fields["from_"], cut.fields["to"]) == sizes


def test_words_that_are_no_part_of_a_cut_are_named():
    cut = read_cut("skim the pump liner from 400 to 398")
    assert cut is not None
    assert cut.unused == "pump liner"


KEPT = ("weak", "pump liner", "pump liner at mouth", "tall bracket at top of bore", "tall bracket")


@pytest.mark.parametrize(
    ("text", "setup", "rest"),
    [
        ("bore the pump liner", "pump liner", {}),
        ("bore the pump liner at the mouth to 140 mm", "pump liner at mouth", {"to": "140 mm"}),
        (
            "skim the Pump  Liner:mouth from 400 to 398 mm in grey iron on the old lathe",
            "pump liner at mouth",
            {"from_": "400 mm", "to": "398 mm", "material": "grey iron", "machine": "old lathe"},
        ),
        (
            "bore 16 3/8 to 16 1/2 in on the tall bracket",
            "tall bracket",
            {"from_": "16 3/8", "to": "16 1/2 in"},
        ),
        ("turn 50 to 48 on a weak set-up", "weak", {"from_": "50", "to": "48"}),
    ],
)
def test_a_kept_set_up_is_what_a_cut_is_about(text, setup, rest):
    cut = read_cut(text, KEPT)
    assert cut is not None
    assert cut.unused == ""
    assert cut.fields["setup"] == setup
    assert cut.fields.items() >= rest.items()
    assert read_cut("bore the pump linerette", KEPT) is None


@pytest.mark.parametrize(
    "text", ["bore gauge 16", "boring bar 25 mm", "face mill 50", "facing bit", "left hand holder", ""]
)
def test_tools_named_after_a_cut_are_no_cut(text):
    assert read_cut(text) is None


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("WNMG 432", "WNMG 432"),
        ("what is a WNMG 080408?", "WNMG 080408"),
        ("decode S20S-SCLCR09", "S20S-SCLCR09"),
        ("left hand holder", None),
        ("16 3/8", None),
    ],
)
def test_what_may_be_a_code(text, code):
    assert code_asked(text) == code


@pytest.mark.parametrize(
    ("typed", "form", "given"),
    [
        ("lend B05 to Wilf", "lend", {"tags": "B05", "to": "Wilf"}),
        (
            "Lent the 25 mm bar to Wilf, back by friday",
            "lend",
            {"tags": "25 mm bar", "to": "Wilf", "back": "friday"},
        ),
        ("put down: Wilf took the depth mic", "lend", {"tags": "depth mic", "to": "Wilf"}),
        ("Wilf borrowed M09 for 2 weeks.", "lend", {"tags": "M09", "to": "Wilf", "back": "2 weeks"}),
        ("return H04, M13", "give_back", {"tags": "H04, M13"}),
        ("the depth mic is back", "give_back", {"tags": "depth mic"}),
    ],
)
def test_a_doing_is_told_from_a_question(typed, form, given):
    assert read_doing(typed) == (form, given)


@pytest.mark.parametrize(
    "typed", ["who has my 25 mm bar", "what is out", "back boring bar", "WNMG 080408", ""]
)
def test_what_is_no_doing(typed):
    assert read_doing(typed) is None

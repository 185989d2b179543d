"""The list of our own: draws and asks for only what is on the screen."""

import pytest
from textual.app import App

from crib.tui.widgets.row_list import PAGE, Heading, RowList


class Painter:
    lines = 1

    def header(self, width):
        return "Tag"

    def paint(self, row, width):
        return [str(row)]


class ListApp(App):
    def __init__(self):
        super().__init__()
        self.wanted = []
        self.opened = []

    def compose(self):
        yield RowList(Painter(), empty="nothing")

    def on_row_list_page_wanted(self, event):
        self.wanted.append(event.offset)
        event.rows.fill(event.offset, [f"row {event.offset + at}" for at in range(PAGE)])

    def on_row_list_opened(self, event):
        self.opened.append(event.rows.marked)

    @property
    def rows(self):
        return self.query_one(RowList)

    def lines(self):
        return [
            "".join(segment.text for segment in strip).rstrip()
            for strip in self.screen._compositor.render_strips()
        ]


def first_page():
    return [f"row {at}" for at in range(PAGE)]


async def test_a_hundred_thousand_rows_ask_for_the_pages_in_sight_only():
    app = ListApp()
    async with app.run_test(size=(40, 12)) as pilot:
        app.rows.show_rows(first_page(), 100_000)
        app.rows.focus()
        await pilot.press("end")
        await pilot.pause()
        assert app.wanted == [99_900]
        assert app.rows.marked == "row 99999"
        assert app.lines()[-1] == "▸ row 99999"
        await pilot.press("home")
        assert app.wanted == [99_900]
        assert app.lines()[:2] == ["  Tag", "▸ row 0"]


@pytest.mark.parametrize(
    ("keys", "marked"),
    [
        (["down"], "row 1"),
        (["down", "down", "up"], "row 1"),
        (["up"], "row 0"),
        (["pagedown"], "row 10"),
        (["pagedown", "pageup"], "row 0"),
        (["end"], "row 99"),
        (["end", "home"], "row 0"),
    ],
)
async def test_keys_move_the_mark(keys, marked):
    app = ListApp()
    async with app.run_test(size=(40, 12)) as pilot:
        app.rows.show_rows(first_page())
        app.rows.focus()
        await pilot.press(*keys)
        assert app.rows.marked == marked


async def test_moving_the_mark_repaints_two_lines():
    app = ListApp()
    async with app.run_test(size=(40, 12)) as pilot:
        app.rows.show_rows(first_page())
        app.rows.focus()
        await pilot.pause()
        drawn = []
        draw = app.rows.render_line
        app.rows.render_line = lambda y: drawn.append(y) or draw(y)
        await pilot.press("down")
        await pilot.pause()
        assert sorted(set(drawn)) == [1, 2]


async def test_headings_are_stepped_over_and_can_not_be_clicked():
    app = ListApp()
    async with app.run_test(size=(40, 12)) as pilot:
        app.rows.show_rows(["one"], tail=[Heading("Elsewhere"), "two"])
        app.rows.focus()
        await pilot.press("down")
        assert app.rows.marked == "two"
        await pilot.click(RowList, offset=(4, 2))
        assert app.rows.marked == "two"
        await pilot.press("up")
        assert app.rows.marked == "one"
        assert app.lines()[:4] == ["  Tag", "▸ one", "Elsewhere", "  two"]


async def test_a_list_that_starts_with_a_heading_marks_the_row_below():
    app = ListApp()
    async with app.run_test(size=(40, 12)) as pilot:
        app.rows.show_rows([], tail=[Heading("None here. Elsewhere:"), "two"])
        await pilot.pause()
        assert app.rows.marked == "two"
        app.rows.focus()
        await pilot.press("up")
        assert app.rows.marked == "two"


async def test_a_click_marks_and_a_second_one_opens():
    app = ListApp()
    async with app.run_test(size=(40, 12)) as pilot:
        app.rows.show_rows(first_page())
        await pilot.click(RowList, offset=(4, 3))
        assert app.rows.marked == "row 2"
        assert app.opened == []
        await pilot.click(RowList, offset=(4, 3))
        assert app.opened == ["row 2"]


async def test_an_empty_list_says_so_and_takes_every_key():
    app = ListApp()
    async with app.run_test(size=(40, 12)) as pilot:
        app.rows.focus()
        await pilot.press("down", "up", "end", "home", "pagedown", "enter")
        await pilot.click(RowList, offset=(4, 1))
        assert app.rows.marked is None
        assert app.lines()[1] == "  nothing"


async def test_the_marked_row_stays_in_sight_when_the_window_shrinks():
    app = ListApp()
    async with app.run_test(size=(40, 12)) as pilot:
        app.rows.show_rows(first_page())
        app.rows.focus()
        await pilot.press(*["down"] * 9)
        await pilot.resize_terminal(20, 5)
        assert "▸ row 9" in app.lines()


async def test_text_of_a_row_is_data():
    app = ListApp()
    async with app.run_test(size=(40, 12)):
        app.rows.show_rows(["[bold]x[/bold] \x1b[31mred"])
        assert app.lines()[1] == "▸ [bold]x[/bold] \N{REPLACEMENT CHARACTER}[31mred"

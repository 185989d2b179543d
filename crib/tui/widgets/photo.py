"""A photo, as well as a terminal can show it."""

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

from crib.errors import InputError


class PhotoView(Widget):
    """Draws a photo in half blocks, as large as there is room.

    Args:
        id: the widget's name.
    """

    DEFAULT_CSS = "PhotoView { height: 1fr; width: 1fr; }"

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self._content: bytes | None = None
        self._strips: list[Strip] = []
        self._drawn: tuple[int, int] = (0, 0)

    def show(self, content: bytes | None) -> None:
        """Show another photo; None for an empty sheet."""
        self._content = content
        self._drawn = (0, 0)
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """Draw one row of cells."""
        size = (self.size.width, self.size.height)
        if size != self._drawn:
            self._drawn = size
            self._strips = self._drawing(*size)
        return self._strips[y] if y < len(self._strips) else Strip.blank(self.size.width, self.rich_style)

    def _drawing(self, width: int, height: int) -> list[Strip]:
        if self._content is None or not width or not height:
            return []
        from crib.report.blocks import HALF, half_blocks  # Pillow comes with the first photo

        try:
            rows = half_blocks(self._content, width - 2, height)
        except InputError:
            return []  # the store has checked it; a picture is never a reason to stop the work
        return [
            Strip(
                [
                    Segment(" "),
                    *(
                        Segment(HALF, Style(color=Color.from_rgb(*upper), bgcolor=Color.from_rgb(*lower)))
                        for upper, lower in row
                    ),
                ]
            ).adjust_cell_length(width, self.rich_style)
            for row in rows
        ]

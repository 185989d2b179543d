"""A drawing of a part: its shape to scale, as large as there is room."""

import os
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widget import Widget

if TYPE_CHECKING:
    from crib.trade.designation.sketch import Sketch

CAPTION = "shape to scale"


class DrawingView(Widget):
    """Draws a sketch in dots.

    Args:
        id: the widget's name.
    """

    DEFAULT_CSS = "DrawingView { height: 1fr; width: 28; padding: 0 0 0 1; text-wrap: nowrap; }"

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self._sketch: Sketch | None = None

    def show(self, sketch: "Sketch | None") -> None:
        """Draw another part; None for an empty sheet."""
        self._sketch = sketch
        self.refresh()

    def render(self) -> Content:
        """Draw the part, with its caption below."""
        if self._sketch is None:
            return Content("")
        # the first part that is drawn brings the drawing room along: the first paint does without
        from crib.report.dots import glyphs_for
        from crib.report.drawing import to_text

        glyphs = glyphs_for("utf-8", os.environ.get("TERM"))
        width, height = self.content_size
        lines = to_text(self._sketch, width, height - 1, glyphs)
        caption = CAPTION[:width].center(width).rstrip() if lines else ""
        return Content("\n".join([*lines, caption]))

"""A photo as coloured half blocks for a terminal: two pixels in each cell, one above the other."""

from typing import TYPE_CHECKING

from crib.desk.owed.pictures import on_picture

if TYPE_CHECKING:
    from PIL.Image import Image

HALF = "▀"
Colour = tuple[int, int, int]


def half_blocks(content: bytes, width: int, height: int) -> list[list[tuple[Colour, Colour]]]:
    """Give the cells of a picture, as large as fits, each the colour of its upper and of its lower half.

    Args:
        content: JPEG or PNG.
        width: columns at most.
        height: rows at most.

    Raises:
        InputError: it is no picture.
    """

    def draw(image: "Image") -> list[list[tuple[Colour, Colour]]]:
        scale = min(width / image.width, 2 * height / image.height)
        across, down = max(round(image.width * scale), 1), max(round(image.height * scale), 1)
        small = image.convert("RGB").resize((min(across, width), min(down + down % 2, 2 * height)))
        pixels = small.tobytes()

        def colour(x: int, y: int) -> Colour:
            at = 3 * (y * small.width + x)
            return pixels[at], pixels[at + 1], pixels[at + 2]

        return [
            [(colour(x, y), colour(x, y + 1)) for x in range(small.width)]
            for y in range(0, small.height - 1, 2)
        ]

    return on_picture("the picture", content, draw)

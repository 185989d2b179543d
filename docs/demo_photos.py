"""The invented workshop's photos, drawn: .venv/bin/python docs/demo_photos.py writes them anew."""

from pathlib import Path

from PIL import Image, ImageDraw, ImageFilter

FOLDER = Path(__file__).resolve().parents[1] / "demo_data"
SIZE = (720, 480)
BENCH, DARK = (96, 74, 52), (38, 38, 42)
STEEL, SHADE, LIGHT = (168, 172, 178), (112, 116, 124), (214, 218, 222)
BLADES = ((350, 76, 370, 180), (396, 230, 500, 250), (350, 300, 370, 404), (220, 230, 324, 250))


def bench() -> tuple[Image.Image, ImageDraw.ImageDraw]:
    """Give an empty bench top with its grain."""
    image = Image.new("RGB", SIZE, BENCH)
    draw = ImageDraw.Draw(image)
    for y in range(0, SIZE[1], 9):
        draw.line((0, y, SIZE[0], y + (y * 7) % 5), fill=(84, 64, 44), width=2)
    return image, draw


def mark() -> Image.Image:
    """Draw the shank with its engraved mark."""
    image, draw = bench()
    draw.rounded_rectangle((60, 170, 660, 310), 24, fill=STEEL)
    draw.rectangle((60, 176, 660, 196), fill=LIGHT)
    draw.rectangle((60, 286, 660, 304), fill=SHADE)
    draw.rectangle((600, 190, 700, 290), fill=STEEL, outline=SHADE, width=4)
    draw.text((270, 205), "TA 8", fill=DARK, font_size=72)
    return image.filter(ImageFilter.GaussianBlur(0.6))


def blades() -> Image.Image:
    """Draw the blades from the end, two of them rounded over."""
    image, draw = bench()
    draw.ellipse((210, 90, 510, 390), fill=SHADE)
    draw.ellipse((250, 130, 470, 350), fill=STEEL)
    for n, box in enumerate(BLADES):
        draw.rounded_rectangle(box, 9 if n in (0, 1) else 1, fill=LIGHT)
    draw.ellipse((335, 215, 385, 265), fill=DARK)
    return image.filter(ImageFilter.GaussianBlur(0.6))


if __name__ == "__main__":
    mark().save(FOLDER / "D08-mark.jpg", quality=70)
    blades().save(FOLDER / "D08-blades.jpg", quality=70)

"""Pictures for tests, made here: nobody's photo is needed."""

import io
import struct
import zlib

from PIL import Image


def photo(
    width: int = 64,
    height: int = 48,
    *,
    kind: str = "JPEG",
    exif: bool = False,
    turned: bool = False,
    hue: int = 90,
) -> bytes:
    """Give a picture whose upper left corner is light; with what a camera writes into it, if asked.

    Args:
        width: in pixels, as it is meant to be seen.
        height: the same.
        kind: "JPEG" or "PNG".
        exif: with place and day.
        turned: stored on its side, with the note that says so.
        hue: another picture for another number.
    """
    image = Image.new("RGB", (width, height), (hue, 90, 90))
    image.paste((250, 250, 250), (0, 0, width // 2, height // 2))
    notes = Image.Exif()
    if turned:
        image = image.transpose(Image.Transpose.ROTATE_90)
        notes[0x0112] = 6
    if exif:
        notes[0x010F] = "maker of the camera"
        notes.get_ifd(0x8769)[36867] = "2025:02:28 12:00:00"
        notes.get_ifd(0x8825)[1] = "N"
        notes.get_ifd(0x8825)[2] = (52.0, 13.0, 7.0)
    out = io.BytesIO()
    image.save(out, kind, exif=notes)
    return out.getvalue()


def bomb(width: int = 60_000, height: int = 60_000) -> bytes:
    """Give a PNG of a few hundred bytes that claims to be enormous."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(b"\0" * 99))
        + chunk(b"IEND", b"")
    )

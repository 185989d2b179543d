"""Files that are kept as evidence: known by their content, pictures turned upright and stripped of metadata.

A photo says where and with what it was taken; that is nobody's business who gets a claim. So a picture is not
kept as it came: only its pixels are, saved anew. PDF and text are kept as they are.
"""

import io
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, TypeVar

from crib.errors import InputError

if TYPE_CHECKING:
    from PIL.Image import Image

T = TypeVar("T")
MB = 1024 * 1024
LARGEST_FILE = 25 * MB
LARGEST_TEXT = MB
MOST_PIXELS = 80_000_000
LONGEST_SIDE = 2400  # sharp enough to read an engraved mark, small enough to keep hundreds
JPEG_QUALITY = 85
_ORIGINAL_DATE, _EXIF_PART = 36867, 34665  # EXIF 2.3: DateTimeOriginal, and the part it stands in
ENDINGS = {"image/jpeg": ".jpg", "image/png": ".png", "application/pdf": ".pdf", "text/plain": ".txt"}


@dataclass(frozen=True, slots=True)
class Checked:
    """A file that can be kept.

    Attributes:
        content: as it is kept.
        media_type: one of ENDINGS, by its content.
        taken_on: the day that a camera wrote into it, if any.
    """

    content: bytes
    media_type: str
    taken_on: date | None


def checked(name: str, content: bytes) -> Checked:
    """Tell what a file is by its content, and give it as it is to be kept.

    Args:
        name: for messages.
        content: of the file.

    Raises:
        InputError: it is empty, too large, damaged, or of no kind that is kept.
    """
    if not content:
        raise InputError(f"{name} is empty", "give a photo, a PDF or a text")
    if len(content) > LARGEST_FILE:
        raise InputError(f"{name} is larger than {LARGEST_FILE // MB} MB", "make it smaller, or split it")
    for start, format_ in ((b"\xff\xd8\xff", "JPEG"), (b"\x89PNG\r\n\x1a\n", "PNG")):
        if content.startswith(start):
            return _picture(name, content, format_)
    if content.startswith(b"%PDF-"):
        return Checked(content, "application/pdf", None)
    if len(content) <= LARGEST_TEXT and _is_text(content):
        return Checked(content, "text/plain", None)
    raise InputError(
        f"{name} is no JPEG, PNG, PDF or plain text (UTF-8)",
        "save it as one of these: the content counts, not the name",
    )


def _is_text(content: bytes) -> bool:
    try:
        return "\0" not in content.decode("utf-8")
    except UnicodeDecodeError:
        return False


def _picture(name: str, content: bytes, format_: str) -> Checked:
    def save(image: "Image") -> Checked:
        from PIL import ImageOps

        taken = _taken_on(image)
        upright = ImageOps.exif_transpose(image)
        upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
        if format_ == "JPEG" and upright.mode not in ("L", "RGB"):
            upright = upright.convert("RGB")
        upright.info = {key: upright.info[key] for key in ("transparency",) if key in upright.info}
        out = io.BytesIO()
        upright.save(out, format_, quality=JPEG_QUALITY, optimize=True)
        return Checked(out.getvalue(), f"image/{format_.lower()}", taken)

    return on_picture(name, content, save, (format_,))


def on_picture(
    name: str, content: bytes, do: "Callable[[Image], T]", formats: tuple[str, ...] = ("JPEG", "PNG")
) -> T:
    """Open a picture and do something with it; whatever is wrong with it is told in one line.

    Raises:
        InputError: it is damaged, or would unpack to far too many pixels.
    """
    from PIL import Image

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            with Image.open(io.BytesIO(content), formats=formats) as image:
                if image.width * image.height > MOST_PIXELS:
                    raise Image.DecompressionBombError("too many pixels")
                return do(image)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        most = MOST_PIXELS // 1_000_000
        raise InputError(
            f"{name} unpacks to more than {most} million pixels", "make the picture smaller"
        ) from error
    except (
        OSError,
        ValueError,
        SyntaxError,
        Warning,
        ArithmeticError,
        EOFError,
        TypeError,
        KeyError,
    ) as error:
        raise InputError(
            f"{name} is damaged: it does not open as a picture", "take or save it again"
        ) from error


def _taken_on(image: "Image") -> date | None:
    """Give the day on which the camera says the photo was taken."""
    told = image.getexif().get_ifd(_EXIF_PART).get(_ORIGINAL_DATE)
    try:
        return datetime.strptime(str(told)[:10], "%Y:%m:%d").date()  # noqa: DTZ007  # a day, no moment
    except ValueError:
        return None

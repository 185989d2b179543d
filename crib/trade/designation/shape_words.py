"""What people call the shapes of inserts, and how far off they measure when they don't say."""

from collections.abc import Iterable, Mapping

from crib.errors import InputError
from crib.trade.designation.letters import Letters


def usual_errors(rows: Iterable[Mapping[str, str]]) -> Mapping[str, float]:
    """Give the errors taken when none is stated, by what is measured.

    Args:
        rows: of the table measuring_error.
    """
    return {row["what"]: float(row["value"]) for row in rows}


def shapes_of(words: str, letters: Letters, shape_words: Iterable[Mapping[str, str]]) -> tuple[str, ...]:
    """Give the shape letters that words mean.

    Args:
        words: "80 degree diamond", "triangle", "55°", "C".
        letters: the tables.
        shape_words: rows of the table shape_word.

    Raises:
        InputError: a word or an angle that belongs to no shape.
    """
    known = {row["word"]: row["shapes"] for row in shape_words}
    found = list(letters.shapes)
    for word in words.lower().replace("°", " deg ").replace("-", " ").replace(",", ".").split():
        if word in ("deg", "degree", "degrees", "shape", "insert"):
            continue
        found = [shape for shape in found if shape in _shapes_of_word(word, letters, known)]
    if not found:
        raise InputError(f"no insert is a {words!r}", "crib identify --shape 'trigon'; or measure the angle")
    return tuple(found)


def _shapes_of_word(word: str, letters: Letters, known: Mapping[str, str]) -> Iterable[str]:
    """Give the shapes of one word, one letter or one angle."""
    if word.upper() in letters.shapes:
        return word.upper()
    number = word.removesuffix("degrees").removesuffix("degree").removesuffix("deg")
    if number.replace(".", "", 1).isdigit() and number.isascii():
        return [code for code, shape in letters.shapes.items() if shape.EPSR_deg == float(number)]
    shapes = known.get(word) or known.get(word.removesuffix("s"))
    if shapes is None:
        angles = sorted({shape.EPSR_deg for shape in letters.shapes.values() if shape.EPSR_deg})
        raise InputError(
            f"{word!r} is no shape of an insert",
            f"say {', '.join(list(known)[:12])} …, a letter ({' '.join(letters.shapes)}), "
            f"or the angle ({', '.join(f'{angle:g}' for angle in angles)} degree)",
        )
    return shapes

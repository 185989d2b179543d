"""What a scanner that types like a keyboard sends: the code, with signs around it that are none of it."""

import re

# ISO/IEC 15424: a scanner may say by which symbology it read: ], a letter, a sign
_SYMBOLOGY = re.compile(r"^\][A-Za-z][0-9A-Za-z](?=\S)")


def scanned(text: str) -> str:
    """Give a line as it was meant: controls are blanks, blanks are single, a symbology mark is dropped."""
    plain = text if text.isprintable() else _without_controls(text)
    return " ".join(_SYMBOLOGY.sub("", plain.strip()).split())


def _without_controls(text: str) -> str:
    from unicodedata import category  # what people type has none, and start-up is waited for

    return "".join(" " if category(sign) in ("Cc", "Cf", "Zl", "Zp") else sign for sign in text)

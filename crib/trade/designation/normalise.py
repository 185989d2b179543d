"""From what people type or read off a box to the bare characters of a code."""

from crib.errors import BadDesignation

Breaks = tuple[tuple[int, str], ...]
"""Where separators stood: index in the bare code, and "-" or " "."""

WORN = "crib identify tells what it can be, with ? for each character that can't be read"
LONGEST = 60  # no designation comes near; keeps a pasted page out of the error message
DASHES = "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\u00ad"
BLANKS = " \t\r\n\v\f/\\_()[]{}'\";:|*\u00a0\u00ae\u00b7"
SEPARATORS = str.maketrans({**dict.fromkeys(BLANKS, " "), **dict.fromkeys(DASHES, "-"), ",": "."})
# Letters of other alphabets that print like one of ours. The values are plain ASCII.
LOOK_ALIKE = str.maketrans(
    {
        "\u0410": "A", "\u0412": "B", "\u0415": "E", "\u041a": "K", "\u041c": "M", "\u041d": "H",
        "\u041e": "O", "\u0420": "P", "\u0421": "C", "\u0422": "T", "\u0423": "Y", "\u0425": "X",
        "\u0405": "S", "\u0406": "I", "\u0408": "J", "\u0417": "3", "\u0391": "A", "\u0392": "B",
        "\u0395": "E", "\u0396": "Z", "\u0397": "H", "\u0399": "I", "\u039a": "K", "\u039c": "M",
        "\u039d": "N", "\u039f": "O", "\u03a1": "P", "\u03a4": "T", "\u03a5": "Y", "\u03a7": "X",
        "\u0474": "V", "\u051a": "Q", "\u051c": "W", "\u04c0": "I", "\u00d8": "0",
    }
)  # fmt: skip


def clean(text: str) -> tuple[str, Breaks]:
    """Give the bare code (A-Z, 0-9 and the decimal point) and where separators stood.

    Args:
        text: as typed: any case, blanks, dashes, slashes, full-width or look-alike letters, decimal comma.

    Raises:
        BadDesignation: nothing to read, too long, or a character that no code holds.
    """
    upper = text.upper()
    if upper.isalnum() and upper.isascii() and len(upper) <= LONGEST:
        return upper, ()
    if len(text) > LONGEST:
        raise BadDesignation(
            f"{len(text)} characters are too many for a designation",
            position=0, found=plain(text[:12]) + "…", expected=[f"at most {LONGEST} characters"],
            hint="read one code at a time",
        )  # fmt: skip
    bare = upper.replace(" ", "").replace("-", "").replace(".", "")
    if bare.isalnum() and bare.isascii():
        return _split(upper, text)
    return _checked(_split(_ascii(upper).translate(SEPARATORS), text))


def _name(sign: str) -> str:
    """Give the name of a character, as "Cyrillic letter be"."""
    import unicodedata  # only for errors

    return unicodedata.name(sign, "unknown character").replace("CAPITAL ", "").capitalize()


def look_alikes(text: str) -> str:
    """Give the characters of other alphabets in a text that are taken for Latin ones, each once."""
    return "".join(dict.fromkeys(sign for sign in text.upper() if ord(sign) in LOOK_ALIKE))


def _ascii(upper: str) -> str:
    """Fold full-width and look-alike characters to ASCII where one is known."""
    if upper.isascii():
        return upper
    import unicodedata  # only when there is something to fold

    return unicodedata.normalize("NFKC", upper).upper().translate(LOOK_ALIKE)


def _split(upper: str, text: str) -> tuple[str, Breaks]:
    """Take the separators out and remember where they stood."""
    compact = mark = ""
    breaks: tuple[tuple[int, str], ...] = ()
    for word in upper.replace("-", " - ").split():
        if word == "-":
            mark = "-"
            continue
        if word[-1] == ".":
            word = word.rstrip(".")
            if not word:
                continue
        if compact:
            breaks += ((len(compact), mark or " "),)
        mark = ""
        compact += word
    if not compact:
        raise BadDesignation(
            "there is no designation to read", position=0, found=plain(text), expected=EXAMPLES,
            hint="type the code as it stands on the box, for example CNMG120408",
        )  # fmt: skip
    return compact, breaks


def _checked(cleaned: tuple[str, Breaks]) -> tuple[str, Breaks]:
    """Let a bare code through if it holds nothing but letters, digits and points."""
    for sign in cleaned[0]:
        if not (sign.isascii() and sign.isalnum()) and sign != ".":
            foreign = sign.isalpha()
            otherwise = WORN if sign == "?" else "leave it out, or type what the box shows"
            name = f" ({_name(sign)})" if foreign else ""
            raise BadDesignation(
                f"{plain(sign)!r}{name} does not occur in a designation",
                position=0, found=plain(sign), expected=("A-Z", "0-9", "."),
                hint="type the letter A to Z that the box shows" if foreign
                else otherwise,
            )  # fmt: skip
    return cleaned


EXAMPLES = ("insert CNMG120408 or CNMG432", "holder PCLNR2525M12", "boring bar S25R-SCLCR09")


def tail(compact: str, breaks: Breaks, start: int) -> str:
    """Give the rest of a bare code from `start`, with its separators put back."""
    out = []
    at = start
    for index, mark in breaks:
        if index > start:
            out += [compact[at:index], mark]
            at = index
    out.append(compact[at:])
    return "".join(out)


def place(text: str, offset: int) -> int:
    """Give the 1-based character of the text as typed that became `compact[offset]`.

    One past the end where the code stops too early.
    """
    seen = 0
    last = 0
    for index, sign in enumerate(text):
        kept = [c for c in _ascii(sign.upper()).translate(SEPARATORS) if c not in " -"]
        if kept:
            last = index + 1
        if seen + len(kept) > offset:
            return index + 1
        seen += len(kept)
    return last + 1


def plain(text: str) -> str:
    """Give text that is safe to print: no control or formatting characters."""
    return "".join(sign if sign.isprintable() else f"\\x{ord(sign):02x}" for sign in text)

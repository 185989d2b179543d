"""Search words: made here, so that both engines index and match the very same tokens.

A text is normalised (signs of the drawing office, compatibility forms, accents, case), then cut into runs of
letters and digits. In a text to be indexed a compound such as `08-PM`, `0.8`, `3/8` or `20x20` gives its
parts and its joined forms; in a question a number gives its joined form only (`0.8` → `08`), any other
compound its parts. So `wnmg-08`, `wnmg 08` and `wnmg08` all find what is written `WNMG-08`.
"""

import re
from collections.abc import Iterable, Iterator

SHORTEST_BEGINNING = 3  # one or two letters begin half of all words

_TO_TEXT = str.maketrans(
    {"⌀": " ", "°": " ", "×": "x", "µ": "u", "μ": "u", "–": "-", "—": "-", "⁄": "/", "\0": " "}
)
_DIAMETER_O = re.compile(r"[øØ](?![^\W\d_])")  # before a letter it belongs to a name
_FRACTION_SIGN = re.compile(r"(?<=\d)(?=[¼½¾⅐-⅞])")  # 3½ is 3 1/2, not 31/2
_BY = re.compile(r"(?<=\d) *x *(?=\d)")
_COMPOUND = re.compile(r"[^\W_]+(?:[-./,+][^\W_]+)*")
_PART = re.compile(r"[^\W_]+")
_NUMBER = re.compile(r"(?<![^\W_])(\d+)[.,/](\d+)(?![^\W_])")
_BY_PARTS = re.compile(r"\d+(?:x\d+)+")


def normalise(text: str) -> str:
    """Give the text with drawing signs dropped or spelt, accents dropped, case folded and blanks single."""
    # most texts are ASCII, where case is all there is to fold: twenty times as quick
    text = text.replace("\0", " ").lower() if text.isascii() else _to_plain_letters(text)
    return _BY.sub("x", " ".join(text.split()))


def _to_plain_letters(text: str) -> str:
    from unicodedata import combining, normalize  # few questions need it, and start-up is waited for

    text = _DIAMETER_O.sub(" ", _FRACTION_SIGN.sub(" ", text)).replace("ø", "o").replace("Ø", "o")
    # casefold can bring composed letters back and NFKD capitals: both are done twice
    text = normalize("NFKD", normalize("NFKD", text.translate(_TO_TEXT)).casefold()).casefold()
    return "".join(c for c in text.translate(_TO_TEXT) if not combining(c))


def compact(text: str) -> str:
    """Give the letters and digits alone: `CNMG 12 04 08-PM` → `cnmg120408pm`."""
    return "".join(_PART.findall(normalise(text)))


def index_tokens(texts: Iterable[str | None], codes: Iterable[str | None] = ()) -> str:
    """Give the sorted tokens of an item, separated by blanks, as both engines index them.

    Args:
        texts: everything that people may ask for.
        codes: designations and tags, which are found without their blanks as well.
    """
    known = [code for code in codes if code]
    tokens = {compact(code) for code in known}
    for text in (*texts, *known):
        for compound in _COMPOUND.findall(normalise(text or "")):
            parts = _PART.findall(compound)
            tokens.update(parts, _PART.findall(_NUMBER.sub(r"\1\2", compound)), ["".join(parts)])
            for part in parts:
                if _BY_PARTS.fullmatch(part):
                    tokens.update(part.split("x"))
    tokens.discard("")
    return " ".join(sorted(tokens))


def query_tokens(text: str) -> tuple[str, ...]:
    """Give the tokens that all must be found, in the order typed."""
    return tuple(dict.fromkeys(_PART.findall(_NUMBER.sub(r"\1\2", normalise(text)))))


def sqlite_match(tokens: Iterable[str], beginnings: bool) -> str:
    """Give the FTS5 expression for tokens; each is quoted. Empty when none is a word."""
    return " ".join(f'"{word}"' + "*" * may_go_on for word, may_go_on in _asked(tokens, beginnings))


def postgres_match(tokens: Iterable[str], beginnings: bool) -> str:
    """Give the text that PostgreSQL casts to tsquery; each token is quoted. Empty when none is a word."""
    return " & ".join(f"'{word}'" + ":*" * may_go_on for word, may_go_on in _asked(tokens, beginnings))


def _asked(tokens: Iterable[str], beginnings: bool) -> Iterator[tuple[str, bool]]:
    """Give each word with whether it may be the beginning of a longer one."""
    for word in map(compact, tokens):
        if word:
            yield word, beginnings and len(word) >= SHORTEST_BEGINNING

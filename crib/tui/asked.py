"""Where a question typed into the Ask line leads, and what a cut in shop talk already says.

Pure: text in, fields out, all as typed. Whether a size or a name can be read is for the desk to say.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from crib.desk.picking.pass_depth import PART_OF_INCH

_VERBS = {"turn": "turn", "skim": "turn", "face": "face", "bore": "bore"}
_NUMBER = r"\d+(?:[.,]\d+)?(?:\s*-\s*\d+/\d+|\s+\d+/\d+|/\d+)?"
_SETUP_WORDS = "rigid|fair|weak|flimsy"
# a word after "in" that shows it to be a unit, not the start of "in cast iron"
_AFTER_INCHES = (
    "to|long|from|in|on|over|deep|length|a|per|dia|diameter|with|at|left|right|interrupted|depth|feed"
    f"|{_SETUP_WORDS}"
)
_UNIT = rf"(?:\s*(?:mm|cm|inch(?:es)?|\"|”|'')|in\b|\s+in(?=\s*(?:$|[,;.]|(?:{_AFTER_INCHES})\b)))?"
_SIZE = rf"[⌀ØøΦ]?\s*{_NUMBER}{_UNIT}"
_VERB = re.compile(rf"^\s*({'|'.join(_VERBS)})\b", re.IGNORECASE)
_FILLER = r"(?:\s+(?:the|a|an|out|down|up|from|to|it|this|that|at))*"
_ASKS_FOR_READING = re.compile(
    r"^\s*(?:decode|read|what\s+does|what'?s|what\s+is)\s+(?:(?:a|an|this|the)\s+)?(.+?)(?:\s+mean)?\s*\??\s*$",
    re.IGNORECASE,
)
# what ends the name of a material or a machine
_STOP = r"(?=\s*(?:[,;]|$|\b(?:on|in|with|from|over|depth|feed|at)\b))"

_MEASURE = r"(?:(?:on|off)\s+(?:the\s+)?(?:diameter|dia)|(?:a|per)\s+side)\b"
_EACH = r"at\s+a\s+time\b"
_HARDNESS = rf"(?:\bat\s+|@\s*)?({_NUMBER}(?:\s*(?:-|–|\bto\b)\s*\d+)?\s*(?:HBW?|HBS|BHN|HRC|RC|HV))\b"
# what the first cut meets, the hardest first
_SKINS = (
    ("weld", r"\b(?:through\s+|over\s+|across\s+)?(?:the\s+|a\s+)?welds?\b(?:\s+in\s+the\s+cut)?"),
    ("flame cut", r"\b(?:with\s+|on\s+)?(?:the\s+|a\s+)?flame[\s-]?cut(?:\s+(?:edge|face))?\b"),
    ("sand", r"\b(?:with\s+|through\s+|under\s+)?(?:the\s+)?(?:sand|casting|cast)(?:\s+skin)\b|\bsand\b"),
    ("scale", r"\b(?:with\s+|through\s+|under\s+)?(?:the\s+)?(?:scale|skin|crust)\b"),
)

_PATTERNS: tuple[tuple[tuple[str, ...], str], ...] = (
    (("from_", "to"), rf"(?:\bfrom\s+)?({_SIZE})\s*(?:\bto\b|→|->)\s*({_SIZE})"),
    (("stiffness",), r"(\d+(?:[.,]\d+)?\s*(?:k?N/(?:mm|um|µm)|lbf?/in))"),
    (("frequency",), r"(\d+(?:[.,]\d+)?\s*Hz)"),
    (("damping",), r"(\d+(?:[.,]\d+)?\s*%)(?:\s*damping)?"),
    (("feed",), rf"(?:\bfeed\s+(?:of\s+)?)({_NUMBER}(?:\s*(?:mm|in|thou)(?:/rev)?)?)"),
    (("feed",), rf"({_NUMBER}\s*(?:mm|in|thou)/rev)"),
    (("depth",), rf"((?:{_SIZE}|{PART_OF_INCH})\s+{_MEASURE}(?:\s+{_EACH})?)"),
    (("depth",), rf"((?:{_SIZE}|{PART_OF_INCH})\s+{_EACH})"),
    (("depth",), rf"\bdepth\s+(?:of\s+cut\s+)?(?:of\s+)?({_SIZE})"),
    (("depth",), rf"({_SIZE})\s+(?:a|per)\s+(?:pass|cut|side)\b"),
    (("length",), rf"({_SIZE})\s+(?:long|deep|length)\b"),
    (("length",), rf"\b(?:length|over)\s+(?:of\s+)?({_SIZE})"),
    (("diameter",), rf"\b(?:diameter|dia)\s+({_SIZE})"),
    (("diameter",), rf"({_SIZE})\s+(?:diameter|dia)\b"),
    (("hand",), r"\b(left|right)(?:[\s-]*hand(?:ed)?)?\b"),
    (("setup",), rf"\b(?:on\s+)?(?:a\s+|set-?up\s+)?({_SETUP_WORDS})(?:\s+set-?up)?\b"),
    (("interrupted",), r"\b(interrupted)(?:\s+cut)?\b"),
    (("machine",), rf"\bon\s+(?:the\s+|a\s+|an\s+|our\s+)?([^\d,;\s].*?){_STOP}"),
    (("material",), rf"\bin\s+(?:the\s+|a\s+|an\s+)?([^\d,;\s].*?){_STOP}"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """What a cut in shop talk says.

    Attributes:
        fields: field of a pick -> as typed; "yes" for interrupted.
        unused: words that were not understood as part of a cut.
    """

    fields: dict[str, str] = field(default_factory=dict)
    unused: str = ""


# said without "in" or "on the": "… 4140", "… boring mill"
_BARE_PATTERNS = (
    (("machine",), r"\b((?:\w+ )?(?:boring mill|lathe))\b"),
    (
        ("material",),
        r"(?:\bin\s+)?(?<![\w.])(\d{4}[A-Za-z]{0,3}|\d{1,2}[A-Za-z]{2,}\d\w*|\d\.\d{4})(?![\w.])",
    ),
)


def may_be_cut(text: str) -> bool:
    """Tell whether a question starts with what a cut does: names on record then tell what it is about."""
    return _VERB.match(text) is not None


def read_cut(text: str, setups: Sequence[str] = ()) -> Cut | None:
    """Read a cut, as in "bore 16 to 16 3/8 in cast iron, 9 in long, on the boring mill".

    Args:
        text: as typed.
        setups: names of the kept set-ups, by themselves and at each of their points ("pump liner at mouth").

    Returns:
        The fields that it fills, or None where the text is no cut: it must start with what the cut does
        and give a size or name a kept set-up.
    """
    verb = _VERB.match(text)
    if verb is None:
        return None
    fields = {"op": _VERBS[verb[1].lower()]}
    rest = _take_setup(text[verb.end() :], setups, fields)
    rest = _take(("hardness",), _HARDNESS, rest, fields)
    rest = _take_skin(rest, fields)
    alone = re.match(rf"{_FILLER}\s+({_SIZE})(?![^\s,;.?!])", rest, re.IGNORECASE)
    pair = re.search(_PATTERNS[0][1], rest, re.IGNORECASE)
    if alone is None and pair is None and "setup" not in fields:
        return None
    if pair is None and alone is not None:
        rest = _take(("to",), rf"^{_FILLER}\s+({_SIZE})(?![^\s,;.?!])", rest, fields)
    for names, pattern in _PATTERNS:
        rest = _take(names, pattern, rest, fields)
    if pair is not None:
        fields["from_"], fields["to"] = same_unit(fields["from_"], fields["to"])
    for names, pattern in _BARE_PATTERNS:
        rest = _take(names, pattern, rest, fields)
    hardness = fields.pop("hardness", "")
    if hardness and "material" in fields:
        fields["material"] += f" at {hardness}"
    elif hardness:
        rest += f" {hardness}"
    unused = re.sub(
        r"[\s;,]+", " ", re.sub(r"\b(?:the|a|an|with|and|at|from|to|out|down)\b", " ", rest)
    ).strip(" .?!")
    return Cut(fields=fields, unused=unused)


def same_unit(first: str, second: str) -> tuple[str, str]:
    """Give two sizes said in one breath the unit that only one of them names: "16 to 16 3/8 in"."""
    units = [_unit_of(size) for size in (first, second)]
    if units[0] and not units[1]:
        return first, f"{second} {units[0]}"
    if units[1] and not units[0]:
        return f"{first} {units[1]}", second
    return first, second


def _unit_of(size: str) -> str:
    """Give the unit of a size; a fraction means inches."""
    unit = re.sub(rf"[⌀ØøΦ\s]|{_NUMBER}", "", size)
    return unit or ("in" if "/" in size else "")


def _take(names: tuple[str, ...], pattern: str, text: str, fields: dict[str, str]) -> str:
    """Move what the pattern finds into the fields; give the text without it."""
    if names[0] in fields:
        return text  # said already
    found = re.search(pattern, text, re.IGNORECASE)
    if found is None:
        return text
    for name, value in zip(names, found.groups(), strict=True):
        fields[name] = "yes" if name == "interrupted" else value.strip(" .?!").strip()
    # a semicolon keeps what stood left and right of it apart
    return text[: found.start()] + " ; " + text[found.end() :]


def _take_setup(text: str, setups: Sequence[str], fields: dict[str, str]) -> str:
    """Move the longest name of a kept set-up into its field; give the text without it."""
    for name in sorted(setups, key=len, reverse=True):
        if re.fullmatch(_SETUP_WORDS, name):
            continue  # a word for assumed figures: "weak set-up"
        typed = (
            re.escape(name).replace(r"\ at\ ", r"(?:\s*[:,]\s*|\s+at\s+(?:the\s+)?)").replace(r"\ ", r"\s+")
        )
        if found := re.search(rf"(?:\b(?:on|in)\s+)?(?:\bthe\s+)?\b{typed}(?!\w)", text, re.IGNORECASE):
            fields["setup"] = name
            return f"{text[: found.start()]} {text[found.end() :]}"
    return text


def _take_skin(text: str, fields: dict[str, str]) -> str:
    """Move what the first cut meets into its field; give the text without it."""
    for skin, pattern in _SKINS:
        if found := re.search(pattern, text, re.IGNORECASE):
            fields["skin"] = skin
            return text[: found.start()] + " ; " + text[found.end() :]
    return text


def code_asked(text: str) -> str | None:
    """Give the text that may be a code, or None where it can't be one (no letter or no digit).

    Args:
        text: as typed; "what is a WNMG 432?" and "decode …" give what stands behind.
    """
    asked = _ASKS_FOR_READING.match(text)
    code = asked[1] if asked else text.strip()
    has_both = re.search(r"[A-Za-z]", code) and re.search(r"\d", code)
    return code if has_both and len(code) <= 60 else None


_NOT_ASKED = r"(?!(?:who|what|which|where|whose|when|did|has|have|is)\b)"
_WHAT, _TO = r"(?:the |an? )?(?P<tags>.+?)", r"(?:the )?(?P<to>.+?)"
_SPAN = r"(?:an?|one|two|three|\d+) (?:day|week|fortnight|month)s?"
_BACK = r"(?:until|till|back by|back|by) (?:the )?(?P<back>.+?)"
_UNTIL = rf"(?:,? (?:{_BACK}|for (?P<span>{_SPAN})|for (?P<why>.+?)))?\s*[.!]?$"
_DOINGS = (
    ("lend", rf"^(?:put down:? )?(?:lend|lent) {_WHAT} to {_TO}{_UNTIL}"),
    ("lend", rf"^(?:put down:? )?{_NOT_ASKED}{_TO} (?:has )?(?:took|taken|borrowed) {_WHAT}{_UNTIL}"),
    ("give_back", r"^return (?P<tags>.+?)\s*[.!]?$"),
    ("give_back", rf"^{_NOT_ASKED}{_WHAT} (?:is|are|came) back\s*[.!]?$"),
)


def read_doing(text: str) -> tuple[str, dict[str, str]] | None:
    """Read what was done, as in "put down: Wilf took the depth mic until friday".

    Args:
        text: as typed.

    Returns:
        The form that records it, and its entries as typed; None where the text is no doing.
    """
    typed = " ".join(text.split())
    for form, pattern in _DOINGS:
        if found := re.match(pattern, typed, re.IGNORECASE):
            given = {name: value for name, value in found.groupdict().items() if value}
            if span := given.pop("span", ""):
                given["back"] = span
            return form, given
    return None

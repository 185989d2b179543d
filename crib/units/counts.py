"""A number of things in words: 1 tool, 2 tools."""


def many(count: int, one: str, more: str = "") -> str:
    """Give a count with its noun.

    Args:
        count: of them.
        one: the noun for a single one.
        more: for any other number; the same with an s, if not told.
    """
    return f"{count} {one if count == 1 else more or one + 's'}"

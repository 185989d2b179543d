"""Text that people may type, paste or import, and that must never be obeyed: one set for every door.

Each door (commands, screens, CSV, XLSX, PDF) either shows such text without its controls or refuses it in one
clear line; nothing in it becomes markup, a terminal's command, a formula, a path or a line of its own.

    from nasty import NASTY, REFUSED, controls, huge, shown
"""

import unicodedata

NASTY = {
    "markup": "[bold red]not markup[/] <b>&amp;</b> [link=https://example.invalid]x[/link]",
    "half a markup": "[/] [[ ] \\[ [@click=app.quit]go[/]",
    "escape": "\x1b]0;title\x07\x1b[2Jcleared\x9b31m",
    "formula": "=cmd|' /C calc'!A0",
    "formula plus": "+1+cmd|' /C calc'!A0",
    "formula minus": "-2+3",
    "formula at": "@SUM(1+1)*cmd|' /C calc'!A0",
    "formula behind a tab": "\t=1+1",
    "formula behind a blank": "x\r\n=HYPERLINK(0)",
    "wide formula": "＝1+1",
    "path": "../../../../tmp/forged",
    "path of another system": "..\\..\\C:\\forged|con:*?",
    "hidden path": "/tmp/forged\u200b/./..//x",
    "direction": "left \u202e dnah thgir \u202c hand \u2066isolate",
    "marks on marks": "o" + "\u0301\u0323\u0334" * 40,
    "no width": "a\u200bb\u200dc\ufeffd\u00ade",
    "break": "one line\r\nFORGED: 0 differences",
    "other breaks": "one\vtwo\fthree\x85four\u2028FORGED\u2029FORGED",
    "quotes": '"\'`;--,\t;""',
    "query": "x' OR 1=1; DROP TABLE item; -- %s :id {0} $1 ?",
    "wide": "工具 🔧 é 👨‍👩‍👧 ﷽",
    "other scripts": "Планшайба לוח צינור مخرطة",
    "blank": "\u00a0\u3000\u2003x\u2003",
    "very long": "x" * 9_999,
    "long without a break": "工" * 3_000,
}
# what no store, file or terminal can hold: refused in one clear line
REFUSED = {"nothing": "a\0b", "half a sign": "a\ud800b"}
MEGABYTES = 10


def huge() -> str:
    """Give a field of ten megabytes: refused, or cut, within the time of any other."""
    return "huge " * (MEGABYTES * 200_000)


def controls(text: str) -> list[str]:
    """Give the signs of a printed text that a terminal or reader might obey; line ends are the printer's."""
    return [ch for ch in text if ch != "\n" and unicodedata.category(ch) in ("Cc", "Cf", "Zl", "Zp")]


def shown(text: str) -> str:
    """Give a text as people may see it in a line: each control as one �, a tab as it is."""
    return "".join(ch if ch == "\t" or not (controls(ch) or ch == "\n") else "�" for ch in text)

"""The keys and the words under them. Every key has a typed word that does the same."""

from __future__ import annotations

from rich.cells import cell_len

from bot.frozen import dataclass


@dataclass(frozen=True)
class Key:
    """One key: how Textual names it, how it is shown, its word, and the line it sends ("" where it sends none)."""

    key: str
    shown: str
    word: str
    says: str = ""


KEYS = (
    Key("f1", "F1", "help", "help"),
    Key("f2", "F2", "why", "why"),
    Key("f3", "F3", "how", "how"),
    Key("f4", "F4", "back", "back"),
    Key("f5", "F5", "don't know", "don't know"),
    Key("f6", "F6", "put aside", "put aside"),
    Key("f7", "F7", "record", "record"),
    Key("f8", "F8", "search"),
    Key("f9", "F9", "look"),
    Key("f10", "F10", "cases"),
    Key("ctrl+q", "^Q", "leave"),
)
# Shown where there is room for all of them, and always in what F1 says.
MORE = (
    Key("ctrl+t", "^T", "swap"),
    Key("ctrl+o", "^O", "pair"),
    Key("ctrl+l", "^L", "wording"),
    Key("ctrl+n", "^N", "units"),
)
TYPED = {
    "search": "search",
    "look": "look",
    "look path": "look path",
    "look causes": "look causes",
    "look readings": "look readings",
    "look sums": "look sums",
    "look steps": "look steps",
    "look cases": "look cases",
    "swap": "swap",
    "pair": "pair",
    "wording": "wording",
    "units": "units",
    "colours": "colours",
}
KEY_HELP = (
    "Keys: "
    + ", ".join(f"{k.shown} {k.word}" for k in (*KEYS[7:], *MORE))
    + ". The word typed alone does the same; colours changes those."
)


def footer(width: int, rows: int) -> str:
    """The keys with their words in at most that many rows; the last ones named stay when room is short."""
    every = [f"{k.shown} {k.word}" for k in (*KEYS[:-1], *MORE, KEYS[-1])]
    out = _rows(every, width)
    if len(out) <= rows and width >= 80:
        return "\n".join(out)
    parts = [f"{k.shown} {k.word}" for k in KEYS]
    out = _rows(parts, width)
    if len(out) <= rows:
        return "\n".join(out)
    first, kept = parts[0], parts[1:]
    while kept and len(_rows([first, "…", *kept], width)) > rows:
        kept.pop(0)
    return "\n".join(_rows([first, "…", *kept], width)[:rows])


def _rows(parts: list[str], width: int) -> list[str]:
    out: list[str] = []
    for part in parts:
        if out and cell_len(out[-1]) + 2 + cell_len(part) <= width:
            out[-1] += "  " + part
        else:
            out.append(part)
    return out

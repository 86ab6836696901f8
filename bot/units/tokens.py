"""A line of user text cut into numbers, words and marks, each with its place in the line.

Nothing here knows what a volt is. Every replacement is one character for one character, so places stay true.
"""

import re
from typing import NamedTuple

_FULL_WIDTH = {0xFF01 + k: 0x21 + k for k in range(94)}
_ALIKE: dict[int, int | str] = {
    **_FULL_WIDTH,
    **dict.fromkeys(map(ord, "\u2018\u2019\u201b\u2032\u00b4\u02b9\u02bc`"), "'"),
    **dict.fromkeys(map(ord, "\u201c\u201d\u2033\u02ba\u301e"), '"'),
    **dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2212\ufe63"), "-"),
    **dict.fromkeys(map(ord, "\u00a0\u2007\u2008\u2009\u200a\u202f\u3000\t"), " "),
    **dict.fromkeys(map(ord, "\u00b7\u22c5\u2022\u2219"), "*"),
    **dict.fromkeys(map(ord, "\u2044\u2215\u00f7"), "/"),
    **dict.fromkeys(map(ord, "\u00ba\u02da"), "°"),
    ord("\u00d7"): "x",
    ord("\u00b2"): "2",
    ord("\u2126"): "\u03a9",
    ord("\u2248"): "~",
    ord("\u2264"): "<",
    ord("\u2265"): ">",
    ord("\u0130"): "I",  # the one capital whose small form is two characters long
}

#: Fractions that are one character. Source: the Unicode names of the characters.
VULGAR = {
    "¼": 1 / 4, "½": 1 / 2, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3, "⅕": 1 / 5, "⅖": 2 / 5, "⅗": 3 / 5,
    "⅘": 4 / 5, "⅙": 1 / 6, "⅚": 5 / 6, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8,
}  # fmt: skip

_TOKEN = r"""(?P<n>
      (?<![0-9][.,])[0-9]{1,3}(?:,[0-9]{3})+(?![0-9]|,[0-9])(?:\.[0-9]+)?(?!\.?[0-9])   # 14,000  1,234.5
    | (?<![0-9][.,])[0-9]{1,3}(?:\.[0-9]{3})+,[0-9]+(?![0-9.,]*[0-9])                    # 1.234,5
    | [0-9]+(?:\.[0-9]+){2,}                                                             # 1.2.3, no number
    | [0-9]+\.[0-9]+
    | (?<![0-9][.,])[0-9]+,[0-9]+(?![0-9]*[.,][0-9])                                     # 12,5
    | [0-9]+
    | (?<![0-9])\.[0-9]+
    )
    | (?P<w>[^\W\d_¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]+(?:'[^\W\d_]+)*)
    | (?P<v>[¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])
    | (?P<s>\S)"""


class Token(NamedTuple):
    """One piece of a line: ``kind`` is n (number), w (word), v (fraction character) or s (one mark).

    ``low`` is the text in small letters, ``text`` as cleaned; ``start`` and ``end`` count characters of the
    line.
    """

    kind: str
    text: str
    low: str
    start: int
    end: int


def word_set(text: str) -> frozenset[str]:
    """The words of a text, as a set."""
    return frozenset(text.split())


END = Token("", "", "", -1, -1)


class Line(list[Token]):
    """The tokens of one line. ``at(i)`` gives an empty token outside the line, so rules can look around."""

    def at(self, i: int) -> Token:
        """The token at place ``i``, or an empty one before the first and after the last."""
        return self[i] if 0 <= i < len(self) else END

    def word(self, i: int) -> str:
        """The word at place ``i`` in small letters, or an empty text where there is no word."""
        token = self.at(i)
        return token.low if token.kind == "w" else ""

    def mark(self, i: int) -> str:
        """The mark at place ``i``, or an empty text where there is no mark."""
        token = self.at(i)
        return token.text if token.kind == "s" else ""

    def glued(self, i: int) -> bool:
        """True when no space stands between token ``i - 1`` and token ``i``."""
        return 0 < i < len(self) and self[i - 1].end == self[i].start

    def whole(self, i: int) -> int | None:
        """The number at place ``i`` if it is written in digits alone, else None."""
        token = self.at(i)
        return (
            int(token.text) if token.kind == "n" and token.text.isdecimal() and len(token.text) < 16 else None
        )


def clean(text: str) -> str:
    """The line with look-alike characters made plain, as many characters as before.

    >>> clean("１２．４ Ｖ – 5′")
    "12.4 V - 5'"
    """
    return text if text.isascii() else text.translate(_ALIKE)


def tokens(text: str) -> Line:
    """The line as tokens, in order.

    >>> [t.text for t in tokens("about 12.4V, or 14,000 lb")]
    ['about', '12.4', 'V', ',', 'or', '14,000', 'lb']
    """
    line = Line()
    for match in re.finditer(_TOKEN, clean(text), re.VERBOSE):
        piece = match.group()
        line.append(Token(match.lastgroup or "s", piece, piece.lower(), match.start(), match.end()))
    return line

"""Bad input from good: one seed gives one input, for ever the same on every machine."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from random import Random  # noqa: TID251 -- by seed

TESTS = Path(__file__).resolve().parents[1]
# What breaks programs as a rule: ends of strings and of records, escapes, markup, numbers at their bounds.
NASTY = (
    "\x00", "\x1b[2J", "\x1b]0;x\x07", "\u009b31m", "\u202e", "\u2066x\u2069", "\ufeff", "\ud800", "\udfff", "\u2028",
    "\u200b" * 30, "e\u0301" * 20, "\U0010ffff", "\ufdd0", "٣", "²", "½", "Ⅷ", "ﬁ", "ß", "İ", "🔧🏽", "\r\n", "\r", "\t", "\v", "\f",
    "[/", "[b]", "[@click=app.quit]x[/]", "{}", "{0.__class__}", "%s%n", "$(id)", "`id`", "../../etc/passwd", "'; DROP TABLE cases; --",
    '"', "'", "\\", "\\x", "&amp;", "<script>alert(1)</script>", "]]>", "<!--", "://", "javascript:0", "=1+1", "@SUM(A1)", "|", ";", ",", "---",
    "-1", "0", "1e999", "-1e-999", "nan", "inf", "1/0", "9" * 400, "0x7f", "1_000", "1,000,000.5.5", "2 1/4 in", "10 ga", "12.4 V", "-40 °F",
    "yes", "no", "back", "done", "why", "record", "case 1", "case 999999999999999999999", "find ", "read ", "sum ", "take over 1", "new case",
    "(" * 200, "[" * 200, "{" * 200, "a" * 3000, "yes " * 300, "🔧" * 500, "\n" * 100, "- " * 300, "| " * 300, "# " * 100, "> " * 100,
)  # fmt: skip
_PLANES = 17
# Lines that lead a conversation on, into a repair and its stops.
INTO = (
    "hitched", "one motor", "dont know", "yes", "done", "12.4", "no", "that did not fix it", "everybody is safe",
)  # fmt: skip


@cache
def lines() -> tuple[str, ...]:
    """Lines that people typed, from the files of lines of the tests."""
    found = []
    for file in sorted((TESTS / "lines").glob("*.jsonl")):
        for row in file.read_text(encoding="utf-8").splitlines():
            plain = json.loads(row)
            text = plain.get("complaint") or plain.get("line") or plain.get("text") or ""
            if isinstance(text, str) and text:
                found.append(text)
    return tuple(found)


def letters(random: Random, most: int = 12) -> str:
    """A few characters of any plane of Unicode, the unassigned and the surrogates among them."""
    plane = random.choice((0, 0, 0, 1, 2, 14, random.randrange(_PLANES)))
    top = 0x300 if random.random() < 0.4 else 0x10000
    return "".join(chr(plane * 0x10000 + random.randrange(top)) for _ in range(random.randint(1, most)))


def spoilt(text: str, random: Random, seeds: tuple[str, ...] = NASTY, times: int = 4) -> str:
    """The text with up to `times` changes: something put in, cut, doubled, exchanged, spliced or turned about."""
    for _ in range(random.randint(0, times)):
        at = random.randint(0, len(text))
        to = min(len(text), at + random.choice((1, 1, 2, 5, 30)))
        what = random.randrange(9)
        if what == 0:
            text = text[:at] + random.choice(NASTY) + text[at:]
        elif what == 1:
            text = text[:at] + text[to:]
        elif what == 2:
            text = text[:to] + text[at:to] * random.choice((1, 2, 40)) + text[to:]
        elif what == 3:
            text = text[:at] + letters(random) + text[to:]
        elif what == 4:
            other = random.choice(seeds)
            text = text[:at] + other[random.randint(0, len(other)) :]
        elif what == 5:
            text = text[to:] + " " + text[:at]
        elif what == 6:
            text = (
                text.swapcase()
                if random.random() < 0.5
                else text.replace(" ", random.choice(("", "\t", "  ", "\u00a0")))
            )
        elif what == 7:
            text = text[:at] + str(random.choice((0, 1, -1, 2**31, 2**63, 10**40, 0.1, 1e308))) + text[to:]
        else:
            text = text[:at] + random.choice(seeds) + text[at:]
    return text


def spoilt_bytes(raw: bytes, random: Random, times: int = 6) -> bytes:
    """The bytes with a few flipped, cut out, put in, overwritten, or the end cut off."""
    data = bytearray(raw)
    for _ in range(random.randint(0, times)):
        at = random.randrange(len(data) + 1)
        what = random.randrange(6)
        if what == 0 and at < len(data):
            data[at] ^= 1 << random.randrange(8)
        elif what == 1:
            del data[at : at + random.choice((1, 4, 100, 5000))]
        elif what == 2:
            data[at:at] = random.randbytes(random.choice((1, 4, 100)))
        elif what == 3:
            size = random.choice((1, 8, 64, 4096))
            data[at : at + size] = bytes([random.choice((0, 255, 0x7F, random.randrange(256)))]) * size
        elif what == 4 and random.random() < 0.3:
            del data[at:]
        elif what == 5:
            other = random.randrange(len(data) + 1)
            size = random.choice((8, 100, 4096))
            data[at : at + size] = data[other : other + size]
    return bytes(data)


__all__ = ["NASTY", "letters", "lines", "spoilt", "spoilt_bytes"]

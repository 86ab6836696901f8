"""Outside rows and how an answer is held against one."""

import json
import re
from pathlib import Path
from typing import Any

from bot.sums.spans import Span

ROWS: dict[str, dict[str, Any]] = {
    row["id"]: row for row in json.loads((Path(__file__).parent / "rows.json").read_text(encoding="utf-8"))
}

#: Tolerances that are words: what they mean as (relative, absolute). The rest are read from the row.
WORDED = {
    "exact": (1e-12, 0.0),
    "exact band": (1e-12, 0.0),
    "band": (1e-12, 0.0),
    "bands, not equality": (1e-12, 0.0),
    "advisory": (1e-12, 0.0),
    "advisory band, not an equality": (1e-12, 0.0),
    "5 to 7 figures": (2e-5, 0.0),
    "exact, except the first tensile value": (1e-12, 0.0),
}


def tolerance(words: str) -> tuple[float, float]:
    """Relative and absolute tolerance of a row. An unknown wording is a KeyError, never a free pass."""
    number = re.match(r"(rel|abs) ([\d.e-]+)", words)
    if number is None:
        return WORDED[words]
    size = float(number.group(2))
    return (size, 0.0) if number.group(1) == "rel" else (0.0, size)


def differences(got: Any, expected: Any, words: str, at: str = "") -> list[str]:
    """Every place where the answer misses the row. A Span passes where it holds the expected figure."""
    if isinstance(expected, dict):
        if not isinstance(got, dict) or set(got) != set(expected):
            return [f"{at or 'answer'}: has {got!r}, wanted the names {sorted(expected)}"]
        return [
            miss for key in expected for miss in differences(got[key], expected[key], words, f"{at}{key}")
        ]
    if isinstance(expected, list):
        if not isinstance(got, (list, tuple)) or len(got) != len(expected):
            return [f"{at or 'answer'}: has {got!r}, wanted {len(expected)} values"]
        pairs = enumerate(zip(got, expected, strict=True))
        return [miss for i, (one, want) in pairs for miss in differences(one, want, words, f"{at}[{i}]")]
    if isinstance(expected, (str, type(None), bool)):
        return [] if got == expected else [f"{at or 'answer'}: {got!r}, wanted {expected!r}"]
    relative, absolute = tolerance(words)
    slack = max(relative * abs(expected), absolute)
    low, high = (got.low, got.high) if isinstance(got, Span) else (got, got)
    if low - slack <= expected <= high + slack:
        return []
    return [f"{at or 'answer'}: {got!r}, wanted {expected!r} within {words}"]

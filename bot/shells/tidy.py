"""Text of people made harmless for terminals and pages: no control bytes."""

from __future__ import annotations

import re

# C0, DEL and C1, escape sequences as wholes, direction overrides and isolates, lone surrogates.
_SEQUENCE = re.compile(r"\x1b(?:\[[0-?]*[ -/]*[@-~]|[\]PX^_][^\x07\x1b]*(?:\x07|\x1b\\)?|[ -/]*[0-~])")
_CONTROL = re.compile(
    "[\x00-\x09\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff]"
)


def harmless(text: str) -> str:
    """The text with line breaks kept and every byte that could steer a terminal taken out."""
    text = text.replace("\r\n", "\n").replace("\r", "\n").replace("\t", "    ")
    return _CONTROL.sub("", _SEQUENCE.sub("", text))

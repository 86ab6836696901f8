"""Quantities in and out: our own reader before pint, one closed table of units, text in both families.

``scan`` finds every quantity in a free line, ``read`` takes the answer to one question, ``show`` and
``show_both`` write a value, ``convert`` changes units. Importing this does not load pint; the first real
conversion does, and ``warm`` does it ahead of time.
"""

from typing import TYPE_CHECKING

from bot.units.answers import Reading, Unread, read, taken
from bot.units.bolts import BoltSize, bolt_size
from bot.units.convert import convert, warm
from bot.units.lines import Found, scan
from bot.units.shown import figure, show, show_both
from bot.units.table import UNITS, US, Unit, canonical, kind_of
from bot.units.wire import awg_mm2, awg_text, mm2_awg, sae_mm2

if TYPE_CHECKING:
    from bot.units.faults import OtherKind, UnknownUnit

__all__ = [
    "UNITS", "US", "BoltSize", "Found", "OtherKind", "Reading", "Unit", "UnknownUnit", "Unread", "awg_mm2",
    "awg_text", "bolt_size", "canonical", "convert", "figure", "kind_of", "mm2_awg", "read", "sae_mm2",
    "scan", "show", "show_both", "taken", "warm",
]  # fmt: skip


def __getattr__(name: str) -> object:
    """The two exceptions, loaded when first named: their base costs as long to load as all the rest here."""
    if name in ("OtherKind", "UnknownUnit"):
        from bot.units import faults

        return getattr(faults, name)
    raise AttributeError(name)

"""The screen's own colours: dark, light, and plain for the terminal's own sixteen. No meaning hangs on any of them."""

from __future__ import annotations

from collections.abc import Mapping

from textual.theme import Theme

DARK = Theme(
    name="legline-dark",
    primary="#3f6f7f",
    secondary="#8fa3a8",
    accent="#8cc8d4",
    warning="#e8a84c",
    error="#e07a6a",
    success="#86c08a",
    foreground="#e6e4dd",
    background="#15191b",
    surface="#1b2023",
    panel="#262d31",
    dark=True,
)
LIGHT = Theme(
    name="legline-light",
    primary="#2f5f6f",
    secondary="#4c5c61",
    accent="#0d5566",
    warning="#7d4300",
    error="#9a2a1c",
    success="#1c5f2c",
    foreground="#1b2022",
    background="#faf8f3",
    surface="#f3f0e8",
    panel="#e4e0d4",
    dark=False,
)


def colours_of(environment: Mapping[str, str]) -> str:
    """The colours that fit the terminal: light where it says that its ground is light, else dark.

    COLORFGBG, where a terminal sets it, ends in the number of its ground colour; 7 and 15 are the light ones.

    >>> colours_of({"COLORFGBG": "0;15"}), colours_of({"COLORFGBG": "15;default;0"}), colours_of({})
    ('light', 'dark', 'dark')
    """
    ground = environment.get("COLORFGBG", "").rpartition(";")[2]
    return "light" if ground in ("7", "15") else "dark"


def theme_of(colours: str, environment: Mapping[str, str]) -> str:
    """The name of the theme for dark, light or plain; plain follows the ground of the terminal."""
    if colours == "plain":
        return f"ansi-{colours_of(environment)}"
    return f"legline-{colours}"

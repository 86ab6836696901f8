"""The pictures of the README: they are there, show the program as it is, and fetch nothing."""

from __future__ import annotations

import re

import pytest

from scripts.pictures import FOLDER, PICTURES, own_svg


@pytest.mark.parametrize("name", sorted(PICTURES))
def test_picture_is_there_says_what_it_shows_and_fetches_nothing(name: str) -> None:
    svg = (FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    assert set(re.findall(r"https?://[^\s\"'<>)]+", svg)) == {"http://www.w3.org/2000/svg"}
    assert "@font-face" not in svg
    assert "aria-label=" in svg
    text = " ".join(re.findall(r">([^<]+)</text>", svg)).replace("&#160;", " ")
    assert "Case 1" in text
    assert "suspect" in text


def test_font_from_elsewhere_is_taken_out_of_a_screenshot() -> None:
    svg = '<svg a="b"><style>@font-face { src: url("https://x.example/f.woff"); } .m { font-family: Far; }</style></svg>'
    own = own_svg(svg, "a picture")
    assert "x.example" not in own
    assert "Far" not in own
    assert "aria-label='a picture'" in own

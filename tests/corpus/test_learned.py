"""The learned weights: a table that is what its examples made, read safely, and reckoned as a hand would."""

from __future__ import annotations

import math
import subprocess
import sys
from pathlib import Path
from zlib import crc32

import pytest

from bot.corpus.learned import FILE, Learned, features, flags, packed, parsed, read_learned, words_of
from bot.corpus.place import corpus_folder

TOP = Path(__file__).resolve().parents[2]
CLASSES = {"smoke": ("burns",), "motor": ("part",)}


def _table() -> bytes:
    """Two labels; "smoke" speaks for the first with 100 steps of 0.01, its class against the second."""
    rows = {crc32(b"1smoke"): [(0, 100)], crc32(b"3burns"): [(1, -50)], crc32(b"Pd"): [(0, 20)]}
    return packed(["danger", "fuse_ok=yes"], [-0.5, 0.25], [0.01, 0.02], CLASSES, "mark", rows)


def test_scores_are_the_sum_that_a_hand_makes() -> None:
    table = parsed(_table())
    words = ["smoke"]
    seen = {name for name, _ in features(words, table.classes)}
    share = 1 / math.sqrt(max(4, len(seen)))
    danger, fuse = table.scores(words, ["Pd"])
    assert danger == pytest.approx(-0.5 + 0.01 * (100 * share + 20 * 0.3))
    assert fuse == pytest.approx(0.25 - 0.02 * 50 * share)


def test_words_that_nobody_taught_leave_the_bias() -> None:
    assert parsed(_table()).scores(["zebra"]) == pytest.approx([-0.5, 0.25])


def test_the_words_that_speak_for_a_label_are_named() -> None:
    assert parsed(_table()).because(["the", "motor", "makes", "smoke"], "danger") == (3, 4)


def test_features_are_words_pairs_and_classes() -> None:
    names = {name for name, _ in features(["motor", "smoke"], CLASSES)}
    assert {"1motor", "2motor smoke", "3part", "4part burns", "2< motor"} <= names
    assert [place for name, place in features(["motor", "smoke"], CLASSES) if name == "1smoke"] == [1]


def test_what_patterns_found_counts_once_each() -> None:
    assert flags(("smoke or runaway",), {"fuse_ok": "no"}, (), 2) == [
        "Pd:smoke or runaway", "Pf:fuse_ok=no", "Pd", "Pr",
    ]  # fmt: skip


def test_stops_and_signs_are_no_words() -> None:
    assert words_of(["it", ",", "smokes", ".", "12.1"]) == ["it", "smokes", "12.1"]


@pytest.mark.parametrize("spoil", ["cut short", "no head", "other numbers", "missing"])
def test_a_spoilt_file_leaves_the_patterns_alone(spoil: str, tmp_path: Path) -> None:
    place = tmp_path / FILE
    place.parent.mkdir()
    raw = _table()
    if spoil != "missing":
        place.write_bytes(
            {"cut short": raw[:-3], "no head": raw[5:], "other numbers": raw.replace(b'"weights":3', b'"weights":9')}[spoil]
        )  # fmt: skip
    table = read_learned(tmp_path)
    assert table.labels == ()
    assert table.scores(["smoke"]) == []


def test_what_was_written_is_read_back(tmp_path: Path) -> None:
    (tmp_path / "examples").mkdir()
    (tmp_path / FILE).write_bytes(_table())
    table = read_learned(tmp_path)
    assert (table.labels, table.bias, table.examples) == (("danger", "fuse_ok=yes"), (-0.5, 0.25), "mark")
    assert table.classes == CLASSES


def test_an_empty_table_judges_nothing() -> None:
    assert Learned().scores(["smoke"]) == []


def test_the_shipped_table_belongs_to_the_examples_as_they_stand() -> None:
    done = subprocess.run([sys.executable, "scripts/learn.py", "--check"], cwd=TOP, capture_output=True, text=True, check=False)  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_shipped_table_knows_six_dangers_and_only_checks_that_are_there() -> None:
    table = read_learned(corpus_folder())
    assert len([label for label in table.labels if label.startswith("danger: ")]) == 6
    names = {label.split("=")[0] for label in table.labels if "=" in label}
    assert {file.stem.replace("-", "_") for file in (TOP / "corpus" / "checks").glob("*.md")} >= names

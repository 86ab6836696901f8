"""Search: the page wanted comes first, user text is never a query language, direction and "not" are kept."""

from pathlib import Path

import pytest

from bot.find.index import words_of
from bot.find.search import Search
from bot.talk.knowledge import Knowledge

ROWS = [
    line.rsplit(" : ", 1)[0].split(" -> ")
    for line in (Path(__file__).parent / "ranking.txt").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
]


@pytest.mark.parametrize(("words", "wanted"), ROWS)
def test_wanted_page_comes_first(words: str, wanted: str, search: Search) -> None:
    hits = [h.id for h in search.hits(words, 5)]
    assert hits[0] in wanted.split(" | "), hits


def test_every_page_is_found_by_its_own_title(knowledge: Knowledge, search: Search) -> None:
    missed = [p.id for p in knowledge.pages.values() if p.id not in [h.id for h in search.hits(p.title, 3)]]
    assert len(missed) <= len(knowledge.pages) * 0.02, missed


def test_analyzer_keeps_not_and_directions() -> None:
    kept = words_of("the leg will not go down")
    assert kept[0] == "leg"
    assert kept[-3:] == ["not", "go", "down"]


@pytest.mark.parametrize(
    "hostile", ["NOT leg", "leg*", "id:secret", "[a TO b]", '"', "(", "leg^9", "a OR", "\x00", "~"]
)
def test_query_words_of_other_languages_are_only_words(hostile: str, search: Search) -> None:
    plain = "".join(c if c.isalnum() else " " for c in hostile)
    assert [h.id for h in search.hits(hostile, 5)] == [h.id for h in search.hits(plain, 5)]


def test_each_hit_names_the_words_that_found_it(search: Search) -> None:
    for hit in search.hits("grease the gearbox", 5):
        assert hit.matched
        assert hit.sentence


def test_misspelt_word_finds_the_same_page(search: Search) -> None:
    assert (
        search.hits("batery termnals corroded", 1)[0].id == search.hits("battery terminals corroded", 1)[0].id
    )


def test_words_that_no_page_holds_find_nothing(search: Search) -> None:
    assert search.hits("zzqx", 5) == []

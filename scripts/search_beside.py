"""Our search beside SQLite FTS5 on the same pages and the same queries: pages found right, and time.

    python scripts/search_beside.py [SETS]      sets of tests/lines, "de" where none are named
    python scripts/search_beside.py --pages 10000

FTS5 gets the same fields (title, called, asked, head, body) with the same weights through its own bm25(), its own
porter stemmer, and the words of the query joined by OR. It has no spelling repair and no words that mean the same, so
its row says what those are worth as well as what the index is worth. With --pages, invented pages without the shipped
ones are made and only time is told: the query is typed letter by letter, as on the screen.
"""

from __future__ import annotations

import argparse
import json
import re
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Iterable
from pathlib import Path

TOP = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TOP))

from bot.assemble import _document, _typed, assemble  # noqa: E402
from bot.corpus.place import corpus_folder  # noqa: E402
from bot.find.index import _BOOST, FIELDS, Index, build, words_of  # noqa: E402

Find = Callable[[str], list[str]]


def fts5(documents: Iterable[dict[str, str]]) -> Find:
    """A search over those documents in FTS5."""
    base = sqlite3.connect(":memory:")
    base.execute(
        f"create virtual table pages using fts5(id unindexed, {', '.join(FIELDS)}, tokenize='porter unicode61')"
    )
    base.executemany(
        f"insert into pages values ({', '.join('?' * (len(FIELDS) + 1))})",
        ([d["id"], *(d.get(f, "") for f in FIELDS)] for d in documents),
    )
    weights = ", ".join(["0", *(str(_BOOST[f]) for f in FIELDS)])

    def find(text: str) -> list[str]:
        words = [w for w in re.findall(r"\w+", text.lower()) if words_of(w)]
        if not words:
            return []
        query = " OR ".join(f'"{w}"' for w in words)
        rows = base.execute(
            f"select id from pages where pages match ? order by bm25(pages, {weights}) limit 8", (query,)
        )
        return [id_ for (id_,) in rows]

    return find


def shares(find: Find, queries: list[tuple[str, list[str]]]) -> str:
    """How many queries find their page first and among three, and how long each takes."""
    times, first, third = [], 0, 0
    for text, want in queries:
        began = time.perf_counter()
        ids = find(text)
        times.append((time.perf_counter() - began) * 1000)
        first += bool(ids) and ids[0] in want
        third += bool(set(ids[:3]) & set(want))
    return f"first {first / len(queries):6.1%}  in three {third / len(queries):6.1%}  {spread(times)}"


def spread(times: list[float]) -> str:
    """Median and 95th percentile [ms]."""
    times = sorted(times)
    return f"median {times[len(times) // 2]:6.2f} ms  95th {times[int(0.95 * len(times))]:6.2f} ms"


def letter_by_letter(find: Find, words: Iterable[str]) -> str:
    """Time of a search at every letter typed."""
    times = []
    for text in words:
        for end in range(2, len(text) + 1):
            began = time.perf_counter()
            find(text[:end])
            times.append((time.perf_counter() - began) * 1000)
    return spread(times)


def many(count: int) -> list[dict[str, str]]:
    """Invented pages."""
    sides = ("left", "right", "front", "upper", "lower")
    return [
        {
            "id": f"note-{n}", "title": f"Note {n} on the {sides[n % 5]} leg", "called": "", "asked": "", "head": "",
            "body": f"The {sides[n % 5]} leg of trailer {n} wants grease {n % 37} times. Look at bolt {n % 101}, pin {n % 13}.",
        }
        for n in range(count)
    ]  # fmt: skip


def main() -> None:
    """Prints the table."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("sets", nargs="?", default="de")
    parser.add_argument("--pages", type=int, default=0)
    options = parser.parse_args()
    if options.pages:
        made = many(options.pages)
        typed = ("grease the left leg", "bolt 45", "pin", "trailer 77", "motor clicks")
        with tempfile.TemporaryDirectory() as folder:
            build(Path(folder) / "index", made)
            index = Index(Path(folder) / "index")
            print(
                f"ours   {letter_by_letter(lambda t: [i for i, _ in index.search([(s, 1.0) for s in words_of(t)], 8)], typed)}"
            )
        print(f"FTS5   {letter_by_letter(fts5(made), typed)}")
        return
    _, search = assemble()
    asked = _typed(corpus_folder())
    other = fts5(_document(page, asked) for page in search.pages.values())
    for name in options.sets:
        file = TOP / "tests" / "lines" / f"searches_{name}.jsonl"
        rows = [json.loads(line) for line in file.read_text(encoding="utf-8").splitlines()]
        queries = [(row["query"], row["want"]) for row in rows]
        search.hits(queries[0][0])
        print(f"set {name}: {len(queries)} queries")
        print(f"  ours   {shares(lambda t: [h.id for h in search.hits(t, 8)], queries)}")
        print(f"  FTS5   {shares(other, queries)}")


if __name__ == "__main__":
    main()

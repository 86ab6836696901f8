"""How well lines are read that nobody tuned on: findings, readings, danger, scope.

    .venv/bin/python scripts/score_lines.py c [--show] [--typos 0.1]

The sets lie in tests/lines; they were written apart from corpus/words. `--typos` swaps, drops or doubles a letter in
that share of the longer words, by a fixed rule, and the figures may fall by at most a tenth.
"""

import argparse
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

TOP = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TOP))

from bot.assemble import assemble  # noqa: E402
from bot.talk.understand import Meaning, understand  # noqa: E402

LINES = TOP / "tests" / "lines"


def rows(name: str, part: str) -> Iterator[dict[str, Any]]:
    """The rows of a set: half a or b of the first files, or a file of its own (c)."""
    own = LINES / f"{name}_{part}.jsonl"
    file = own if own.exists() else LINES / f"{name}.jsonl"
    if not file.exists():
        return
    for line in file.read_text(encoding="utf-8").splitlines():
        row = json.loads(line)
        if file == own or row.get("half") == part:
            yield row


def spoilt(text: str, share: float) -> str:
    """The text with slips of the finger in that share of its longer words, the same every time."""
    words = text.split(" ")
    for i, word in enumerate(words):
        if share and len(word) > 4 and word.isalpha() and (i * 7919 + len(text) * 31) % 1000 < share * 1000:
            at = 1 + (i * 31 + len(text)) % (len(word) - 2)
            kind = (i + len(word)) % 3
            swapped = word[:at] + word[at + 1] + word[at] + word[at + 2 :]
            words[i] = (swapped, word[:at] + word[at + 1 :], word[:at] + word[at] + word[at:])[kind]
    return " ".join(words)


def main() -> None:
    """Prints the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("part", choices=tuple("abcdefghijklmno"))
    parser.add_argument("--show", action="store_true")
    parser.add_argument("--typos", type=float, default=0.0)
    options = parser.parse_args()
    knowledge, search = assemble()
    checks = knowledge.checks

    def read(text: str) -> Meaning:
        return understand(spoilt(text, options.typos), None, knowledge.reader)

    def told(what: str, line: str) -> None:
        if options.show:
            print(f"{what}  |  {line}")

    found = missed = wrong = invented = 0
    for row in rows("findings", options.part):
        meaning = read(row["line"])
        for name, want in row["want"].items():
            if name not in checks or checks[name].kind == "quantity":
                continue
            word = {True: "yes", False: "no"}.get(want, want) if isinstance(want, bool) else want
            got = meaning.findings.get(name, ("", ""))[0]
            found += got == word
            missed += not got
            wrong += bool(got) and got != word
            if got != word:
                told(f"finding {name} wanted {word} got {got or 'nothing'}", row["line"])
        for name in meaning.findings:
            if name in row["never"]:
                invented += 1
                told(f"invented {name}", row["line"])
    slots = found + missed + wrong
    print(f"findings   right {found} of {slots}, missing {missed}, wrong {wrong}, invented {invented}")
    right = total = 0
    for row in rows("quantities", options.part):
        values = {t.finding: t.value for t in read(row["line"]).readings}
        for name, want in row["want"].items():
            total += 1
            good = name in values and abs(values[name] - want) <= 0.005 * max(1.0, abs(want))
            right += good
            if not good:
                told(f"reading {name} wanted {want} got {values.get(name)}", row["line"])
    print(f"readings   right {right} of {total}")

    def danger(name: str, wanted: str) -> str:
        """How many lines of that file raise an emergency and how many are asked back; `wanted` is either."""
        counts = {"raised": 0, "asked back": 0, "passed over": 0}
        for row in rows(name, options.part):
            meaning = read(row["line"])
            did = "raised" if meaning.dangers else "asked back" if meaning.doubtful else "passed over"
            counts[did] += 1
            if did != wanted:
                told(f"{name}: {did}", row["line"])
        return f"{counts['raised']} raised, {counts['asked back']} asked back, of {sum(counts.values())}"

    print(f"danger     {danger('emergencies', 'raised')}; near misses {danger('near_misses', 'passed over')}")
    scope = 0
    lines = list(rows("offtopic", options.part))
    for row in lines:
        good = bool(read(row["line"]).outside) == (row["alert"] == "out_of_scope")
        scope += good
        if not good:
            told(f"scope wanted {row['alert']}", row["line"])
    print(f"scope      right {scope} of {len(lines)}")
    first = third = 0
    queries = list(rows("searches", options.part))
    for row in queries:
        ids = [hit.id for hit in search.hits(spoilt(row["query"], options.typos), 3)]
        first += bool(ids) and ids[0] in row["want"]
        third += bool(set(ids) & set(row["want"]))
        if not ids or ids[0] not in row["want"]:
            told(f"search wanted {', '.join(row['want'])} got {', '.join(ids)}", row["query"])
    if queries:
        print(f"search     first {first} of {len(queries)}, in three {third}")


if __name__ == "__main__":
    main()

"""Learns the weights of words from corpus/examples and writes them beside the corpus.

    python scripts/learn.py                 learns and writes corpus/examples/learned.bin
    python scripts/learn.py --check         says whether the file belongs to the examples as they stand; exit 1 if not
    python scripts/learn.py --folds 4       learns on parts and scores on what was left out; writes nothing

Wants scikit-learn (`pip install '.[learn]'`); the program itself does not. Examples: `label<TAB>line`, labels in
dangers*.txt a kind of danger or none, in findings*.txt `finding=value` (several joined by `;`) or `-`. Lines under
tests/ are never learned from. One logistic regression a label (L2, liblinear), the weights rounded to 127 steps;
repeatable: the same examples give the same bytes on the same version of the library.
"""

from __future__ import annotations

import argparse
import gzip
import hashlib
import inspect
import json
import multiprocessing
import random  # noqa: TID251 - seeded: the same draws in every run
import sys
import time
from array import array
from collections import Counter
from pathlib import Path
from typing import Any
from zlib import crc32

TOP = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(TOP))

from bot.assemble import assemble, cache_folder  # noqa: E402
from bot.corpus import alarm, learned  # noqa: E402
from bot.corpus.learned import FILE, PATTERN, Classes, features, flags, packed, words_of  # noqa: E402
from bot.corpus.patterns import tokens  # noqa: E402
from bot.corpus.place import corpus_folder  # noqa: E402
from bot.corpus.reader import read_corpus  # noqa: E402
from bot.talk.understand import Meaning, understand  # noqa: E402

EXAMPLES = TOP / "corpus" / "examples"
NONE = "none"
LEAST_LINES = 2  # a feature of one line alone says nothing about the next line
SMALLEST = 6  # of 127: smaller weights are left out
STRENGTH = {
    "danger": 30.0,
    "nothing": 20.0,
    "kind": 10.0,
    "finding": 20.0,
}  # inverse of the penalty on weights
DRAWN_NEGATIVES = 4000  # lines of other findings that one finding is held against

#: Modules of bot/talk whose change may change what the patterns hear.
_HEARD_BY = ("understand", "supposed", "readings", "amps", "weights", "lengths", "spots", "volts", "ways")

Row = dict[str, Any]


def fingerprint() -> str:
    """SHA-256 over the example files, the word classes, and the shape of the features."""
    mark = hashlib.sha256()
    for file in sorted(f for f in EXAMPLES.glob("*.txt") if f.name != "searches.txt"):
        mark.update(file.name.encode() + b"\0" + file.read_bytes())
    for part in (words_of, features, flags, alarm.pairs, alarm.pieces, alarm.signs, alarm.shares):
        mark.update(inspect.getsource(part).encode())
    mark.update(f"{learned.FEWEST} {PATTERN} {learned.REACH}".encode())
    mark.update(f"{alarm.BITS} {alarm.PATTERN} {alarm.KINDS} {alarm.PIECES}".encode())
    return mark.hexdigest()


def _lines(pattern: str) -> list[tuple[str, str]]:
    found = []
    for file in sorted(EXAMPLES.glob(pattern)):
        for number, text in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
            label, tab, line = text.partition("\t")
            if text and not tab:
                raise SystemExit(f"{file.name}, line {number}: no tab between label and line.")
            if text:
                found.append((label.strip(), line.strip()))
    return found


def _classes(groups: dict[str, tuple[str, ...]]) -> Classes:
    """Classes of each word: those of word-classes.txt, and the groups of corpus/words that list it alone."""
    found: dict[str, list[str]] = {}
    for word, names in ((w, n) for w, n in (t.split("\t") for t in (EXAMPLES / "word-classes.txt").read_text("utf-8").splitlines())):  # fmt: skip
        found.setdefault(word, []).extend(names.split())
    for name, entries in groups.items():
        for entry in entries:
            word = entry.lstrip("=")
            if word.isalpha() and name != "common words":
                found.setdefault(word, []).append("_" + name.replace(" ", "_"))
    return {w: tuple(dict.fromkeys(k)) for w, k in sorted(found.items())}


_READER: list[Any] = []  # of this process


def _begin() -> None:
    reader = assemble()[0].reader
    _READER[:] = [type(reader)(reader.lexicon, reader.checks, reader.respell)]


def _heard(text: str) -> tuple[str, list[str], list[str]]:
    """The line, its words as they are spelt right, and what the patterns alone make of it."""
    (bare,) = _READER
    return text, words_of([t.text for t in tokens(bare.respell(text))]), matched(understand(text, None, bare))


def _read(rows: list[Row]) -> None:
    """Adds to each row what the patterns make of it; kept between runs, because it takes minutes."""
    assemble()  # so that the processes find the prepared corpus
    mark = hashlib.sha256()  # what reading a line leans on; other pages and modules may change
    talk = (TOP / "bot" / "talk" / f"{name}.py" for name in _HEARD_BY)
    folders = (
        ("corpus/words", "*.md"),
        ("corpus/checks", "*.md"),
        ("bot/units", "*.py"),
        ("bot/corpus", "pat*.py"),
    )
    for file in (*talk, *(f for folder, shape in folders for f in sorted((TOP / folder).glob(shape)))):
        mark.update(file.read_bytes())
    store = cache_folder() / f"learn-{mark.hexdigest()[:16]}.json"
    try:
        kept = json.loads(store.read_text())
    except (OSError, ValueError):
        kept = {}
    new = sorted({row["text"] for row in rows} - kept.keys())
    if new:
        with multiprocessing.Pool(initializer=_begin) as pool:
            for text, words, found in pool.imap(_heard, new, chunksize=200):
                kept[text] = [words, found]
    for row in rows:
        row["words"], row["flags"] = kept[row["text"]]
    store.parent.mkdir(parents=True, exist_ok=True)
    store.write_text(json.dumps(kept))


def matched(meaning: Meaning) -> list[str]:
    """The features that stand for what the patterns found."""
    values = {name: value for name, (value, _) in meaning.findings.items()}
    return flags(meaning.dangers, values, meaning.outside, len(meaning.readings))


def _kind(label: str) -> str:
    return "person under it" if label == "person_under" else label.replace("_", " ")


def _told(label: str) -> dict[str, str] | None:
    """The findings of a label; None for "?", where nobody said all of them."""
    if label == "?":
        return None
    return {} if label == "-" else dict(one.strip().split("=") for one in label.split(";"))  # type: ignore[misc]


def examples() -> list[Row]:
    """Every example: text, danger (kind or none), findings told (None where nobody said)."""
    rows: list[Row] = [
        {"text": line, "danger": _kind(label), "told": None} for label, line in _lines("dangers*.txt")
    ]
    for label, line in _lines("findings*.txt"):
        rows.append({"text": line, "danger": NONE, "told": _told(label)})
    for label, rest in _lines("long*.txt"):
        told, _, line = rest.partition("\t")
        rows.append({"text": line, "danger": _kind(label), "told": _told(told)})
    for rule in read_corpus(corpus_folder())[0].words:
        kind, _, value = rule.meaning.partition(": ")
        own = [*rule.examples, *rule.counter_examples]
        if kind == "danger":
            own = list(rule.examples)
            rows += [{"text": line, "danger": value, "told": None} for line in rule.examples]
            rows += [{"text": line, "danger": NONE, "told": None} for line in rule.counter_examples]
        elif kind in ("intent", "outside", "sum", "folk", "condition"):
            rows += [{"text": line, "danger": NONE, "told": None} for line in own]
        elif kind not in ("group", "place", "state", "input", "pick", "doubt"):
            rows += [{"text": line, "danger": NONE, "told": {kind: value}} for line in rule.examples]
            rows += [{"text": line, "danger": NONE, "told": None} for line in rule.counter_examples]
    seen: set[str] = set()
    return [r for r in rows if not (r["text"].lower() in seen or seen.add(r["text"].lower()))]  # type: ignore[func-returns-value]


class Space:
    """Features as columns: those that at least LEAST_LINES lines have."""

    def __init__(self, rows: list[Row], classes: Classes) -> None:
        self.classes = classes
        counted = Counter(f for r in rows for f in self.of(r))
        self.column = {f: i for i, f in enumerate(sorted(f for f, n in counted.items() if n >= LEAST_LINES))}

    def of(self, row: Row) -> set[str]:
        """The word features of a row, made once."""
        if "features" not in row:
            row["features"] = {name for name, _ in features(row["words"], self.classes)}
        return row["features"]  # type: ignore[no-any-return]

    def matrix(self, rows: list[Row]) -> Any:
        """Rows x columns, scaled as `Learned.scores` scales them."""
        import numpy as np
        from scipy.sparse import csr_matrix

        data, column, start = [], [], [0]
        for row in rows:
            seen = self.of(row)
            share = 1 / max(learned.FEWEST, len(seen)) ** 0.5
            for names, value in ((seen, share), (row["flags"], PATTERN)):
                for name in names:
                    if name in self.column:
                        data.append(value)
                        column.append(self.column[name])
            start.append(len(data))
        return csr_matrix(
            (np.array(data), np.array(column), np.array(start)), shape=(len(rows), len(self.column))
        )


def signed(rows: list[Row], classes: Classes) -> Any:
    """Rows x places of the table of signs, scaled as `Alarm.score` scales them."""
    import numpy as np
    from scipy.sparse import csr_matrix

    data, column, start = array("d"), array("l"), array("l", [0])
    for row in rows:
        if "features" not in row:
            row["features"] = {name for name, _ in features(row["words"], classes)}
        kinds = alarm.signs(row["words"], row["features"], classes)
        for share, names in (*zip(alarm.shares(kinds), kinds, strict=True), (alarm.PATTERN, row["flags"])):
            data.extend(share for _ in names)
            column.extend(alarm.place(name) for name in names)
        start.append(len(data))
    matrix = csr_matrix(
        (np.array(data), np.array(column), np.array(start)), shape=(len(rows), 1 << alarm.BITS)
    )
    matrix.sum_duplicates()
    return matrix


def fit_alarm(rows: list[Row], classes: Classes) -> alarm.Alarm:
    """The table of signs learned from the rows."""
    import numpy as np
    from sklearn.linear_model import LogisticRegression

    truth = np.array([r["danger"] != NONE for r in rows])
    model = LogisticRegression(C=STRENGTH["danger"], solver="liblinear", dual=True, max_iter=100, tol=0.02,
                               random_state=7, class_weight="balanced")  # fmt: skip
    model.fit(signed(rows, classes), truth)
    step = float(np.abs(model.coef_[0]).max()) / 127 or 1.0
    weight = array("b", np.rint(model.coef_[0] / step).astype(np.int8).tobytes())
    return alarm.Alarm(float(model.intercept_[0]), step, weight)


def fit(
    rows: list[Row], classes: Classes, say: bool = True
) -> tuple[list[str], list[float], list[float], dict[int, list[tuple[int, int]]]]:
    """Labels, biases, scales and the table of weights learned from the rows."""
    import numpy as np
    from sklearn.linear_model import LogisticRegression

    space = Space(rows, classes)
    whole = space.matrix(rows)
    names = list(space.column)
    told = {f"{n}={v}" for r in rows if r["told"] for n, v in r["told"].items()}
    kinds = sorted({r["danger"] for r in rows} - {NONE})
    labels = ["danger", "nothing told", *(f"danger: {k}" for k in kinds), *sorted(told)]
    bias, scale, table = [], [], {}
    draw = random.Random(7)
    began = time.time()
    for number, label in enumerate(labels):
        if label == "danger":  # judged by the table of signs
            bias.append(0.0)
            scale.append(1.0)
            continue
        if label == "nothing told":
            use = np.array([i for i, r in enumerate(rows) if r["told"] is not None and r["danger"] == NONE])
            truth = np.array([not rows[i]["told"] for i in use])
            weight, strength = None, STRENGTH["nothing"]
        elif label.startswith("danger: "):
            use = np.array([i for i, r in enumerate(rows) if r["danger"] != NONE])
            truth = np.array([rows[i]["danger"] == label[8:] for i in use])
            weight, strength = None, STRENGTH["kind"]
        else:
            name, value = label.split("=")
            near = [
                i
                for i, r in enumerate(rows)
                if r["told"] is not None and (name in r["told"] or not r["told"])
            ]
            far = [
                i
                for i, r in enumerate(rows)
                if r["danger"] == NONE and r["told"] is None or r["told"] and name not in r["told"]
            ]
            use = np.array(sorted(near + draw.sample(far, min(len(far), DRAWN_NEGATIVES))))
            truth = np.array([(rows[i]["told"] or {}).get(name) == value for i in use])
            share = (len(truth) - truth.sum()) / max(1, truth.sum())
            weight, strength = {True: min(6.0, share**0.5), False: 1.0}, STRENGTH["finding"]
        model = LogisticRegression(C=strength, solver="liblinear", dual=True, max_iter=200, tol=0.01, random_state=7,
                                   class_weight=weight or "balanced")  # fmt: skip
        model.fit(whole[use], truth)
        row = model.coef_[0]
        step = float(np.abs(row).max()) / 127 or 1.0
        rounded = np.rint(row / step).astype(int)
        for at in np.flatnonzero(np.abs(rounded) >= SMALLEST):
            table.setdefault(crc32(names[at].encode()), []).append((number, int(rounded[at])))
        bias.append(float(model.intercept_[0]))
        scale.append(step)
        if say and number % 20 == 0:
            print(f"{number + 1} of {len(labels)} labels, {time.time() - began:.0f} s", flush=True)
    return labels, bias, scale, table


Tried = list[tuple[Row, list[float], tuple[str, ...]]]


def learn(rows: list[Row], classes: Classes, say: bool = True) -> bytes:
    """The file for those rows."""
    labels, bias, scale, table = fit(rows, classes, say)
    return packed(labels, bias, scale, classes, fingerprint(), table, fit_alarm(rows, classes))


def main() -> int:
    """Learns, checks or scores."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--check", action="store_true")
    parser.add_argument("--folds", type=int, default=0)
    options = parser.parse_args()
    file = TOP / "corpus" / FILE
    if options.check:
        same = learned.read_learned(TOP / "corpus").examples == fingerprint()
        print(
            "learned.bin belongs to these examples."
            if same
            else "The examples changed: run scripts/learn.py."
        )
        return 0 if same else 1
    rows = examples()
    _read(rows)
    knowledge, _ = assemble()
    classes = _classes(dict(knowledge.reader.lexicon.groups))
    if options.folds:
        return _folds(rows, classes, options.folds)
    raw = learn(rows, classes)
    file.write_bytes(raw)
    print(
        f"{len(rows)} examples, {len(raw) / 1024:.0f} KiB ({len(gzip.compress(raw)) / 1024:.0f} packed) in {file.name}"
    )
    return 0


def _folds(rows: list[Row], classes: Classes, folds: int) -> int:
    """Prints what is heard of rows that were left out while learning."""
    order = list(range(len(rows)))
    random.Random(3).shuffle(order)
    tried: list[tuple[Row, list[float], tuple[str, ...]]] = []
    for fold in range(folds):
        out = {i for n, i in enumerate(order) if n % folds == fold}
        table = learned.parsed(learn([r for i, r in enumerate(rows) if i not in out], classes, say=False))
        tried += [(rows[i], table.scores(rows[i]["words"], rows[i]["flags"]), table.labels) for i in out]
        print(f"fold {fold + 1} done", flush=True)
    for bar in (-1.0, -0.5, 0.0, 0.5, 1.0, 1.5, 2.0):
        hits = [s[0] > bar for r, s, _ in tried if r["danger"] != NONE]
        false = [s[0] > bar for r, s, _ in tried if r["danger"] == NONE]
        right = wrong = wanted = invented = 0
        for row, scores, labels in tried:
            if row["told"] is None:
                continue
            got = {}
            for at in sorted(range(len(labels)), key=lambda i: scores[i]):
                if "=" in labels[at] and scores[at] > bar:
                    name, value = labels[at].split("=")
                    got[name] = value
            wanted += len(row["told"])
            right += sum(got.get(n) == v for n, v in row["told"].items())
            wrong += sum(n in got and got[n] != v for n, v in row["told"].items())
            invented += sum(n not in row["told"] for n in got)
        print(f"bar {bar:4.1f}: dangers found {sum(hits) / len(hits):.1%}, raised falsely {sum(false) / len(false):.1%}; "
              f"findings right {right / wanted:.1%}, wrong {wrong / wanted:.1%}, invented {invented / wanted:.1%}")  # fmt: skip
    return 0


if __name__ == "__main__":
    sys.exit(main())

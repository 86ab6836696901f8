"""The words of the command line: which shell, which answer. Standard output carries the answer alone."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bot.corpus.place import Wanted

DONE, REFUSED, WRONG_WORDS = 0, 1, 2

HELP = """legline: troubleshooting for the front legs of fifth-wheel trailers, offline.

  legline                       the chat on the screen (or plain lines where there is no screen)
  legline talk [--json] [--for owner|phone|tech] [--units us|metric] [--no-record] [--no-drawings]
                                the same as plain lines, or one JSON object a line
  legline ask "TEXT" [--json]   one answer to one complaint
  legline find WORDS… [--json]  pages, best first, each with its reason
  legline read ID               one page, with the stops the program derives
  legline sum [NAME …]          one calculation with its working; without a name: the list
  legline case [list | show N | resume N | order N | export N [--json] | delete N]
  legline parts FILE [--case N] a parts list of your own (CSV), checked, and held against what a case measured
  legline corpus check [DIR]    every fault in the hand-written pages, with file, line and mend
  legline corpus tree [GROUP]   the likely ways a conversation goes, one symptom group a page, to proof-read

  Every command takes --corpus DIR for pages of your own laid over the shipped ones (or LEGLINE_CORPUS=DIR in
  the environment), --corpus-alone DIR for a whole corpus used by itself, and --help.
  Example:  legline ask "legs wont come up, it just clicks"
"""

_HELP = {
    "talk": "legline talk: the conversation as plain lines. Example:  legline talk --for phone\n  --json  one JSON object a line   --for owner|phone|tech   --units us|metric   --no-record  keep nothing on disk   --no-drawings  for a screen reader: sums in words alone",
    "ask": 'legline ask "TEXT" [--json]: one answer, then exit. Example:  legline ask "left leg wont go down"',
    "find": "legline find WORDS… [--json]: pages, best first. Example:  legline find sync legs",
    "read": "legline read ID: one page. Example:  legline read clean-the-ground",
    "case": "legline case [list | show N | resume N | order N | export N [--json] | delete N]. Example:  legline case export 12\n  order N [--part leg] [--json]  what to measure for the part, what the case knows of it, what is missing",
    "parts": "legline parts FILE [--case N] [--part KIND] [--units us|metric] [--json]: a parts list in CSV. Example:  legline parts mine.csv --case 12\n  columns: part, kind, outer tube, inner tube, stroke, rating, mounting, shaft, notes; a line with # above them is a remark",
    "corpus": "legline corpus check [DIR]: every fault in the pages. Example:  legline corpus check --corpus mine\n  --corpus DIR  DIR laid over the shipped pages: also what it adds, replaces, and what no longer links\n  --corpus-alone DIR  DIR by itself   a bare DIR with pages of every kind is read by itself, any other is laid over\nlegline corpus tree [GROUP]: the likely ways a conversation goes, one symptom group a page. Example:  legline corpus tree one-motor-clicks",
    "serve": "legline serve: the screen in a browser; not in this version.",
}


class Wrong(Exception):
    """The words of the call are wrong; the text says what to type."""


def _take(words: list[str], option: str, choices: tuple[str, ...] = ()) -> str | None:
    """The value of an option, taken out of the words; None where it is not there."""
    for i, word in enumerate(words):
        if word == option or word.startswith(option + "="):
            if "=" in word:
                value = word.partition("=")[2]
                del words[i]
            elif i + 1 < len(words):
                value = words[i + 1]
                del words[i : i + 2]
            else:
                raise Wrong(f"{option} needs a value.")
            if choices and value not in choices:
                raise Wrong(f'{option} is "{value}"; it takes {" or ".join(choices)}.')
            return value
    return None


def _flag(words: list[str], option: str) -> bool:
    if option in words:
        words.remove(option)
        return True
    return False


def main(argv: Sequence[str] | None = None) -> int:
    """Runs one command. Returns the exit status: 0 done, 1 refused, 2 wrong words. No traceback reaches a person."""
    words = list(sys.argv[1:] if argv is None else argv)
    _utf8()
    try:
        return _run(words)
    except Wrong as fault:
        print(f"legline: {fault} See legline --help.", file=sys.stderr)
        return WRONG_WORDS
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except KeyboardInterrupt:
        return DONE
    except Exception as fault:
        from bot.problems import LeglineError

        if isinstance(fault, LeglineError):
            print(f"legline: {fault}", file=sys.stderr)
        else:
            print(
                f"legline: that is our mistake, not yours ({_logged(fault)}). The cases kept so far are safe.",
                file=sys.stderr,
            )
        return REFUSED


def _utf8() -> None:
    for stream in (sys.stdout, sys.stderr, sys.stdin):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")


def _logged(fault: Exception) -> str:
    """Writes the trace to a file in the data folder and says where."""
    import traceback

    try:
        from bot.shells.records import data_folder

        place = data_folder() / "faults.log"
        place.parent.mkdir(parents=True, exist_ok=True)
        with open(place, "a", encoding="utf-8") as file:  # noqa: PTH123 -- the last resort keeps it simple
            traceback.print_exception(fault, file=file)
        return f"written to {place}"
    except OSError:
        return type(fault).__name__


def _run(words: list[str]) -> int:
    if words and words[0] in ("-h", "--help", "help"):
        print(HELP)
        return DONE
    if words and words[0] in ("-V", "--version"):
        from bot import __version__

        print(f"legline {__version__}")
        return DONE
    name = words.pop(0) if words and not words[0].startswith("-") else ""
    if name == "sum":
        from bot.shells.sum_command import run as run_sum

        return run_sum(words)
    if name in _HELP and ("--help" in words or "-h" in words):
        print(_HELP[name])
        return DONE
    corpus = _wanted(words)
    commands = {
        "": _screen,
        "talk": _talk,
        "ask": _ask,
        "find": _find,
        "read": _read,
        "case": _case,
        "parts": _parts,
        "corpus": _corpus,
        "serve": _serve,
    }
    if name not in commands:
        import difflib

        near = difflib.get_close_matches(name, [*filter(None, commands), "sum"], n=1)
        raise Wrong(f'"{name}" is no command.' + (f" Did you mean {near[0]}?" if near else ""))
    return commands[name](words, corpus)


def _wanted(words: list[str]) -> Wanted | None:
    """The folder of pages the call names, if it names one."""
    own, alone = _take(words, "--corpus"), _take(words, "--corpus-alone")
    for option, value in (("--corpus", own), ("--corpus-alone", alone)):
        if value is not None and not value.strip():
            raise Wrong(f"{option} needs a folder.")
    if own and alone:
        raise Wrong("--corpus and --corpus-alone do not go together.")
    if own is None and alone is None:
        return None
    from bot.corpus.place import Wanted

    return Wanted(own, alone)


def _no_more(words: list[str]) -> None:
    if words:
        raise Wrong(f'"{words[0]}" is not understood here.')


def _screen(words: list[str], corpus: Wanted | None) -> int:
    if not sys.stdin.isatty() or not sys.stdout.isatty() or os.environ.get("TERM") == "dumb":
        return _talk(words, corpus)
    _no_more(words)
    from bot.shells.tui.app import run

    return run(corpus)


def _talk(words: list[str], corpus: Wanted | None, resume: int | None = None) -> int:
    from bot.assemble import assemble
    from bot.shells.plain import talk, talk_json
    from bot.shells.records import Store
    from bot.shells.session import Session

    json_lines, keep = _flag(words, "--json"), not _flag(words, "--no-record")
    wording = _take(words, "--for", ("owner", "phone", "tech")) or "owner"
    units = _take(words, "--units", ("us", "metric")) or "us"
    drawings = "off" if _flag(words, "--no-drawings") else "on"
    _no_more(words)
    knowledge, search = assemble(corpus)
    session = Session(knowledge, Store() if keep else None, wording, units, drawings)
    session.prime()
    if json_lines:
        return talk_json(session, sys.stdin, sys.stdout, search)
    start = list(session.take_up(resume)) if resume is not None else None
    return talk(session, search, sys.stdin, sys.stdout, sys.stdin.isatty(), start)


def _ask(words: list[str], corpus: Wanted | None) -> int:
    from bot.assemble import assemble
    from bot.shells.plain import as_text
    from bot.shells.session import Session

    json_line = _flag(words, "--json")
    if len(words) != 1 or not words[0].strip():
        raise Wrong('ask takes one text in quotes, like: legline ask "it just clicks".')
    knowledge, _ = assemble(corpus)
    session = Session(knowledge, None)
    turned = session.hear(words[0])
    if json_line:
        import json

        from bot.talk.view import as_json

        print(json.dumps(as_json(session.state, turned.replies, knowledge), ensure_ascii=False))
        return DONE
    from bot.talk.view import documents_of

    print(as_text(turned.replies))
    titles = [
        f"{knowledge.pages[i].title} (legline read {i})" for i in documents_of(session.state, knowledge)[:3]
    ]
    if titles:
        print("Pages: " + "; ".join(titles))
    return DONE


def _find(words: list[str], corpus: Wanted | None) -> int:
    from bot.assemble import assemble

    json_line = _flag(words, "--json")
    if not words:
        raise Wrong("find takes words, like: legline find sync legs.")
    _, search = assemble(corpus)
    hits = search.hits(" ".join(words), 8)
    if json_line:
        import json

        print(
            json.dumps(
                [
                    {
                        "id": h.id,
                        "title": h.title,
                        "kind": h.kind,
                        "score": round(h.score, 4),
                        "matched": list(h.matched),
                        "sentence": h.sentence,
                    }
                    for h in hits
                ],
                ensure_ascii=False,
            )
        )
    for i, hit in enumerate(hits if not json_line else [], 1):
        print(f'{i}  {hit.title}   {hit.kind.rstrip("s")}   {hit.id}\n   "{hit.sentence}"')
    if not hits:
        print(f'legline: no page holds any word of "{" ".join(words)}".', file=sys.stderr)
        return REFUSED
    return DONE


def _read(words: list[str], corpus: Wanted | None) -> int:
    from bot.assemble import assemble
    from bot.shells.pages import page_text

    if len(words) != 1:
        raise Wrong("read takes one page id; legline find shows them.")
    knowledge, search = assemble(corpus)
    if words[0] not in knowledge.pages:
        near = [h.id for h in search.hits(words[0].replace("-", " "), 3)]
        print(
            f'legline: there is no page "{words[0]}".' + (f" Near it: {', '.join(near)}." if near else ""),
            file=sys.stderr,
        )
        return REFUSED
    print(page_text(words[0], knowledge))
    return DONE


def _case(words: list[str], corpus: Wanted | None) -> int:
    from bot.shells.records import Store

    what = words.pop(0) if words else "list"
    store = Store()
    if what == "list":
        _no_more(words)
        for row in store.cases():
            print(
                f"{row.number:5d}  {row.standing:6s}  {row.touched}  {row.about[:60]}  waiting for: {row.waiting or '-'}"
            )
        return DONE
    if what not in ("show", "resume", "order", "export", "delete"):
        raise Wrong(f'case takes list, show, resume, order, export or delete, not "{what}".')
    json_line = _flag(words, "--json")
    part = _take(words, "--part") if what == "order" else None
    if len(words) != 1 or not words[0].isdigit():
        raise Wrong(f"case {what} takes the number of a case; legline case list shows them.")
    number = int(words[0])
    if store.row(number) is None:
        print(f"legline: there is no case {number}; legline case list shows them.", file=sys.stderr)
        return REFUSED
    if what == "delete":
        store.delete(number)
        print(f"Case {number} is deleted.")
        return DONE
    if what == "resume":
        return _talk([], corpus, number)
    from bot.assemble import assemble
    from bot.shells.export import record_markdown, record_plain

    knowledge, _ = assemble(corpus)
    events, pages = store.events(number), store.pages(number)
    if what == "order":
        from bot.shells.parts_command import case_order
        from bot.shells.session import replay

        return case_order(number, replay(events, knowledge), knowledge, part, json_line)
    if json_line:
        import json

        print(json.dumps(record_plain(number, events, knowledge, pages), ensure_ascii=False, indent=1))
    else:
        print(record_markdown(number, events, knowledge, pages))
    return DONE


def _parts(words: list[str], corpus: Wanted | None) -> int:
    json_line = _flag(words, "--json")
    named, part = _take(words, "--case"), _take(words, "--part")
    units = _take(words, "--units", ("us", "metric")) or "us"
    if len(words) != 1 or words[0].startswith("--"):
        raise Wrong("parts takes one CSV file, like: legline parts mine.csv.")
    if part is not None and named is None:
        raise Wrong("--part goes with --case N.")
    from bot.assemble import assemble
    from bot.shells.parts_command import parts

    case = None
    if named is not None:
        from bot.shells.records import Store

        store = Store()
        if not named.isdigit() or len(named) > 9:
            raise Wrong("--case takes the number of a case; legline case list shows them.")
        if store.row(int(named)) is None:
            print(f"legline: there is no case {named}; legline case list shows them.", file=sys.stderr)
            return REFUSED
    knowledge, _ = assemble(corpus)
    if named is not None:
        from bot.shells.session import replay

        case = (int(named), replay(store.events(int(named)), knowledge))
    return parts(words[0], knowledge, case, part, json_line, units)


def _corpus(words: list[str], corpus: Wanted | None) -> int:
    if words and words[0] == "tree":
        return _tree(words[1:], corpus)
    if not words or words.pop(0) != "check" or len(words) > 1:
        raise Wrong(
            "corpus takes check and perhaps a folder: legline corpus check [DIR]; or tree: legline corpus tree [GROUP]."
        )
    from bot.assemble import check
    from bot.corpus.place import Wanted, stands_alone

    if words and corpus is None:
        corpus = Wanted(alone=words[0]) if stands_alone(words[0]) else Wanted(own=words[0])
    elif words:
        raise Wrong(f'"{words[0]}" is a folder too many beside --corpus or --corpus-alone.')
    checked = check(corpus)
    unlinked = checked.unlinked()
    if checked.overlay is not None:
        print("\n".join(checked.overlay.lines()))
    for problem in checked.problems:
        print(f"no longer links: {problem}" if problem in unlinked else problem)
    pages = len(checked.corpus.pages())
    if checked.problems:
        print(f"legline: {len(checked.problems)} to mend in {pages} pages.", file=sys.stderr)
        return REFUSED
    print(f"{pages} pages, nothing to mend.")
    return DONE


def _tree(words: list[str], corpus: Wanted | None) -> int:
    from bot.assemble import assemble
    from bot.shells.tree_command import names, pages

    knowledge, _ = assemble(corpus)
    if len(words) > 1 or any(w not in names(knowledge) for w in words):
        raise Wrong(
            "corpus tree takes one symptom group or none. Groups: " + ", ".join(names(knowledge)) + "."
        )
    for page in pages(knowledge, words[0] if words else ""):
        print(page, flush=True)
    return DONE


def _serve(words: list[str], corpus: Wanted | None) -> int:
    host = _take(words, "--host") or "127.0.0.1"
    if host not in ("127.0.0.1", "localhost", "::1"):
        raise Wrong(f'serve listens on this machine only; "{host}" would let others in.')
    print("legline: serve is not in this version; legline talk runs over any remote shell.", file=sys.stderr)
    return REFUSED


if __name__ == "__main__":
    sys.exit(main())

"""The words of the command line: which shell, which answer. Standard output carries the answer alone."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bot.corpus.place import Wanted
    from bot.shells.records import Store

from bot.shells.words import FORMS, SHELLS, UNITS, WORDINGS

DONE, REFUSED, WRONG_WORDS = 0, 1, 2


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
    from bot.shells.streams import harmless_streams

    gc.set_threshold(
        50_000, 20, 20
    )  # what a start makes stays; going over it again and again cost a tenth of it
    words = list(sys.argv[1:] if argv is None else argv)
    _utf8()
    with harmless_streams():
        return _told(words)


def _told(words: list[str]) -> int:
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
        place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        mine = os.open(place, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
        with os.fdopen(mine, "a", encoding="utf-8") as file:
            traceback.print_exception(fault, file=file)
        return f"written to {place}"
    except OSError:
        return type(fault).__name__


def _run(words: list[str]) -> int:
    if words and words[0] in ("-h", "--help", "help"):
        from bot.shells.commands import overview

        print(overview())
        return DONE
    if words and words[0] in ("-V", "--version"):
        from bot import __version__

        print(f"legline {__version__}")
        return DONE
    name = words.pop(0) if words and not words[0].startswith("-") else ""
    if name == "sum":
        from bot.shells.sum_command import run as run_sum

        return run_sum(words)
    if "--help" in words or "-h" in words:
        from bot.shells.commands import command_of, help_of

        told = command_of(name)
        if told is not None:
            print(help_of(told))
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
        "demo": _demo,
        "completion": _completion,
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


def _on_a_screen() -> bool:
    """Whether there is a terminal that can be drawn on; plain lines are for all others, screen readers included."""
    return sys.stdin.isatty() and sys.stdout.isatty() and os.environ.get("TERM", "dumb") not in ("dumb", "")


def _screen(words: list[str], corpus: Wanted | None) -> int:
    if not _on_a_screen():
        return _talk(words, corpus)
    _no_more(words)
    import gc

    gc.disable()  # the screen takes it up again once it is ready: what is made until then stays
    from bot.shells.tui.app import run

    return run(corpus)


def _talk(words: list[str], corpus: Wanted | None, resume: int | None = None) -> int:
    from bot.assemble import assemble
    from bot.shells.plain import talk, talk_json
    from bot.shells.records import Store
    from bot.shells.session import Session

    json_lines, keep = _flag(words, "--json"), not _flag(words, "--no-record")
    wording = _take(words, "--for", WORDINGS) or "owner"
    units = _take(words, "--units", UNITS) or "us"
    drawings = "off" if _flag(words, "--no-drawings") else "on"
    _no_more(words)
    knowledge, search = assemble(corpus)
    store = Store() if keep else None
    session = Session(knowledge, store, wording, units, drawings)
    try:
        if json_lines:
            return talk_json(session, sys.stdin, sys.stdout, search)
        start = list(session.take_up(resume)) if resume is not None else None
        if start is None and sys.stdin.isatty():
            from bot.shells.hint import first_hint

            start = [*session.greet(), *first_hint(session.store)]
        return talk(session, search, sys.stdin, sys.stdout, sys.stdin.isatty(), start)
    finally:
        if store is not None:
            store.close()


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

    store = Store()
    try:
        return _case_of(store, words, corpus)
    finally:
        for note in store.told():
            print(f"legline: {note}", file=sys.stderr)
        store.close()


def _case_of(store: Store, words: list[str], corpus: Wanted | None) -> int:
    what = words.pop(0) if words else "list"
    if what == "list":
        for row in store.cases(words=" ".join(words)):
            print(
                f"{row.number:5d}  {row.standing:6s}  {row.touched}  {row.about[:60]}  waiting for: {row.waiting or '-'}"
            )
        return DONE
    if what in ("check", "backup", "restore"):
        if len(words) != (what != "check"):
            raise Wrong(f"case {what} takes {'nothing more' if what == 'check' else 'the name of one file'}.")
        from bot.shells.store.command import run_whole

        print("\n".join(run_whole(what, words, store)))
        return DONE
    if what not in ("show", "resume", "order", "export", "delete"):
        raise Wrong(
            f'case takes list, show, resume, order, export, delete, check, backup or restore, not "{what}".'
        )
    json_line = _flag(words, "--json")
    part = _take(words, "--part") if what == "order" else None
    form, to, over = "json" if json_line else "md", None, False
    if what == "export":
        form = _take(words, "--as", FORMS) or form
        to, over = _take(words, "--to"), _flag(words, "--over")
    if len(words) != 1 or not words[0].isascii() or not words[0].isdigit() or len(words[0]) > 18:
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
        store.close()
        return _talk([], corpus, number)
    from bot.assemble import assemble
    from bot.shells.export_command import export

    knowledge, _ = assemble(corpus)
    events, pages = store.events(number), store.pages(number)
    if what == "order":
        from bot.shells.parts_command import case_order
        from bot.shells.session import replay

        return case_order(number, replay(events, knowledge), knowledge, part, json_line)
    return export(number, events, knowledge, form, to, over, pages)


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


def _demo(words: list[str], corpus: Wanted | None) -> int:
    plain = _flag(words, "--plain") or not _on_a_screen()
    wording = _take(words, "--for", WORDINGS) or "owner"
    units = _take(words, "--units", UNITS) or "us"
    _no_more(words)
    if not plain:
        from bot.shells.tui.app import run_demo

        return run_demo(corpus, wording, units)
    from bot.assemble import assemble
    from bot.shells.demo import play
    from bot.shells.session import Session

    knowledge, search = assemble(corpus)
    return play(Session(knowledge, None, wording, units), search, sys.stdin, sys.stdout, sys.stdin.isatty())


def _completion(words: list[str], corpus: Wanted | None) -> int:
    if len(words) != 1 or words[0] not in SHELLS:
        raise Wrong(f"completion takes one of {', '.join(SHELLS)}, like: legline completion bash.")
    from bot.assemble import assemble
    from bot.shells.completion import script, words_now

    knowledge, _ = assemble(corpus)
    print(script(words[0], words_now(tuple(knowledge.pages))), end="")
    return DONE


def _serve(words: list[str], corpus: Wanted | None) -> int:
    host = _take(words, "--host") or "127.0.0.1"
    if host not in ("127.0.0.1", "localhost", "::1"):
        raise Wrong(
            f'serve listens on this machine only: "{host}" would let others read and answer your cases. Leave --host out.'
        )
    port = _take(words, "--port") or "8000"
    _no_more(words)
    if not port.isdecimal() or not 1 <= int(port) <= 65535:
        raise Wrong(f'--port is "{port}"; it takes a number from 1 to 65535.')
    try:
        from bot.shells.web.server import serve
    except ImportError:
        print(
            "legline: the screen in a browser needs one package more: pip install textual-serve\n"
            "legline talk runs without it, over any remote shell too.",
            file=sys.stderr,
        )
        return REFUSED
    return serve(host, int(port), corpus)


if __name__ == "__main__":
    sys.exit(main())

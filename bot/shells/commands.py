"""Every command with its options and examples, once: help and completion are made from this list."""

from __future__ import annotations

from bot.frozen import dataclass
from bot.shells.words import FORMS, SHELLS, UNITS, WORDINGS


@dataclass(frozen=True)
class Option:
    """One option: its word, what it does, what its value is called ("" where it takes none), the values it takes."""

    word: str
    does: str
    value: str = ""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Command:
    """One command: name, the words after it, what it does, options, examples that run as they stand.

    `then` are the words that may follow the name; `follows` says what else does: "page", "sum", "folder", "file" or "".
    """

    name: str
    words: str
    does: str
    options: tuple[Option, ...] = ()
    examples: tuple[str, ...] = ()
    then: tuple[str, ...] = ()
    follows: str = ""


_JSON = Option("--json", "the answer as JSON")
_FOR = Option("--for", "how questions are worded", "WHO", WORDINGS)
_UNITS = Option("--units", "which units come first", "UNITS", UNITS)
COMMON = (
    Option("--corpus", "pages of your own, laid over the shipped ones", "DIR"),
    Option("--corpus-alone", "a whole corpus, used by itself", "DIR"),
    Option("--help", "this help"),
)
COMMANDS = (
    Command(
        "",
        "",
        "the chat on the screen; plain lines where there is no screen (TERM=dumb, a pipe)",
        examples=("legline",),
    ),
    Command(
        "talk",
        "",
        "the same conversation as plain lines, for screen readers, slow links and pipes",
        (
            Option("--json", "one JSON object a line"),
            _FOR,
            _UNITS,
            Option("--no-record", "keep nothing on disk"),
            Option("--no-drawings", "sums in words alone, for a screen reader"),
        ),
        ("legline talk --for phone", "legline talk --json --no-record --units metric"),
    ),
    Command(
        "ask",
        '"TEXT"',
        "one answer to one complaint",
        (_JSON,),
        ('legline ask "left leg wont go down"', 'legline ask "it just clicks" --json'),
    ),
    Command(
        "demo",
        "",
        "an invented case played line by line; nothing of it is kept",
        (Option("--plain", "as plain lines, all at once where nobody types"), _FOR, _UNITS),
        ("legline demo --plain",),
    ),
    Command(
        "find",
        "WORDS…",
        "pages, best first, each with its reason",
        (_JSON,),
        ("legline find sync legs", "legline find torque mounting bolts --json"),
    ),
    Command(
        "read",
        "ID",
        "one page, with the stops that the program derives",
        (),
        ("legline read clean-the-ground",),
        follows="page",
    ),
    Command(
        "sum",
        "[NAME --INPUT VALUE …]",
        "one calculation with its working; without a name: the list",
        (_JSON, Option("--us", "US units first"), Option("--metric", "metric units first")),
        (
            "legline sum",
            'legline sum leg-load --gross "14000 lb" --pin "2800 lb"',
            'legline sum harness --gauge "10 AWG" --length "18 ft" --amps "30 A" --json',
        ),
        follows="sum",
    ),
    Command(
        "case",
        "[list [WORDS] | show N | resume N | order N | export N | delete N | check | backup FILE | restore FILE]",
        "the kept cases, and the record of one as a page to hand over",
        (
            _JSON,
            Option("--part", "order: the sheet of this part, whatever the verdict", "PART"),
            Option("--as", "the form of an export", "FORM", FORMS),
            Option("--to", "the file an export goes to; without it, standard output", "FILE"),
            Option("--over", "write over the file that is there"),
        ),
        (
            "legline case list",
            "legline case show 1",
            "legline case order 1 --part leg",
            "legline case export 1 --as html --to case-1.html",
            "legline case check",
        ),
        ("list", "show", "resume", "order", "export", "delete", "check", "backup", "restore"),
    ),
    Command(
        "parts",
        "FILE",
        "a parts list of your own (CSV), checked, and held against what a case measured",
        (
            _JSON,
            Option("--case", "the case whose readings the parts are held against", "N"),
            Option("--part", "with --case: the kind of part, whatever the verdict", "PART"),
            _UNITS,
        ),
        ("legline parts mine.csv", "legline parts mine.csv --case 1 --part leg"),
        follows="file",
    ),
    Command(
        "corpus",
        "check [DIR] | tree [GROUP]",
        "every fault in the hand-written pages; tree: the likely ways of a conversation, to proof-read",
        (),
        ("legline corpus check", "legline corpus tree one-motor-clicks"),
        ("check", "tree"),
        "folder",
    ),
    Command(
        "serve",
        "",
        "the screen in a browser, on this machine only",
        (
            Option("--host", "127.0.0.1, ::1 or localhost; any other is refused", "HOST"),
            Option("--port", "the port, 8000 where none is given", "PORT"),
        ),
        ("legline serve --port 8123",),
    ),
    Command(
        "completion",
        "bash|zsh|fish",
        "a script that completes these words in your shell",
        (),
        ("legline completion bash", "legline completion zsh", "legline completion fish"),
        SHELLS,
    ),
)


def command_of(name: str) -> Command | None:
    """The command of that name, or None."""
    return next((c for c in COMMANDS if c.name == name), None)


def overview() -> str:
    """All commands, one line each."""
    lines = ["legline: troubleshooting for the front legs of fifth-wheel trailers, offline.", ""]
    for command in COMMANDS:
        called = " ".join(w for w in ("legline", command.name, command.words) if w)
        if len(called) > 29:
            lines += [f"  {called}", f"  {'':29} {command.does}"]
        else:
            lines.append(f"  {called:29} {command.does}")
    lines += [
        "",
        "  legline COMMAND --help says what a command takes, with examples.",
        "  Every command takes --corpus DIR for pages of your own (or LEGLINE_CORPUS=DIR), and --corpus-alone DIR.",
        '  Example:  legline ask "legs wont come up, it just clicks"',
    ]
    return "\n".join(lines)


def help_of(command: Command) -> str:
    """What one command takes, with examples."""
    called = " ".join(w for w in ("legline", command.name, command.words) if w)
    lines = [f"{called}: {command.does}.", ""]
    for option in (*command.options, *COMMON):
        word = f"{option.word} {'|'.join(option.choices) or option.value}".rstrip()
        lines.append(f"  {word:29} {option.does}")
    lines += ["", "Examples:", *(f"  {example}" for example in command.examples)]
    return "\n".join(lines)

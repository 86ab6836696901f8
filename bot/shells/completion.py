"""Completion scripts for bash, zsh and fish, made from the list of commands, the sums and the page names.

A script is fixed text: it starts no program, so a key costs nothing. Make it anew when pages were added.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.frozen import dataclass
from bot.shells.commands import COMMANDS, COMMON, Command


@dataclass(frozen=True)
class Words:
    """What may follow names that the list of commands does not hold: sums with their options, page names."""

    sums: dict[str, tuple[str, ...]]
    pages: tuple[str, ...]


def script(shell: str, words: Words) -> str:
    """The script for that shell: bash, zsh or fish."""
    return {"bash": _bash, "zsh": _zsh, "fish": _fish}[shell](words)


def _after(command: Command, words: Words) -> tuple[str, ...]:
    """The words that may follow the command's name."""
    more = {"page": words.pages, "sum": tuple(words.sums)}.get(command.follows, ())
    return (*command.then, *more)


def _options(command: Command) -> tuple[str, ...]:
    return tuple(o.word for o in (*command.options, *COMMON))


def _valued() -> dict[str, tuple[str, ...]]:
    """Options that take a value -> the values where they are a closed list, else ()."""
    found: dict[str, tuple[str, ...]] = {}
    for command in COMMANDS:
        found.update({o.word: o.choices for o in (*command.options, *COMMON) if o.value})
    return found


def _names() -> tuple[str, ...]:
    return tuple(c.name for c in COMMANDS if c.name)


def _values(indent: str, offer: str, files: str) -> list[str]:
    lines = []
    for word, choices in _valued().items():
        does = offer % " ".join(choices) if choices else files
        lines.append(f"{indent}{word}) {does}; return ;;")
    return lines


def _by_command(words: Words, second: str, offer: str) -> list[str]:
    """The branch of each command: what may follow it, and after the name of a sum that sum's inputs."""
    lines = []
    for command in COMMANDS:
        if not command.name:
            continue
        lines.append(f"        {command.name})")
        if command.follows == "sum":
            lines.append(f'            case "{second}" in')
            for name, options in words.sums.items():
                lines.append(
                    f"                {name}) {offer % ' '.join((*options, *_options(command)))}; return ;;"
                )
            lines.append("            esac")
        lines.append(f"            {offer % ' '.join((*_after(command, words), *_options(command)))} ;;")
    return lines


def _bash(words: Words) -> str:
    lines = [
        "# legline, completion for bash. Put it where your shell reads it:",
        "#   legline completion bash > ~/.local/share/bash-completion/completions/legline",
        "_legline() {",
        '    local cur="${COMP_WORDS[COMP_CWORD]}" prev="${COMP_WORDS[COMP_CWORD-1]}" name="${COMP_WORDS[1]}"',
        "    COMPREPLY=()",
        '    case "$prev" in',
        *_values(
            "        ", 'COMPREPLY=($(compgen -W "%s" -- "$cur"))', 'COMPREPLY=($(compgen -f -- "$cur"))'
        ),
        "    esac",
        '    if [ "$COMP_CWORD" -eq 1 ]; then',
        f'        COMPREPLY=($(compgen -W "{" ".join((*_names(), "--help", "--version"))}" -- "$cur"))',
        "        return",
        "    fi",
        '    case "$name" in',
    ]
    lines += _by_command(words, "${COMP_WORDS[2]}", 'COMPREPLY=($(compgen -W "%s" -- "$cur"))')
    lines += ["    esac", "}", "complete -F _legline legline"]
    return "\n".join(lines) + "\n"


def _zsh(words: Words) -> str:
    lines = [
        "#compdef legline",
        "# legline, completion for zsh. Put it into a folder of your fpath, as _legline.",
        "_legline() {",
        '    local prev="${words[CURRENT-1]}" name="${words[2]}"',
        '    case "$prev" in',
        *_values("        ", "compadd -- %s", "_files"),
        "    esac",
        "    if (( CURRENT == 2 )); then",
        f"        compadd -- {' '.join((*_names(), '--help', '--version'))}",
        "        return",
        "    fi",
        '    case "$name" in',
    ]
    lines += _by_command(words, "${words[3]}", "compadd -- %s")
    lines += [
        "    esac",
        "}",
        '[ "$funcstack[1]" = "_legline" ] && _legline "$@" || compdef _legline legline',
    ]
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


def _fish(words: Words) -> str:
    names = " ".join(_names())
    lines = [
        "# legline, completion for fish. Put it into ~/.config/fish/completions/legline.fish",
        "complete -c legline -f",
    ]
    for command in COMMANDS:
        if command.name:
            lines.append(
                f"complete -c legline -n 'not __fish_seen_subcommand_from {names}' -a {command.name} -d {_quoted(command.does)}"
            )
    for command in COMMANDS:
        if not command.name:
            continue
        seen = f"-n '__fish_seen_subcommand_from {command.name}'"
        after = _after(command, words)
        if after:
            lines.append(
                f"complete -c legline -n '__fish_seen_subcommand_from {command.name}; and not __fish_seen_subcommand_from {' '.join(after)}' -a {_quoted(' '.join(after))}"
            )
        for option in (*command.options, *COMMON):
            value = (
                f" -x -a {_quoted(' '.join(option.choices))}"
                if option.choices
                else " -r -F"
                if option.value
                else ""
            )
            lines.append(
                f"complete -c legline {seen} -l {option.word.removeprefix('--')}{value} -d {_quoted(option.does)}"
            )
        for name, options in words.sums.items() if command.follows == "sum" else ():
            for word in options:
                lines.append(
                    f"complete -c legline -n '__fish_seen_subcommand_from sum; and __fish_seen_subcommand_from {name}' -l {word.removeprefix('--')} -x"
                )
    return "\n".join(lines) + "\n"


def words_now(pages: Sequence[str]) -> Words:
    """The sums of this version and those pages."""
    from bot.sums.catalogue import CATALOGUE

    sums = {name: tuple(f"--{i.option}" for i in one.inputs) for name, one in CATALOGUE.items()}
    return Words(sums, tuple(sorted(pages)))

"""`legline case export N`: the record in the form asked for, to standard output or to the file that was named."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from bot.shells.export import record_in
from bot.shells.files import write_file

if TYPE_CHECKING:
    from bot.talk.events import Event
    from bot.talk.knowledge import Knowledge
    from bot.talk.used import Used


def export(
    number: int,
    events: tuple[Event, ...],
    knowledge: Knowledge,
    form: str,
    to: str | None,
    over: bool,
    pages: tuple[Used, ...] = (),
) -> int:
    """Writes the record. Returns the exit status: 0 done, 1 refused with the reason on standard error."""
    if to is None and form == "pdf" and sys.stdout.isatty():
        print(
            f"legline: a PDF is no text for a terminal. Name a file: --to case-{number}.pdf", file=sys.stderr
        )
        return 1
    content = record_in(form, number, events, knowledge, pages)
    if to is not None:
        write_file(Path(to), content, over)
        print(f"Case {number} is written to {to}.")
        return 0
    binary = getattr(sys.stdout, "buffer", None)
    if binary is not None:
        sys.stdout.flush()
        binary.write(content)
        binary.flush()
    else:
        sys.stdout.write(content.decode("utf-8"))
    return 0

"""An invented case, line by line, to see how a conversation goes. Nobody in it exists; every figure is made up."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TextIO

from bot.find.search import Search
from bot.shells.plain import as_text, served
from bot.shells.session import Session
from bot.talk.phrasing import Line
from bot.talk.state import Stage

INTRO = (
    "Demo. This case is invented: the Harbor Flats campground, its trailer and every figure are made up, and nothing is kept.",
    "Enter sends the line that stands ready; or type your own words at any time. quit leaves.",
)
END = "The demo ends here. Go on in your own words, or say quit. Your own case begins with: legline"


@dataclass(frozen=True)
class Beat:
    """One line of the invented person, and what to watch for in the answer."""

    line: str
    watch: str


BEATS = (
    Beat(
        "front legs wont come up, it just clicks. checkout is at eleven",
        "A complaint goes in as it comes. Watch: what was understood stands before what is asked.",
    ),
    Beat(
        "no truck yet, its standing on the legs. theres a bar from leg to leg",
        "Two facts in one line. The bar means one motor for both legs.",
    ),
    Beat("why", "Any question can be asked back: why, how, don't know, skip, back."),
    Beat(
        "battery says 12.6 at rest",
        "A reading that was not asked for is taken down too, with its unit.",
    ),
    Beat(
        "6.4 at the motor with the button held, 12.2 at the battery with it held",
        "With both ends known a sum works out what is lost, and shows its working.",
    ),
    Beat(
        "4.6 volts on the ground side with it held",
        "Now the ground side is known. Watch: how sure, what is for it, what would change its mind.",
    ),
    Beat("other causes", "The rest is never forgotten."),
    Beat("yes", "The repair, one step at a time."),
    Beat("done", "A step is done when what stands under it is so."),
    Beat("done", "Next comes a stop: it is made from what the step could do to somebody."),
    Beat("next", "A stop takes no other word than a typed yes. Watch it stay shut."),
    Beat("yes", "This one the screen will not type for you: type yes yourself."),
    Beat("what do you know", "Everything taken down, with the words it came from."),
    Beat("record", "The record so far; a real case is exported as Markdown, HTML, PDF or JSON."),
)


class Guide:
    """Which line of the demo stands ready."""

    def __init__(self) -> None:
        self.at = 0

    @property
    def beat(self) -> Beat | None:
        """The line that stands ready, or None at the end."""
        return BEATS[self.at] if self.at < len(BEATS) else None

    def heard(self, text: str) -> None:
        """Moves on where the line that stood ready was sent."""
        if self.beat is not None and text.strip() == self.beat.line:
            self.at += 1

    def notice(self, held: bool) -> str:
        """What stands beside the place to type."""
        beat = self.beat
        if beat is None:
            return END
        lead = f"Demo {self.at + 1} of {len(BEATS)}, invented. {beat.watch}"
        return lead + (f" Type: {beat.line}" if held else "")


def play(session: Session, search: Search, source: TextIO, sink: TextIO, interactive: bool) -> int:
    """The demo as plain lines: an empty line sends the next one; where nobody types, all are sent in turn."""
    guide = Guide()
    sink.write("\n".join(INTRO) + "\n\n" + as_text(session.greet()) + "\n")
    while guide.beat is not None or interactive:
        beat = guide.beat
        text = beat.line if beat is not None else ""
        if interactive:
            held = session.state.stage is Stage.HELD
            ready = f' [Enter sends: "{text}"]' if text and not held else ""
            sink.write(f"({guide.notice(held)})\nYou{ready}: ")
            sink.flush()
            typed = source.readline()
            if typed == "":
                break
            # An empty line never answers a stop.
            text = typed.strip() or ("" if held else text)
            if not text:
                continue
        elif beat is not None:
            sink.write(f"({beat.watch})\nYou: {text}\n")
        guide.heard(text)
        lines, leave = served(session, search, text)
        sink.write(as_text(lines) + "\n")
        if leave:
            break
    if not interactive:
        sink.write(as_text([Line("say", END)]) + "\n")
    sink.flush()
    return 0

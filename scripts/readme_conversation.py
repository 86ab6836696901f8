"""Writes the conversation of the README from the running program, so that it is a real one.

.venv/bin/python scripts/readme_conversation.py          writes it
.venv/bin/python scripts/readme_conversation.py --print  prints the README as it would be
"""

import re
import sys
from pathlib import Path

TOP = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TOP))

from bot.assemble import assemble  # noqa: E402
from bot.shells.plain import as_text  # noqa: E402
from bot.shells.session import Session  # noqa: E402

# An invented caller; every figure is made up.
SAID = (
    "front jacks wont go up just click click. leaving in an hour",
    "backed under it but not hooked. one motor with a bar across",
    "why",
    "dont know",
    "12.5 at the battery at rest, 6.8 at the motor with the button held, 12.1 at the battery with it held",
    "4.4 on the ground side with it held",
    "yes",
)
BEGIN, END = "<!-- conversation, written by scripts/readme_conversation.py -->", "<!-- end -->"


def readme() -> str:
    """The README with its conversation made anew."""
    knowledge, _ = assemble()
    session = Session(knowledge, None)
    lines = [as_text(session.greet(), 96)]
    for text in SAID:
        lines += [f"You: {text}", as_text(session.hear(text).replies, 96)]
    block = "\n".join(f"    {line}".rstrip() for line in "\n".join(lines).split("\n"))
    page = (TOP / "README.md").read_text(encoding="utf-8").replace("@@CONVERSATION@@", f"{BEGIN}\n{END}")
    new = f"{BEGIN}\nThe caller and every figure are invented.\n\n{block}\n{END}"
    return re.sub(re.escape(BEGIN) + r".*?" + re.escape(END), lambda _: new, page, flags=re.S)


if __name__ == "__main__":
    if "--print" in sys.argv:
        print(readme(), end="")
    else:
        (TOP / "README.md").write_text(readme(), encoding="utf-8")

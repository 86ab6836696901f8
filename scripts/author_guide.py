"""Writes the labels and words of the corpus, from the closed lists, into corpus/README.md.

.venv/bin/python scripts/author_guide.py          writes it
.venv/bin/python scripts/author_guide.py --print  prints it
"""

import sys
from pathlib import Path

TOP = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TOP))

from bot.corpus import vocabulary as words  # noqa: E402
from bot.safety.rules import RULES  # noqa: E402


def guide() -> str:
    """The page of labels and words."""
    out = [
        "# What a page may say",
        "",
        "Made by scripts/author_guide.py from the closed lists of the program; change the lists, not this page.",
        "A page is a head of `label: value` lines between two `---`, then `## Section`s. One file, one id: its name.",
        "`legline corpus check` says with file, line and mend what does not fit.",
    ]
    for kind, labels in words.HEADS.items():
        out += ["", f"## {kind}/", ""]
        out += [f"- {label}{'' if needed else ' (may be left out)'}" for label, needed in labels.items()]
        if kind in words.SECTIONS:
            out += ["", "Sections:", ""]
            out += [
                f"- {t}{'' if needed else ' (may be left out)'}" for t, needed in words.SECTIONS[kind].items()
            ]
    out += ["", "## Labels of a step", "", ", ".join(words.STEP_LABELS) + "."]
    out += ["", "## Hazards", "", "| hazard | hold | a step must make it safe | asked |", "|---|---|---|---|"]
    out += [
        f"| {r.hazard} | {r.hold} | {'yes' if r.needs_control else 'no'} | {r.question} |"
        for r in RULES.values()
    ]
    scale = ", ".join(f"{w} ({v:g})" for w, v in words.SCALE.items())
    common = ", ".join(f"{w} ({v:g})" for w, v in words.HOW_COMMON.items())
    out += ["", "## Words", "", f"- chance: {scale}", f"- how common: {common}"]
    for name, known in (
        ("fits", words.GEARS),
        ("link", words.LINKS),
        ("tool", words.TOOLS),
        ("reach", words.REACHES),
        ("button", words.BUTTON),
        ("removes", words.REMOVABLE),
        ("unit of a quantity", words.CHECK_UNITS),
        ("cost of a part", words.PART_COSTS),
        ("circuit", (*words.CIRCUIT_ELEMENTS, "open at", "motor")),
        ("open at", words.CIRCUIT_BREAKS),
        ("motor", words.MOTOR_STATES),
    ):
        out.append(f"- {name}: {', '.join(known)}")
    return "\n".join(out) + "\n"


if __name__ == "__main__":
    if "--print" in sys.argv:
        print(guide())
    else:
        (TOP / "corpus" / "README.md").write_text(guide(), encoding="utf-8")

"""Rules that look over more than one page: names that must exist, answers that must fit, ids that must differ."""

from __future__ import annotations

from bot.corpus.model import Corpus
from bot.corpus.reader import nearest
from bot.problems import Problem


def cross_check(corpus: Corpus) -> list[Problem]:
    """Every place where a page names something that is not there or does not fit."""
    found: list[Problem] = []
    checks = {c.finding: c for c in corpus.checks}
    causes = {c.name: c for c in corpus.causes}
    procedures = {p.id: p for p in corpus.procedures}
    seen: dict[str, str] = {}
    seen_role: dict[str, str] = {}
    for page in corpus.pages():
        if page.id in seen and page.role == seen_role[page.id]:  # across folders: bot.corpus.overlay
            found.append(
                Problem(
                    page.file,
                    1,
                    f'the id "{page.id}" is taken by {seen[page.id]}.',
                    "Rename one of the files.",
                )
            )
        seen[page.id], seen_role[page.id] = page.file, page.role
    for yielding in corpus.checks:
        better = yielding.page.head.get("stands in for", "")
        if better and better not in checks:
            line = yielding.page.head_lines["stands in for"]
            found.append(
                Problem(
                    yielding.page.file,
                    line,
                    f'no check yields the finding "{better}".',
                    nearest(better, tuple(checks)),
                )
            )
    for cause in corpus.causes:
        head, file = cause.page.head_lines, cause.page.file
        if cause.mends not in procedures:
            found.append(
                Problem(
                    file,
                    head["mends"],
                    f'there is no procedure "{cause.mends}".',
                    nearest(cause.mends, tuple(procedures)),
                )
            )
        elif cause.name not in procedures[cause.mends].mends:
            found.append(
                Problem(
                    file,
                    head["mends"],
                    f'the procedure "{cause.mends}" does not say that it mends {cause.name}.',
                    "Add it to its mends.",
                )
            )
        for told in filter(None, (t.strip() for t in cause.page.head.get("told by", "").split(","))):
            if told not in checks:
                found.append(
                    Problem(
                        file,
                        head["told by"],
                        f'no check yields the finding "{told}".',
                        nearest(told, tuple(checks)),
                    )
                )
        named: set[str] = set()
        for said in cause.expect:
            finding, _, gear = said.finding.partition(" ")
            standstill = gear.split(" ")[-1] == "standstill"
            gear = gear.removesuffix("standstill").strip()
            if said.finding in named:
                found.append(
                    Problem(file, said.line, f'"{said.finding}" is expected twice.', "Keep one line.")
                )
            named.add(said.finding)
            check = checks.get(finding)
            if check is None:
                found.append(
                    Problem(
                        file,
                        said.line,
                        f'no check yields the finding "{finding}".',
                        nearest(finding, tuple(checks)),
                    )
                )
                continue
            if standstill and not check.standstill:
                found.append(
                    Problem(
                        file,
                        said.line,
                        f"{finding} is not told apart by whether the motor turns.",
                        "Take out standstill, or give the check its line at a standstill.",
                    )
                )
            if gear and gear not in check.fits:
                found.append(
                    Problem(
                        file,
                        said.line,
                        f'"{gear}" is no gear that {finding} is asked for.',
                        "Gear: " + ", ".join(check.fits) + ".",
                    )
                )
            for answer, _chance in said.chances:
                if check.choices and answer not in check.choices:
                    found.append(
                        Problem(
                            file,
                            said.line,
                            f'"{answer}" is no answer of {finding}.',
                            "Answers: " + ", ".join(check.choices) + ".",
                        )
                    )
                if check.kind == "quantity" and not answer.startswith(("over ", "under ")):
                    found.append(
                        Problem(
                            file,
                            said.line,
                            f'"{answer}" is no part of a quantity.',
                            "Write over X or under X.",
                        )
                    )
    for procedure in corpus.procedures:
        for name in procedure.mends:
            if name not in causes:
                found.append(
                    Problem(
                        procedure.page.file,
                        procedure.page.head_lines["mends"],
                        f'there is no cause "{name}".',
                        nearest(name, tuple(causes)),
                    )
                )
    for name, cause in causes.items():
        for gear in cause.fits:
            if (
                gear != "hydraulic"
                and cause.mends in procedures
                and not any(name in p.mends and gear in p.fits for p in corpus.procedures)
            ):
                found.append(
                    Problem(
                        cause.page.file,
                        cause.page.head_lines["fits"],
                        f"no procedure mends {name} on {gear} gear.",
                        "Add the gear to one that fits, or take it out here.",
                    )
                )
    for check in corpus.checks:
        for title, text in (
            ("Ask the owner", check.ask_owner),
            ("Ask the caller", check.ask_phone),
            ("Ask a tech", check.ask_tech),
        ):
            if not text:
                found.append(Problem(check.page.file, 1, f'"{title}" is empty.', "Word the question."))
        for finding_check in check.page.head.get("follows from", "").split(","):
            if finding_check.strip() and finding_check.split()[0] not in checks:
                found.append(
                    Problem(
                        check.page.file,
                        check.page.head_lines["follows from"],
                        f'"{finding_check.strip()}" names no finding.',
                        nearest(finding_check.split()[0], tuple(checks)),
                    )
                )
    return found + sheet_problems(corpus)


def sheet_problems(corpus: Corpus) -> list[Problem]:
    """Order sheets that name a cause or guide that is not there, or a part or cause that another one has."""
    found = []
    causes = tuple(c.name for c in corpus.causes)
    guides = tuple(g.id for g in corpus.guides)
    findings = tuple(c.finding for c in corpus.checks)
    taken: dict[str, str] = {}
    for sheet in sorted(corpus.sheets, key=lambda s: s.page.role == "own"):  # the later one is named
        head, file = sheet.page.head_lines, sheet.page.file
        for cause in sheet.causes:
            if cause not in causes:
                found.append(
                    Problem(file, head["causes"], f'there is no cause "{cause}".', nearest(cause, causes))
                )
        for name, label in (*((c, "causes") for c in sheet.causes), (f"part {sheet.part}", "part")):
            if name in taken:
                found.append(
                    Problem(
                        file, head[label], f'"{name}" stands in {taken[name]} already.', "Keep one of them."
                    )
                )
            taken[name] = file
        guide = sheet.page.head.get("guide", "")
        if guide and guide not in guides:
            found.append(
                Problem(file, head["guide"], f'there is no guide "{guide}".', nearest(guide, guides))
            )
        for match in sheet.matches:
            for name in match.findings:
                if name not in findings:
                    found.append(
                        Problem(
                            file,
                            match.line,
                            f'no check yields the finding "{name}".',
                            nearest(name, findings),
                        )
                    )
        for point in sheet.points:
            for name in point.name.split(" or "):
                if "_" in name and name not in findings:
                    found.append(
                        Problem(
                            file,
                            point.line,
                            f'no check yields the finding "{name}".',
                            nearest(name, findings),
                        )
                    )
    return found

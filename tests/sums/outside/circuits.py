"""The harness as circuits, solved by ngspice, or by lcapy where ngspice is not installed."""

import re
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path

from .needs import library, ngspice


@dataclass(frozen=True)
class Case:
    """One harness: volts, the series resistances, and what hangs at its end.

    ``kind`` is "back" (a fixed back voltage), "torque" (one motor under a torque) or "locked" (two motors,
    the second locked).
    """

    kind: str
    volts: float
    battery_ohm: float
    feed_ohm: float
    contact_ohm: float
    return_ohm: float
    motor_ohm: float
    k: float = 0.0
    load: float = 0.0


def _branch(c: Case, i: int) -> list[str]:
    """One motor between m and n; node w carries its speed, a volt for a radian a second."""
    return [
        f"Rmot{i} m{i} e{i} {c.motor_ohm!r}",
        f"Vs{i} e{i} x{i} {{dc}}0",
        f"Eb{i} x{i} n{i} w{i} 0 {c.k!r}",
        f"Fq{i} 0 w{i} Vs{i} {{sense}}{c.k!r}",
        f"Il{i} w{i} 0 {{dc}}{c.load!r}",
        f"Rv{i} w{i} 0 1e12",
    ]


def netlist(c: Case, i: int) -> list[str]:
    """The lines of one circuit; ``{dc}`` stands where a program wants its own word for a
    steady source, ``{sense}`` where the two programs count the sensed current in opposite directions."""
    lines = [
        f"Vb{i} b{i} 0 {{dc}}{c.volts!r}",
        f"Rint{i} b{i} t{i} {c.battery_ohm!r}",
        f"Rfeed{i} t{i} f{i} {c.feed_ohm!r}",
        f"Rcon{i} f{i} m{i} {c.contact_ohm!r}",
        f"Rret{i} n{i} 0 {c.return_ohm!r}",
    ]
    if c.kind == "back":
        return [*lines, f"Rmot{i} m{i} e{i} {c.motor_ohm!r}", f"Ve{i} e{i} n{i} {{dc}}{c.load!r}"]
    lines += _branch(c, i)
    if c.kind == "locked":
        lines.append(f"Rlock{i} m{i} n{i} {c.motor_ohm!r}")
    return lines


Answer = dict[str, float]


def solve(cases: list[Case]) -> tuple[str, list[Answer]]:
    """The program used, and for each case amps, volts at the battery posts, at the motor, and speed."""
    program = ngspice()
    if program is not None:
        return "ngspice", _ngspice(program, cases)
    library("lcapy")
    return "lcapy", [_lcapy(case) for case in cases]


def _ngspice(program: str, cases: list[Case]) -> list[Answer]:
    lines = ["harness cases"]
    wanted = []
    for i, case in enumerate(cases):
        lines += [line.replace("{dc}", "DC ").replace("{sense}", "") for line in netlist(case, i)]
        speed = f" v(w{i})" if case.kind != "back" else ""
        wanted.append(f"print i(Vb{i}) v(t{i}) v(m{i}) v(n{i}){speed}")
    lines += [".options reltol=1e-9 abstol=1e-15 vntol=1e-12 gmin=1e-18 numdgt=12"]
    lines += [".control", "set numdgt=12", "op", *wanted, ".endc", ".end"]
    with tempfile.TemporaryDirectory() as folder:
        deck = Path(folder) / "cases.cir"
        deck.write_text("\n".join(lines) + "\n", encoding="utf-8")
        done = subprocess.run([program, "-b", str(deck)], capture_output=True, text=True, check=False)
    found = {
        name: float(value)
        for name, value in re.findall(r"^(\S+) = (-?[\d.]+e[+-]\d+)\s*$", done.stdout, re.MULTILINE)
    }
    # In batch mode it ends with status 1 where nothing is plotted, so what it printed decides.
    answers = []
    for i, case in enumerate(cases):
        answer = {
            "amps": -found[f"i(vb{i})"],
            "posts": found[f"v(t{i})"],
            "motor": found[f"v(m{i})"] - found[f"v(n{i})"],
        }
        if case.kind != "back":
            answer["speed"] = found[f"v(w{i})"]
        answers.append(answer)
    return answers


def _lcapy(case: Case) -> Answer:
    circuit = library("lcapy").Circuit(
        "\n".join(line.replace("{dc}", "dc ").replace("{sense}", "-") for line in netlist(case, 0))
    )
    posts = float(circuit["t0"].V.dc.expr)
    answer = {
        "amps": (case.volts - posts) / case.battery_ohm,
        "posts": posts,
        "motor": float(circuit["m0"].V.dc.expr) - float(circuit["n0"].V.dc.expr),
    }
    if case.kind != "back":
        answer["speed"] = float(circuit["w0"].V.dc.expr)
    return answer

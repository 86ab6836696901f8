"""The mutants of a module: one small change each, made on its syntax tree.

What is changed
- arithmetic: + and -, * and /, // to /, % to *, ** to *; a minus sign taken off
- comparison: the boundary (< to <=) and the opposite (< to >=), == and !=, is and is not, in and not in
- boolean: and and or, not taken off, True and False
- condition of if, while, x if c else y, and of a comprehension, turned round (where the comparison itself
  is not turned already)
- number: a whole number plus one; another one times 1.1, 0.0 to 1.0
- return value to None, += to =, continue and break
- default of an argument or a field (a text gets XX before it); a keyword of a call left out
- a text that the program compares, looks up or takes as a key, or that names a hazard (XX before it)
- a pattern: each of its alternatives left out in turn; a set written out: each of its members

What is not, and why
- other texts: messages, lines of working, names of values, verdict words, docstrings; they are
  read by people, and tests that repeat them word for word prove nothing. Sums inside a text are changed.
- annotations, format specifications, options of dataclass, `strict=` of zip (a guard for our own slips)
- + and * where one side is a text or a list: such a mutant can only stop with a TypeError
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

OPS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
}
COMPARED: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
#: Calls whose texts are names of hazards and labels, not words to be shown: how many of the first ones.
NAMING_CALLS = {"_of": 9, "Beside": 1, "Said": 2, "Rule": 1}
#: Calls whose text is a pattern.
PATTERN_CALLS = {"_words", "compile"}

Function = ast.FunctionDef | ast.AsyncFunctionDef


class Site(NamedTuple):
    """One place of a tree and what is put there."""

    parent: ast.AST
    field: str
    place: int | None  # in the field, where that is a list
    old: ast.AST
    new: ast.AST | None  # None takes the part out of its list
    #: Names of the class and function it stands in, outermost first; the outermost function alone is patched.
    inside: tuple[str, ...]
    #: The body of that function holds it (not a decorator, not a default): patching its code is enough.
    in_body: bool
    top: ast.stmt  # the module's statement that holds it
    first_line: int  # of the statement's own lines, header only for a compound one
    last_line: int


def is_text(node: ast.AST) -> bool:
    """Whether the node is a text, a list or a tuple written out."""
    if isinstance(node, ast.Constant):
        return isinstance(node.value, str)
    if isinstance(node, ast.BinOp):
        return is_text(node.left) or is_text(node.right)
    return isinstance(node, (ast.JoinedStr, ast.List, ast.Tuple, ast.ListComp))


def number(value: complex) -> ast.Constant:
    """Another number in its place."""
    if isinstance(value, int):
        return ast.Constant(value + 1)
    assert isinstance(value, float)
    return ast.Constant(1.0 if value == 0 else float(f"{value * 1.1:.12g}"))


def replacements(node: ast.AST, parent: ast.AST, field: str) -> Iterator[ast.AST]:
    """What may stand in the node's place."""
    if isinstance(node, ast.BinOp) and type(node.op) in OPS and not is_text(node):
        yield ast.BinOp(node.left, OPS[type(node.op)](), node.right)
    elif isinstance(node, ast.Compare):
        for at, op in enumerate(node.ops):
            for other in COMPARED[type(op)]:
                yield ast.Compare(node.left, [*node.ops[:at], other(), *node.ops[at + 1 :]], node.comparators)
    elif isinstance(node, ast.BoolOp):
        yield ast.BoolOp(ast.Or() if isinstance(node.op, ast.And) else ast.And(), node.values)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, (ast.Not, ast.USub)):
        yield node.operand
    elif isinstance(node, ast.Constant):
        if isinstance(node.value, str) and called(parent) in PATTERN_CALLS:
            yield from (ast.Constant(shorter) for shorter in without_alternatives(node.value))
        elif isinstance(node.value, bool):
            yield ast.Constant(not node.value)
        elif isinstance(node.value, (int, float)):
            yield number(node.value)
        elif isinstance(node.value, str) and node.value and looked_up(node, parent, field):
            yield ast.Constant("XX" + node.value)
    elif isinstance(node, ast.Tuple) and called(parent) == "frozenset":
        for at in range(len(node.elts)):
            yield ast.Tuple([*node.elts[:at], *node.elts[at + 1 :]], ast.Load())
    elif isinstance(node, ast.AugAssign):
        yield ast.Assign([node.target], node.value)
    elif isinstance(node, ast.Return) and node.value is not None:
        if not (isinstance(node.value, ast.Constant) and node.value.value is None):
            yield ast.Return(ast.Constant(None))
    elif isinstance(node, ast.Continue):
        yield ast.Break()
    elif isinstance(node, ast.Break):
        yield ast.Continue()
    turned = (isinstance(parent, (ast.If, ast.While, ast.IfExp)) and field == "test") or field == "ifs"
    single = isinstance(node, ast.Compare) and len(node.ops) == 1
    if turned and not single and not (isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not)):
        assert isinstance(node, ast.expr)
        yield ast.UnaryOp(ast.Not(), node)


def looked_up(node: ast.Constant, parent: ast.AST, field: str) -> bool:
    """Whether a text is compared, a key, a subscript or a default."""
    if isinstance(parent, ast.Call):
        return any(node is one for one in parent.args[: NAMING_CALLS.get(called(parent), 0)])
    if isinstance(parent, ast.AnnAssign):
        return True
    return isinstance(parent, (ast.Compare, ast.Subscript)) or field in ("keys", "defaults", "kw_defaults")


def called(node: ast.AST) -> str:
    """The name of what a call calls, without its module; "" where the node is no call of a name."""
    function = node.func if isinstance(node, ast.Call) else None
    return str(getattr(function, "id", None) or getattr(function, "attr", None) or "")


def without_alternatives(pattern: str) -> Iterator[str]:
    """The pattern without each of its alternatives, in every group that has more than one.

    >>> list(without_alternatives(r"a|(?:b|c\\|d)e"))
    ['(?:b|c\\\\|d)e', 'a', 'a|(?:c\\\\|d)e', 'a|(?:b)e']
    """
    # Each group: the places where an alternative begins, and at last where the group ends.
    closed: list[list[int]] = []
    groups: list[list[int]] = [[0]]
    at = 0
    while at < len(pattern):
        sign = pattern[at]
        if sign == "\\":
            at += 1
        elif sign == "[":
            at = pattern.index("]", at + 2)
        elif sign == "(":
            begins = re.compile(r"\?(?::|!|=|<!|<=|P<\w+>)").match(pattern, at + 1)
            groups.append([begins.end() if begins else at + 1])
        elif sign == "|":
            groups[-1].append(at + 1)
        elif sign == ")":
            closed.append([*groups.pop(), at + 1])
        at += 1
    for group in sorted([*closed, [*groups[0], len(pattern) + 1]]):
        for one, (begin, after) in enumerate(pairwise(group)):
            if len(group) > 2:
                last = one == len(group) - 2
                yield pattern[: begin - last] + pattern[after - last :]


class Walker:
    """Goes through a tree in the order of its text and lists every site."""

    def __init__(self) -> None:
        self.sites: list[Site] = []
        self.inside: tuple[str, ...] = ()
        self.bodies = 0
        self.lines = (1, 1)
        self.top: ast.stmt = ast.Pass()

    def walk(self, node: ast.AST, parent: ast.AST, field: str, index: int | None) -> None:
        lines = self.lines
        if isinstance(node, ast.stmt):
            last = node.end_lineno or node.lineno
            body = getattr(node, "body", None)
            if body:
                last = max(node.lineno, min(last, body[0].lineno - 1))
            self.lines = (node.lineno, last)
            if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
                return  # a docstring
            if isinstance(node, ast.AnnAssign) and node.value is None:
                return
        for new in replacements(node, parent, field):
            self.note(node, parent, field, index, new)
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            self.function(node)
        elif isinstance(node, ast.ClassDef):
            self.inside += (node.name,)
            for at, statement in enumerate(node.body):
                self.walk(statement, node, "body", at)
            self.inside = self.inside[:-1]
        elif isinstance(node, ast.AnnAssign):
            assert node.value is not None
            self.walk(node.value, node, "value", None)
        elif isinstance(node, ast.FormattedValue):
            self.walk(node.value, node, "value", None)
        elif isinstance(node, ast.Call):
            self.walk(node.func, node, "func", None)
            for at, one in enumerate(node.args):
                self.walk(one, node, "args", at)
            self.keywords(node)
        else:
            self.children(node)
        self.lines = lines

    def children(self, node: ast.AST) -> None:
        for name, value in ast.iter_fields(node):
            if isinstance(value, ast.AST):
                self.walk(value, node, name, None)
            elif isinstance(value, list):
                for at, one in enumerate(value):
                    if isinstance(one, ast.AST):
                        self.walk(one, node, name, at)

    def keywords(self, node: ast.Call) -> None:
        called = node.func.id if isinstance(node.func, ast.Name) else ""
        for at, keyword in enumerate(node.keywords):
            if called == "dataclass" or (called == "zip" and keyword.arg == "strict"):
                continue
            if keyword.arg is not None:
                text = is_text(keyword.value) and not isinstance(keyword.value, (ast.Tuple, ast.List))
                if not text:
                    self.note(keyword, node, "keywords", at, None)
            self.walk(keyword.value, keyword, "value", None)

    def function(self, node: Function) -> None:
        for at, decorator in enumerate(node.decorator_list):
            self.walk(decorator, node, "decorator_list", at)
        for name in ("defaults", "kw_defaults"):
            for at, default in enumerate(getattr(node.args, name)):
                if default is not None:
                    self.walk(default, node.args, name, at)
        self.inside += (node.name,)
        self.bodies += 1
        for at, statement in enumerate(node.body):
            self.walk(statement, node, "body", at)
        self.bodies -= 1
        self.inside = self.inside[:-1]

    def note(self, old: ast.AST, parent: ast.AST, field: str, index: int | None, new: ast.AST | None) -> None:
        if new is not None:
            ast.copy_location(new, old)
        first, last = self.lines
        self.sites.append(
            Site(parent, field, index, old, new, self.inside, self.bodies > 0, self.top, first, last)
        )


class Mutant(NamedTuple):
    """One mutant of a file: where, what stood there, what stands there now."""

    file: str
    line: int
    old: str
    new: str
    site: Site

    @property
    def key(self) -> str:
        """What it is known by in a list of survivors: the line may move, the words may not."""
        top = getattr(self.site.top, "name", "top")
        within = ".".join(self.site.inside) or top
        return f"{self.file} | {within} | {self.old} -> {self.new}"


def put(site: Site, node: ast.AST | None) -> None:
    """Puts a node in the site's place (None: the mutant's own), where lists hold their length but for a removal."""
    if site.place is None:
        setattr(site.parent, site.field, node)
    else:
        getattr(site.parent, site.field)[site.place] = node


def applied(tree: ast.Module, site: Site) -> ast.Module:
    """The tree with the mutant in it; the tree itself is changed (each mutant lives in a process of its own)."""
    if site.new is None:
        assert site.place is not None
        del getattr(site.parent, site.field)[site.place]
    else:
        put(site, site.new)
    return ast.fix_missing_locations(tree)


def mutants(file: str, source: str) -> tuple[ast.Module, list[Mutant]]:
    """The tree of a source and every mutant of it, in the order of the text; keys are made unique by a count."""
    tree = ast.parse(source)
    walker = Walker()
    for at, statement in enumerate(tree.body):
        walker.top = statement
        walker.walk(statement, tree, "body", at)
    parents = {child: node for node in ast.walk(tree) for child in ast.iter_child_nodes(node)}
    found: list[Mutant] = []
    seen: dict[str, int] = {}
    for site in walker.sites:
        old, new = words(source, site, parents)
        line = getattr(site.old, "lineno", site.first_line)
        one = Mutant(file, line, old, new, site)
        seen[one.key] = seen.get(one.key, 0) + 1
        if seen[one.key] > 1:
            one = one._replace(new=f"{new} (again: {seen[one.key]})")
        found.append(one)
    return tree, found


def words(source: str, site: Site, parents: dict[ast.AST, ast.AST], room: int = 64) -> tuple[str, str]:
    """What stood there and what stands there now, with as much around it as fits."""
    around = site.old
    if pattern_text(site.old) and pattern_text(site.new):
        return clip(cut_out(site.old.value, site.new.value)), "(left out)"  # type: ignore[attr-defined,union-attr]
    top: ast.AST = site.old
    while True:
        above = parents.get(top)
        if above is None or isinstance(above, (ast.stmt, ast.JoinedStr, ast.FormattedValue, ast.arguments)):
            break
        text = ast.get_source_segment(source, above) if hasattr(above, "lineno") else None
        if text is not None:
            if len(text) > room or "\n" in text:
                break
            around = above
        top = above
    if isinstance(around, (ast.comprehension, ast.arguments)):
        around = site.old
    before = " ".join(ast.unparse(around).split())
    if around is site.old:
        after = "(left out)" if site.new is None else " ".join(ast.unparse(fixed(site.new)).split())
        return clip(before), clip(after)
    if site.new is None:
        held = getattr(site.parent, site.field)
        assert site.place is not None
        taken = held.pop(site.place)
        after = " ".join(ast.unparse(around).split())
        held.insert(site.place, taken)
    else:
        put(site, site.new)
        after = " ".join(ast.unparse(around).split())
        put(site, site.old)
    return clip(before), clip(after)


def pattern_text(node: ast.AST | None) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str) and "XX" not in node.value


def cut_out(whole: str, shorter: str) -> str:
    """The alternative that the longer pattern has and the shorter one has not.

    >>> cut_out("put|plug|pull", "plug|pull"), cut_out("(?:run|wind) up", "(?:run) up")
    ('put', 'wind')
    """
    size = len(whole) - len(shorter)
    fits = [at for at in range(len(shorter) + 1) if whole[:at] + whole[at + size :] == shorter]
    pieces = [whole[at : at + size] for at in fits]
    return next(piece for piece in pieces if piece[0] == "|" or piece[-1] == "|").strip("|")


def fixed(node: ast.AST) -> ast.AST:
    return ast.fix_missing_locations(node)


def clip(text: str) -> str:
    return text if len(text) <= 110 else text[:52] + " ... " + text[-52:]

"""Puts a mutant into a program that is loaded already, where that is the same as reading it anew."""

from __future__ import annotations

import ast
import importlib
import inspect
import sys
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any

from mutants import Mutant, applied

TOP = Path(__file__).resolve().parent.parent


def module_of(one: Mutant) -> ModuleType:
    return importlib.import_module(one.file.removesuffix(".py").replace("/", ".").removesuffix(".__init__"))


def outer(one: Mutant, inside: tuple[str, ...] | None = None) -> tuple[str, Any]:
    """The qualified name of the mutant's outermost function, and the bare function."""
    holder: Any = module_of(one)
    inside = one.site.inside if inside is None else inside
    for at, name in enumerate(inside):
        found = vars(holder)[name]
        if inspect.isclass(found):
            holder = found
            continue
        if isinstance(found, property):
            found = found.fget
        if isinstance(found, (staticmethod, classmethod)):
            found = found.__func__
        return ".".join(inside[: at + 1]), inspect.unwrap(found)
    raise LookupError(one.key)


def code_of(code: CodeType, qualified: str) -> CodeType:
    """The code of a function, by its qualified name, out of a module's code."""
    for constant in code.co_consts:
        if isinstance(constant, CodeType):
            if constant.co_qualname == qualified:
                return constant
            if qualified.startswith(constant.co_qualname + "."):
                return code_of(constant, qualified)
    raise LookupError(qualified)


def value_of(expression: ast.expr, where: dict[str, Any]) -> Any:
    whole = ast.fix_missing_locations(ast.Expression(expression))
    return eval(compile(whole, "mutant", "eval"), where)


class Exchange:
    """What can be exchanged in the loaded program, how it is done, and where it shows."""

    def __init__(self, package: str, read_early: set[tuple[str, int]]) -> None:
        self.package = package
        self.read_early = read_early
        #: Names used by code that runs while a file is read: what they were made into cannot be put right.
        self.early: dict[str, int] = defaultdict(int)
        self.held: dict[str, int] = defaultdict(int)
        #: name -> files of the package with the lines of the functions that use it; and other files.
        self.users: dict[str, set[tuple[str, int, int]]] = defaultdict(set)
        self.test_users: dict[str, set[Path]] = defaultdict(set)
        for folder in ("bot", "tests"):
            for path in sorted((TOP / folder).rglob("*.py")):
                self.index(path, ast.parse(path.read_text(encoding="utf-8")))

    def index(self, path: Path, tree: ast.Module) -> None:
        for name in names(tree, early=True):
            self.early[name] += 1
        for name in names_held(tree):
            self.held[name] += 1
        ours = path.is_relative_to(TOP / "bot" / self.package)
        tests = path.is_relative_to(TOP / "tests")
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef):
                for name in set(names(node, early=False)):
                    if ours:
                        end = node.end_lineno or node.lineno
                        self.users[name].add((str(path), node.body[0].lineno, end))
                    elif tests:
                        self.test_users[name].add(path)

    def kind(self, one: Mutant) -> str:
        """ "body", "default", "limits", "constant", or "" where everything has to be read anew."""
        site = one.site
        if site.in_body:
            code = outer(one)[1].__code__
            return "" if (code.co_filename, code.co_firstlineno) in self.read_early else "body"
        top = site.top
        if isinstance(top, ast.FunctionDef):
            if any(within(site.parent, d) or site.old is d for d in top.decorator_list):
                call = top.decorator_list[0]
                plain = isinstance(call, ast.Call) and isinstance(call.func, ast.Name)
                return "limits" if plain and call.func.id == "limits" else ""  # type: ignore[attr-defined]
            code = outer(one, (*site.inside, top.name))[1].__code__
            return "" if (code.co_filename, code.co_firstlineno) in self.read_early else "default"
        target = constant_name(top)
        # Its own assignment is the one place that may name it while the file is read. What is no table is
        # exchanged by its name in each module: there a place in another table counts as well.
        value = getattr(top, "value", None)
        others = self.early[target] if isinstance(value, ast.Dict) else self.early[target] + self.held[target]
        if target and others <= 1:
            return "constant"
        return ""

    def put(self, one: Mutant, tree: ast.Module) -> None:
        """Puts the mutant in."""
        kind, site = self.kind(one), one.site
        where = vars(module_of(one))
        if kind == "body":
            qualified, function = outer(one)
            changed = compile(applied(tree, site), str(TOP / one.file), "exec")
            function.__code__ = code_of(changed, qualified)
            return
        applied(tree, site)
        top = site.top
        if kind == "default":
            assert isinstance(top, ast.FunctionDef)
            _, function = outer(one, (*site.inside, top.name))
            arguments = top.args
            function.__defaults__ = tuple(value_of(d, where) for d in arguments.defaults) or None
            pairs = zip(arguments.kwonlyargs, arguments.kw_defaults, strict=True)
            function.__kwdefaults__ = {a.arg: value_of(d, where) for a, d in pairs if d is not None} or None
        elif kind == "limits":
            assert isinstance(top, ast.FunctionDef)
            call = top.decorator_list[0]
            assert isinstance(call, ast.Call)
            new = {str(k.arg): value_of(k.value, where) for k in call.keywords}
            held = where[top.name]
            closed = dict(zip(held.__code__.co_freevars, held.__closure__, strict=True))
            declared = importlib.import_module("bot.sums.limits").DECLARED
            for bounds in (closed["bounds"].cell_contents, declared[f"{held.__module__}.{top.name}"]):
                bounds.clear()
                bounds.update(new)
        else:
            name = constant_name(top)
            assert isinstance(top, (ast.Assign, ast.AnnAssign)) and top.value is not None  # noqa: PT018
            old, new = where[name], value_of(top.value, where)
            if isinstance(old, dict):
                old.clear()
                old.update(new)
                return
            for module in list(sys.modules.values()):
                if vars(module).get(name) is old and module.__name__.split(".")[0] in ("bot", "tests"):
                    setattr(module, name, new)

    def shows(self, one: Mutant) -> tuple[list[tuple[str, int, int]], set[Path]]:
        """Lines of the package's files, and files of tests, where the mutant can be noticed."""
        kind, site, file = self.kind(one), one.site, str(TOP / one.file)
        if kind == "body":
            return [(file, site.first_line, site.last_line)], set()
        if kind in ("default", "limits"):
            assert isinstance(site.top, ast.FunctionDef)
            return [(file, site.top.body[0].lineno, site.top.end_lineno or 0)], set()
        name = constant_name(site.top)
        files: set[Path] = set()
        for path in self.test_users[name]:
            # A helper may be used by every test beside it.
            files |= {path} if path.name.startswith("test_") else set(path.parent.glob("test_*.py"))
        return sorted(self.users[name]), files


def constant_name(top: ast.stmt) -> str:
    """The name that a statement gives a value to, "" where it is no plain one."""
    if isinstance(top, ast.Assign) and len(top.targets) == 1 and isinstance(top.targets[0], ast.Name):
        return top.targets[0].id
    if isinstance(top, ast.AnnAssign) and isinstance(top.target, ast.Name):
        return top.target.id
    return ""


def within(part: ast.AST, whole: ast.AST) -> bool:
    return any(node is part for node in ast.walk(whole))


def names(node: ast.AST, *, early: bool) -> Iterator[str]:
    """The names that a part uses: all, or those alone that run while the file is read.

    A table that is merely named in another table is no early use: it is the same table, and is changed in place.
    """
    held = early and isinstance(node, (ast.Tuple, ast.List, ast.Dict))
    for child in ast.iter_child_nodes(node):
        name = getattr(child, "id", None) or getattr(child, "attr", None)
        if isinstance(child, (ast.Name, ast.Attribute)) and not (held and str(name).isupper()):
            yield str(name)
        if early and isinstance(child, (ast.FunctionDef, ast.AsyncFunctionDef)):
            for part in (*child.decorator_list, *child.args.defaults, *child.args.kw_defaults):
                if part is not None:
                    yield from names(ast.Expr(part), early=True)
        elif not (early and isinstance(child, ast.Lambda)):
            yield from names(child, early=early)


def names_held(tree: ast.Module) -> Iterator[str]:
    """Names of constants that stand bare in a table, a list or a tuple."""
    for node in ast.walk(tree):
        if isinstance(node, (ast.Tuple, ast.List, ast.Dict)):
            for child in ast.iter_child_nodes(node):
                name = getattr(child, "id", None) or getattr(child, "attr", None)
                if isinstance(child, (ast.Name, ast.Attribute)) and str(name).isupper():
                    yield str(name)

"""Which modules are drawn from, what can be changed in them, and the changed code."""

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import CodeType

ROOT = Path(__file__).resolve().parents[2]
# Packages that every calculator leans on: fields, forms, sheets, renderers, the command line; and
# the rules that read texts, which are no formulas: one test holds them against hundreds of texts.
MACHINERY = ("core", "inputs", "answers", "renderers", "app", "reading")
# What a judge or a question may take from the machinery: rounding, refusing, values, verdicts.
JUDGING_MODULES = (".figures", ".errors", ".problems", ".declared")
JUDGING = {"Verdict", "State", "Refused", "Answer"}
SHOWING_NAMES = {"words", "tables", "drawing", "drawings", "fields", "file", "files", "inputs"}
# Of an exercise the answer is a calculator's; what a template works out is wrong on purpose.
SHOWING_NAMES |= {"templates"}

_OTHER = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq, ast.NotEq: ast.Eq, ast.And: ast.Or, ast.Or: ast.And,
}  # fmt: skip
LAST_DIGITS = 6
FUNCTIONS = (ast.FunctionDef, ast.Lambda)


def drawn_from(path: Path, tree: ast.Module) -> ast.Module | None:
    """Return what is drawn from of a module: formulas, searches, judges, questions; else None.

    A module is drawn from if it computes (there is arithmetic or a comparison), is no machinery
    and makes nothing of a page: it calls nothing that it takes from the machinery, but for
    rounding, refusing, values and verdicts. What declares fields is left out of it. Modules of
    words and of files take no more than the others from the machinery; they are known by their
    names. Of a calculator's sheet only the function `judge` is left, which decides and shows
    nothing.
    """
    package = path.relative_to(ROOT / "calc").parts
    if len(package) == 1 or package[0] in MACHINERY:
        return None
    body = tree.body
    if path.stem == "sheet":
        body = [node for node in body if getattr(node, "name", "") == "judge"]
    elif SHOWING_NAMES & {*path.stem.split("_"), *package[:-1]}:
        return None
    else:
        fields, others = _makers(tree, ("inputs",)), _makers(tree, MACHINERY)
        if _called(tree) & (others - fields):
            return None
        body = [node for node in body if not _called(node) & fields]
    drawn = ast.Module(body, [])
    computes = any(isinstance(node, ast.BinOp | ast.Compare) for node in ast.walk(drawn))
    return drawn if computes else None


def _makers(tree: ast.Module, packages: tuple[str, ...]) -> set[str]:
    """Return what a module takes from these packages to make something of it."""
    return {
        alias.asname or alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and node.module
        if [*node.module.split("."), ""][1] in packages
        if not node.module.endswith(JUDGING_MODULES)
        for alias in node.names
    } - JUDGING


def _called(node: ast.AST) -> set[str]:
    return {_root(call.func) for call in ast.walk(node) if isinstance(call, ast.Call)}


def drawn_trees() -> dict[str, ast.Module]:
    """Return what is drawn from: path from the root → what is left of its syntax tree."""
    paths = sorted((ROOT / "calc").rglob("*.py"))
    every = {path.relative_to(ROOT).as_posix(): drawn_from(path, parsed(path)) for path in paths}
    return {name: tree for name, tree in every.items() if tree}


@cache
def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


@dataclass(frozen=True)
class Place:
    """One thing that can be changed: `what` is done to the node that has this number."""

    module: str  # path from the project's root
    node: int  # place among the nodes of `ast.walk` of the module
    what: str
    line: int
    lines: int  # those of its statement (of a longer one, the head), a bit for each
    at: int = 0  # which operator or argument of the node

    def __str__(self) -> str:
        return f"{self.module}:{self.line}: {_said(self)}"


def places(module: str, drawn: ast.AST) -> Iterator[Place]:
    """Yield everything that can be changed in a module.

    Left out because nothing can be seen of them: sizes of caches, what stands in messages of
    errors, figures whose name says that they are a TOLERANCE, and what is for the last bits of
    a figure: one below a millionth and what it is added to, and rounding to six digits or more.
    """
    whole = parsed(ROOT / module)
    numbers = {id(node): number for number, node in enumerate(ast.walk(whole))}
    for node, lines in _seen(drawn, 0):
        for what, at in _changes(node):
            yield Place(module, numbers[id(node)], what, node.lineno, lines, at)


def _seen(node: ast.AST, lines: int) -> Iterator[tuple[ast.AST, int]]:
    """Yield the nodes below whose change could be seen, with the lines of their statements."""
    if isinstance(node, ast.stmt):
        lines = _head(node)
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Raise | ast.Assert | ast.JoinedStr):
            continue
        if isinstance(child, ast.Call) and _name(child.func) in ("lru_cache", "cache"):
            continue
        if isinstance(child, ast.Assign | ast.AnnAssign):
            target = child.targets[0] if isinstance(child, ast.Assign) else child.target
            if "TOLERANCE" in _name(target).upper():
                continue
        if isinstance(child, ast.arg) or _is_for_last_bits(child):
            continue
        yield child, lines
        yield from _seen(child, lines)


def _is_for_last_bits(node: ast.AST) -> bool:
    match node:
        case ast.BinOp(left=left, op=ast.Add() | ast.Sub(), right=right):
            return any(_is_tiny(side) for side in (left, right))
        case ast.Call(func=ast.Name(id="round"), args=[_, ast.Constant(value=int(digits))]):
            return digits >= LAST_DIGITS
    return _is_tiny(node)


def _is_tiny(node: ast.AST) -> bool:
    return (
        isinstance(node, ast.Constant)
        and isinstance(node.value, float)
        and 0 < node.value <= 10**-LAST_DIGITS
    )


def _head(statement: ast.stmt) -> int:
    """Return the lines of a statement without those of the statements inside."""
    first = min(
        [statement.lineno, *(each.lineno for each in getattr(statement, "decorator_list", []))]
    )
    last = statement.end_lineno
    inside = getattr(statement, "body", None) or getattr(statement, "cases", None)
    if inside:
        start = getattr(inside[0], "lineno", None) or inside[0].pattern.lineno
        last = max(statement.lineno, start - 1)
    return sum(1 << line for line in range(first, last + 1))


def _root(node: ast.AST) -> str:
    """Return the name that stands before all dots."""
    while isinstance(node, ast.Attribute):
        node = node.value
    return _name(node)


def _name(node: ast.AST) -> str:
    return getattr(node, "id", None) or getattr(node, "attr", None) or ""


def _changes(node: ast.AST) -> Iterator[tuple[str, int]]:
    """Yield what can be done to a node: (what, which of its parts)."""
    match node:
        case ast.BinOp(op=ast.Pow()):
            yield "exponent removed", 0
        case ast.BinOp(op=op) if type(op) in _OTHER:
            yield "operator", 0
        case ast.BoolOp():
            yield "operator", 0
        case ast.Compare(ops=ops):
            yield from (("comparison", at) for at, op in enumerate(ops) if type(op) in _OTHER)
        case ast.UnaryOp(op=ast.Not()):
            yield "not removed", 0
        case ast.Constant(value=value) if type(value) in (int, float):
            yield "number", 0
        case ast.Return(value=ast.Compare() | ast.BoolOp() | ast.UnaryOp(op=ast.Not())):
            yield "condition inverted", 0
        case ast.Call(func=ast.Name(id="max" | "min"), args=args):
            yield "max and min swapped", 0
            if len(args) > 1:
                yield from (("argument removed", at) for at in range(len(args)))
        case ast.Call(func=ast.Name(id="sorted") | ast.Attribute(attr="sort")):
            yield "order reversed", 0


def change(place: Place) -> tuple[ast.Module, str, str]:
    """Return the module's changed tree, and the changed expression before and after."""
    tree = copy.deepcopy(parsed(ROOT / place.module))
    node = list(ast.walk(tree))[place.node]
    before = ast.unparse(node)
    new = _changed(node, place)
    if new is not node:
        for parent in ast.walk(tree):
            for name, value in ast.iter_fields(parent):
                if value is node:
                    setattr(parent, name, new)
                elif isinstance(value, list) and any(each is node for each in value):
                    setattr(parent, name, [new if each is node else each for each in value])
    ast.fix_missing_locations(tree)
    return tree, before, ast.unparse(new)


def _changed(node, place: Place):
    match place.what:
        case "exponent removed":
            return node.left
        case "operator":
            node.op = _OTHER[type(node.op)]()
        case "comparison":
            node.ops[place.at] = _OTHER[type(node.ops[place.at])]()
        case "not removed":
            return node.operand
        case "number":
            node.value += 1
        case "condition inverted":
            node.value = ast.UnaryOp(ast.Not(), node.value)
        case "max and min swapped":
            node.func.id = "min" if node.func.id == "max" else "max"
        case "argument removed":
            del node.args[place.at]
            # One that is left is the value itself, unless it is a series.
            if len(node.args) == 1 and not node.keywords:
                if isinstance(node.args[0], ast.Starred):
                    node.args[0] = node.args[0].value
                else:
                    return node.args[0]
        case "order reversed":
            way = next((each for each in node.keywords if each.arg == "reverse"), None)
            if way:
                way.value = ast.UnaryOp(ast.Not(), way.value)
            else:
                node.keywords.append(ast.keyword("reverse", ast.Constant(True)))
    return node


def _said(place: Place) -> str:
    _, before, after = change(place)
    short = 70
    if len(before) > short or len(after) > short:
        first = next(
            (at for at, (a, b) in enumerate(zip(before, after, strict=False)) if a != b), 0
        )
        start = max(0, first - 25)
        before, after = (f"…{text[start : start + short]}…" for text in (before, after))
    return f"{place.what}: {before} → {after}".replace("\n", " ")


def codes(code: CodeType) -> Iterator[CodeType]:
    """Yield a code object and all those inside, always in the same order."""
    yield code
    for constant in code.co_consts:
        if isinstance(constant, CodeType):
            yield from codes(constant)

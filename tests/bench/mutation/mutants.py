"""The faults that could be made in a file: mutmut's operators, without those that cannot matter.

Left out: docstrings; type annotations; `__all__`; what `dataclass` and caches are told, which the
type check or nobody sees; the wording of texts (a string with a space in it) and the strings that
mutmut only writes in other case. Names, keys, codes and values in errors and texts do count.
"""

import ast
import difflib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import libcst as cst
from libcst.metadata import CodeRange, MetadataWrapper, ParentNodeProvider, PositionProvider
from mutmut.mutation.mutators import mutation_operators

STATEMENTS = (cst.SimpleStatementLine, cst.BaseCompoundStatement, cst.Module)
BLANK = (cst.BaseParenthesizableWhitespace, cst.TrailingWhitespace, cst.EmptyLine, cst.Comma)
UNSEEN_DECORATORS = ("dataclass", "cache", "lru_cache")


@dataclass(frozen=True, slots=True, kw_only=True)
class Mutant:
    """One change in one place of a file.

    `lines` are those (from 1) of the statement or the head of the block that changes; `before` and
    `after` are the lines that differ, without indent, which name the change when lines move. What
    runs as its module is imported has the names that it `binds`.
    """

    file: str
    within: str
    operator: str
    lines: range
    binds: tuple[str, ...]
    before: str
    after: str
    code: str

    @property
    def key(self) -> tuple[str, str, str, str]:
        """Return what tells this change from others, wherever its lines stand."""
        return self.file, self.within, self.before, self.after


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where an operator changes something: all but the text of the changed file, which is dear."""

    operator: str
    node: cst.CSTNode
    changed: cst.CSTNode
    within: str
    lines: range
    binds: tuple[str, ...]


class MutableFile:
    """A source file and every place where it can be changed, in the order of its text."""

    def __init__(self, root: Path, file: str) -> None:
        self._file = file
        self._source = (root / file).read_text(encoding="utf-8")
        wrapper = MetadataWrapper(cst.parse_module(self._source), unsafe_skip_copy=True)
        self._module = wrapper.module
        finder = _Finder()
        wrapper.visit(finder)
        self.places = finder.places

    def mutant(self, place: Place) -> Mutant | None:
        """Return the fault made in that place; None if the program would stay the same."""
        changed = self._module.deep_replace(place.node, place.changed)
        assert isinstance(changed, cst.Module)
        if not _differs(self._source, changed.code):
            return None
        before, after = _changed_lines(self._source, changed.code)
        return Mutant(
            file=self._file,
            within=place.within,
            operator=place.operator,
            lines=place.lines,
            binds=place.binds,
            before=before,
            after=after,
            code=changed.code,
        )


class _Finder(cst.CSTVisitor):
    """Walks a module and notes the places."""

    METADATA_DEPENDENCIES = (PositionProvider, ParentNodeProvider)

    def __init__(self) -> None:
        super().__init__()
        self.places: list[Place] = []
        self._within: list[str] = []

    def on_visit(self, node: cst.CSTNode) -> bool:
        if isinstance(node, cst.FunctionDef | cst.ClassDef):
            self._within.append(node.name.value)
        if isinstance(node, BLANK) or _left_out(node):
            return False
        for kind, operator in mutation_operators:
            if isinstance(node, kind) and not _is_wording(node):
                name = operator.__name__.removeprefix("operator_")
                for changed in operator(node):
                    if not _is_other_case(node, changed):
                        self._note(name, node, changed)
        return super().on_visit(node)

    def on_leave(self, original_node: cst.CSTNode) -> None:
        super().on_leave(original_node)
        if isinstance(original_node, cst.FunctionDef | cst.ClassDef):
            self._within.pop()

    def _note(self, operator: str, node: cst.CSTNode, changed: cst.CSTNode) -> None:
        around = list(self._around(node))
        statement = next(one for one in around if isinstance(one, STATEMENTS))
        self.places.append(
            Place(
                operator=operator,
                node=node,
                changed=changed,
                within=".".join(self._within),
                lines=self._lines(statement),
                binds=_bound(statement, around),
            )
        )

    def _around(self, node: cst.CSTNode) -> Iterator[cst.CSTNode]:
        """Yield the node and all that it stands in, from inside."""
        yield node
        while (parent := self.get_metadata(ParentNodeProvider, node, None)) is not None:
            node = parent
            yield node

    def _lines(self, statement: cst.CSTNode) -> range:
        """Return the lines of a statement, or of the head of a block."""
        where = self._where(statement)
        last = where.end.line
        if isinstance(statement, cst.BaseCompoundStatement) and not isinstance(
            statement, cst.Match
        ):
            last = max(where.start.line, self._where(statement.body).start.line - 1)
        return range(where.start.line, last + 1)

    def _where(self, node: cst.CSTNode) -> CodeRange:
        where = self.get_metadata(PositionProvider, node)
        assert isinstance(where, CodeRange)
        return where


def _bound(statement: cst.CSTNode, around: list[cst.CSTNode]) -> tuple[str, ...]:
    """Return the names that a statement gives values to as its module is imported.

    The defaults of a function's parameters are such values; in a class the class is named too.
    """
    outer = around[around.index(statement) + 1 :]
    if any(isinstance(one, cst.FunctionDef | cst.Lambda) for one in outer):
        return ()
    if isinstance(statement, cst.FunctionDef) and statement.body in around:
        return ()
    classes = [one.name.value for one in outer if isinstance(one, cst.ClassDef)]
    if isinstance(statement, cst.FunctionDef | cst.ClassDef):
        return (statement.name.value, *classes[-1:])
    if not isinstance(statement, cst.SimpleStatementLine):
        return tuple(classes[-1:])
    names = [
        target.value
        for small in statement.body
        for target in _targets(small)
        if isinstance(target, cst.Name)
    ]
    return (*names, *classes[-1:])


def _targets(statement: cst.BaseSmallStatement) -> list[cst.BaseExpression]:
    match statement:
        case cst.Assign(targets=targets):
            return [one.target for one in targets]
        case cst.AnnAssign(target=target):
            return [target]
    return []


def _left_out(node: cst.CSTNode) -> bool:
    match node:
        case cst.Annotation() | cst.Import() | cst.ImportFrom() | cst.TypeAlias():
            return True
        case cst.Expr(value=cst.SimpleString() | cst.ConcatenatedString()):
            return True  # a docstring, of a module, class, function or value
        case cst.Decorator(decorator=decorator):
            called = decorator.func if isinstance(decorator, cst.Call) else decorator
            name = called.attr if isinstance(called, cst.Attribute) else called
            return isinstance(name, cst.Name) and name.value in UNSEEN_DECORATORS
        case cst.Assign(targets=[cst.AssignTarget(target=cst.Name(value="__all__"))]):
            return True
        case cst.If(test=cst.Name(value="TYPE_CHECKING")):
            return True
    return False


def _is_wording(node: cst.CSTNode) -> bool:
    return isinstance(node, cst.SimpleString) and " " in node.raw_value.strip()


def _is_other_case(node: cst.CSTNode, changed: cst.CSTNode) -> bool:
    return (
        isinstance(node, cst.SimpleString)
        and isinstance(changed, cst.SimpleString)
        and node.value.lower() == changed.value.lower()
    )


def _differs(source: str, changed: str) -> bool:
    """Return whether the change makes another program, and one that Python reads."""
    try:
        return ast.dump(ast.parse(source)) != ast.dump(ast.parse(changed))
    except SyntaxError:
        return False


def _changed_lines(source: str, changed: str) -> tuple[str, str]:
    """Return the lines that go and those that come, each stripped and joined by spaces."""
    old, new = source.splitlines(), changed.splitlines()
    gone, come = [], []
    matcher = difflib.SequenceMatcher(None, old, new, autojunk=False)
    for tag, old_from, old_to, new_from, new_to in matcher.get_opcodes():
        if tag != "equal":
            gone += [line.strip() for line in old[old_from:old_to]]
            come += [line.strip() for line in new[new_from:new_to]]
    return " ".join(gone), " ".join(come)


def python_files(root: Path, package: str) -> Iterator[str]:
    """Yield the package's source files, sorted, as paths from `root`."""
    for path in sorted((root / package).rglob("*.py")):
        yield path.relative_to(root).as_posix()

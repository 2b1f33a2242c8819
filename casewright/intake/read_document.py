"""The one door to the YAML library: a file to plain values with their places.

Maps keep their order and may not say a key twice; values are texts, numbers, true, false, nothing,
lists and maps. Dates stay texts. An anchor may be used again by its alias.
"""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from ruamel.yaml import YAML
from ruamel.yaml.composer import Composer
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode
from ruamel.yaml.reader import ReaderError

from casewright.errors import Fault
from casewright.intake.document import Blame, Document, KeyPath, Place, placed_fault, shown
from casewright.intake.text_file import FileSize, read_text

# The demo's longest file has 5 kB and 200 values; a hundred such files in one are read in seconds.
# Aliases can blow up a small file without end, and nest it deeper than any reader can follow.
SIZE = FileSize(kind="a YAML file", most_bytes=1_000_000)
MOST_VALUES = 20_000
DEEPEST = 40
MOST_KEPT = 16  # texts of this run; a job names a handful of files
LONGEST_NUMBER = 40  # characters; no number of a job has more than 20
_TAG = "tag:yaml.org,2002:"


class _Beyond(NamedTuple):
    """A limit of this reader: how going beyond it is told, and what is allowed."""

    found: str
    allowed: str


_TOO_DEEP = _Beyond(
    f"lists or maps nested too deep, {DEEPEST + 1} in each other",
    f"at most {DEEPEST} lists or maps in each other",
)
_YAML = "YAML: keys and values, indented by spaces"
_STRICTLY = "YAML, with escapes for characters up to U+10FFFF"
_PLAIN = "plain maps, lists and values"
_OTHER_VERSION = _Beyond("another version of YAML", "YAML 1.1 or 1.2")
_NOT_YAML = _Beyond("text that is not YAML", _STRICTLY)
_TOO_MANY = _Beyond(f"more than {MOST_VALUES} values", f"at most {MOST_VALUES} values in a file")


def read_document(path: Path, faults: list[Fault], blame: Blame | None = None) -> Document | None:
    """Return the file's values and places, or None after adding the faults that prevent it.

    Duplicate keys and values of a strange kind are added to `faults` too, but leave a document.
    `blame` makes the fault of a file that cannot be opened, see `read_text`.
    """
    text = read_text(path, faults, SIZE, blame)
    return None if text is None else document_of(path, text, faults)


def document_of(path: Path, text: str, faults: list[Fault]) -> Document | None:
    """Return the values and places of a file's text, as `read_document` does."""
    document, found = _read_once(path, text)
    faults += found
    return document


@lru_cache(maxsize=MOST_KEPT)
def _read_once(path: Path, text: str) -> tuple[Document | None, tuple[Fault, ...]]:
    """Return what a text reads as; a job that is changed again and again keeps its libraries."""
    faults: list[Fault] = []
    return _composed(path, text, faults), tuple(faults)


def _composed(path: Path, text: str, faults: list[Fault]) -> Document | None:
    yaml = YAML(typ="safe", pure=True)
    yaml.Composer = _Limited
    try:
        top = yaml.compose(text)
    except YAMLError as problem:
        faults.append(_syntax_fault(path, text, problem))
        return None
    if not isinstance(top, MappingNode):
        place = Place(1, None) if top is None else _place(top)
        found = "an empty file" if top is None else _kind(top)
        faults.append(placed_fault(path, place, found=found, allowed="a map of keys and values"))
        return None
    walk = _Walk(path, yaml, faults)
    data = walk.map_of(top, ())
    return Document(path, data, walk.places, frozenset(walk.refused))


class _Limited(Composer):
    """Puts nodes together until there are too many of them, or they lie too deep."""

    def __init__(self, loader: Any = None) -> None:
        super().__init__(loader)
        self.warn_double_anchors = False  # an anchor may be set anew; the last one counts
        self._values = 0
        self._above = 0

    def get_single_node(self) -> Any:
        """Return the top node, or None of an empty file."""
        try:
            return super().get_single_node()
        except YAMLError:
            raise
        except AssertionError:  # the library's word for versions such as 1.3
            raise _TooMuch(_OTHER_VERSION, None) from None
        except Exception:
            # The library leaves some texts to whatever Python says of them: escapes above U+10FFFF
            # are an OverflowError.
            raise _TooMuch(_NOT_YAML, self.loader.reader.get_mark()) from None

    def compose_node(self, parent: Any, index: Any) -> Any:
        """Return the next node; `index` is None for the keys of a map, and for the top."""
        self._values += index is not None
        if self._values > MOST_VALUES:
            raise _TooMuch(_TOO_MANY, self._mark())
        if self._above > DEEPEST:
            raise _TooMuch(_TOO_DEEP, self._mark())
        self._above += 1
        node = super().compose_node(parent, index)
        self._above -= 1
        return node

    def _mark(self) -> Any:
        return self.parser.peek_event().start_mark


class _TooMuch(MarkedYAMLError):
    """A limit of this reader, or of the library, that a file goes beyond."""

    def __init__(self, beyond: _Beyond, mark: Any) -> None:
        super().__init__(problem=beyond.found, problem_mark=mark)
        self.beyond = beyond


class _Walk:
    """One pass over the nodes of a file."""

    def __init__(self, path: Path, yaml: Any, faults: list[Fault]) -> None:
        self.path = path
        self.places: dict[KeyPath, Place] = {(): Place(1, None)}
        self.refused: set[KeyPath] = set()
        self._constructor = yaml.constructor
        self._faults = faults
        self._open: list[Node] = []  # the collections that hold the one being read

    def map_of(self, node: MappingNode, key_path: KeyPath) -> dict[str, object]:
        """Return the map's values by key."""
        values: dict[str, object] = {}
        self._open.append(node)
        for key_node, value_node in node.value:
            if not isinstance(key_node, ScalarNode) or not key_node.value:
                found = f"{_kind(key_node)} as a key"
                self._refuse(key_node, key_path, found=found, allowed="a word")
                continue
            key = str(key_node.value)
            if key in values:
                first = self.places[(*key_path, key)].line
                found = f"a second time (first in line {first})"
                self._refuse(key_node, (*key_path, key), found=found, allowed="each key once")
                continue
            self.places[(*key_path, key)] = _place(key_node)
            values[key] = self._value(value_node, (*key_path, key))
        self._open.pop()
        return values

    def _list_of(self, node: SequenceNode, key_path: KeyPath) -> list[object]:
        items = []
        self._open.append(node)
        for index, item in enumerate(node.value):
            self.places[(*key_path, index)] = _place(item)
            items.append(self._value(item, (*key_path, index)))
        self._open.pop()
        return items

    def _value(self, node: Node, key_path: KeyPath) -> object:
        trouble = self._trouble(node)
        if trouble is not None:
            self.refused.add(key_path)
            self._refuse(node, key_path, found=trouble.found, allowed=trouble.allowed)
        elif len(self.places) > MOST_VALUES + 1:
            pass  # told once, by the value that was one too many
        elif isinstance(node, MappingNode):
            return self.map_of(node, key_path)
        elif isinstance(node, SequenceNode):
            return self._list_of(node, key_path)
        elif isinstance(node, ScalarNode):
            return self._scalar(node, key_path)
        return None

    def _trouble(self, node: Node) -> _Beyond | None:
        """Return what keeps the node from being read."""
        if any(node is holder for holder in self._open):
            return _Beyond("an alias of what it stands in", _PLAIN)
        if len(self._open) > DEEPEST:
            return _TOO_DEEP
        if len(self.places) == MOST_VALUES + 2:  # the top has a place too
            return _TOO_MANY
        tag = str(node.tag)
        if tag.removeprefix(_TAG) in _READ_AS:
            return None
        return _Beyond(f"the tag {shown(tag)}", _PLAIN)

    def _scalar(self, node: ScalarNode, key_path: KeyPath) -> object:
        kind = _READ_AS[str(node.tag).removeprefix(_TAG)]
        try:
            return _scalar(kind, node, self._constructor)
        except (ArithmeticError, LookupError, TypeError, ValueError):
            self.refused.add(key_path)
            allowed = f"{kind} that can be read"
            self._refuse(node, key_path, found=shown(node.value), allowed=allowed)
            return None

    def _refuse(self, node: Node, key_path: KeyPath, *, found: str, allowed: str) -> None:
        self._faults.append(
            placed_fault(self.path, _place(node), key_path, found=found, allowed=allowed)
        )


def _scalar(kind: str, node: ScalarNode, constructor: Any) -> object:
    match kind:
        case "nothing":
            return None
        case "true or false":
            return bool(constructor.construct_yaml_bool(node))
        case "a whole number":
            return int(constructor.construct_yaml_int(_short(node)))
        case "a number":
            return float(constructor.construct_yaml_float(_short(node)))
        case _:
            return str(node.value)


def _short(node: ScalarNode) -> ScalarNode:
    """Return a node of a number that is not too long.

    Raises:
        ValueError: it is. Python reads it, but refuses to write it again.
    """
    if len(node.value) > LONGEST_NUMBER:
        raise ValueError(node.value)
    return node


# What is read, by the tag that YAML gives it; everything that is not listed is refused.
_READ_AS = {
    "map": "a map",
    "seq": "a list",
    "null": "nothing",
    "bool": "true or false",
    "int": "a whole number",
    "float": "a number",
    "str": "a text",
    "timestamp": "a text",
    "merge": "a text",
    "value": "a text",
}


def _syntax_fault(path: Path, text: str, problem: YAMLError) -> Fault:
    version = text[: max(text.find("%YAML"), 0)].count("\n") + 1
    place, found, allowed = Place(version, None), "text that is not YAML", _YAML
    if isinstance(problem, MarkedYAMLError):
        mark = problem.problem_mark or problem.context_mark
        if mark is not None:
            place = Place(mark.line + 1, mark.column + 1)
        found = _plainly(" ".join(str(problem.problem or problem.context or found).split()))
        allowed = problem.beyond.allowed if isinstance(problem, _TooMuch) else _YAML
    elif isinstance(problem, ReaderError):
        before = text[: problem.position]
        place = Place(before.count("\n") + 1, len(before) - before.rfind("\n"))
        found = f"the character {shown(text[problem.position : problem.position + 1])}"
    return placed_fault(path, place, found=found, allowed=allowed)


def _plainly(problem: str) -> str:
    """Return the YAML library's words as they follow the word "found"."""
    if match := re.fullmatch(r"expected (.+), but (?:found|got) (.+)", problem):
        return f"{match[2]} in place of {match[1]}"
    return problem.removeprefix("but ").removeprefix("found ")


def _place(node: Node) -> Place:
    return Place(node.start_mark.line + 1, node.start_mark.column + 1)


def _kind(node: Node) -> str:
    if isinstance(node, MappingNode):
        return "a map"
    if isinstance(node, SequenceNode):
        return "a list"
    return shown(node.value) if node.value else "nothing"

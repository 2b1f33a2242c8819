"""The one door to the YAML library: a file to plain values with their places.

Maps keep their order and may not say a key twice; values are texts, numbers, true, false, nothing,
lists and maps. Dates stay texts. An anchor may be used again by its alias.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode
from ruamel.yaml.reader import ReaderError

from casewright.errors import Fault
from casewright.intake.document import Blame, Document, KeyPath, Place, placed_fault, shown
from casewright.intake.text_file import read_text

# Aliases can blow up a small file without end, and nest it deeper than any reader can follow.
MOST_VALUES = 100_000
DEEPEST = 40
_TAG = "tag:yaml.org,2002:"
_TOO_DEEP = "lists or maps nested too deep"


def read_document(path: Path, faults: list[Fault], blame: Blame | None = None) -> Document | None:
    """Return the file's values and places, or None after adding the faults that prevent it.

    Duplicate keys and values of a strange kind are added to `faults` too, but leave a document.
    `blame` makes the fault of a file that cannot be opened, see `read_text`.
    """
    text = read_text(path, faults, blame)
    if text is None:
        return None
    yaml = YAML(typ="safe", pure=True)
    try:
        top = yaml.compose(text)
    except YAMLError as problem:
        faults.append(_syntax_fault(path, text, problem))
        return None
    except RecursionError:
        faults.append(placed_fault(path, Place(1, None), found=_TOO_DEEP, allowed="plain maps"))
        return None
    if not isinstance(top, MappingNode):
        place = Place(1, None) if top is None else _place(top)
        found = "an empty file" if top is None else _kind(top)
        faults.append(placed_fault(path, place, found=found, allowed="a map of keys and values"))
        return None
    walk = _Walk(path, yaml, faults)
    data = walk.map_of(top, ())
    return Document(path, data, walk.places, frozenset(walk.refused))


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
            self._refuse(node, key_path, found=trouble, allowed="plain maps, lists and values")
        elif len(self.places) > MOST_VALUES:
            pass  # told once, by the value that was one too many
        elif isinstance(node, MappingNode):
            return self.map_of(node, key_path)
        elif isinstance(node, SequenceNode):
            return self._list_of(node, key_path)
        elif isinstance(node, ScalarNode):
            return self._scalar(node, key_path)
        return None

    def _trouble(self, node: Node) -> str | None:
        """Return what keeps the node from being read."""
        if any(node is holder for holder in self._open):
            return "an alias of what it stands in"
        if len(self._open) > DEEPEST:
            return _TOO_DEEP
        if len(self.places) == MOST_VALUES + 1:
            return f"more than {MOST_VALUES} values"
        tag = str(node.tag)
        return None if tag.removeprefix(_TAG) in _READ_AS else f"the tag {shown(tag)}"

    def _scalar(self, node: ScalarNode, key_path: KeyPath) -> object:
        kind = _READ_AS[str(node.tag).removeprefix(_TAG)]
        try:
            return _scalar(kind, node, self._constructor)
        except (ValueError, KeyError, IndexError, OverflowError):
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
            return int(constructor.construct_yaml_int(node))
        case "a number":
            return float(constructor.construct_yaml_float(node))
        case _:
            return str(node.value)


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
    place, found = Place(1, None), "text that is not YAML"
    if isinstance(problem, MarkedYAMLError):
        mark = problem.problem_mark or problem.context_mark
        if mark is not None:
            place = Place(mark.line + 1, mark.column + 1)
        found = _plainly(" ".join(str(problem.problem or problem.context or found).split()))
    elif isinstance(problem, ReaderError):
        before = text[: problem.position]
        place = Place(before.count("\n") + 1, len(before) - before.rfind("\n"))
        found = f"the character {shown(text[problem.position : problem.position + 1])}"
    return placed_fault(
        path, place, found=found, allowed="YAML: keys and values, indented by spaces"
    )


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

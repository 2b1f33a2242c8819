"""A YAML file's values as the text that each takes up, so that one can be changed in its place.

Spans count characters from the start of the text. What an alias stands for is not looked into, as
it is written elsewhere.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.composer import Composer
from ruamel.yaml.events import AliasEvent
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from casewright.intake.document import KeyPath


class Style(Enum):
    """How a value is written."""

    PLAIN = "a word or number as it stands"
    SINGLE = "in single quotes"
    DOUBLE = "in double quotes"
    LINES = "a text in lines of its own"
    ALIAS = "an alias of another value"
    FLOW_MAP = "a map in braces"
    FLOW_LIST = "a list in brackets"
    BLOCK_MAP = "a map, a key a line"
    BLOCK_LIST = "a list, a dash a line"


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceNode:
    """A value: from `start` to `end`, without its anchor and tag. Nothing written takes no text."""

    style: Style
    start: int
    end: int
    entries: tuple[SourceEntry, ...] = ()

    @property
    def in_block(self) -> bool:
        """Whether its entries stand in lines of their own."""
        return self.style in (Style.BLOCK_MAP, Style.BLOCK_LIST)

    @property
    def content_end(self) -> int:
        """Where its last character stands that is no comment and no blank."""
        return self.entries[-1].node.content_end if self.in_block else self.end

    def at(self, key_path: KeyPath) -> SourceNode | None:
        """Return the value at a path, None where an alias stands in the way."""
        node = self
        for key in key_path:
            found = next((entry.node for entry in node.entries if entry.key == key), None)
            if found is None:
                return None
            node = found
        return node


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceEntry:
    """A key with its value, or an item of a list by its index; `start` is that of key or item."""

    key: str | int
    key_style: Style
    start: int
    node: SourceNode


def source_of(text: str) -> SourceNode:
    """Return the top of a text that `read_document` reads without a fault."""
    yaml = YAML(typ="safe", pure=True)
    yaml.Composer = _WithAliases
    return _node(yaml.compose(text), text)


class _WithAliases(Composer):
    """Leaves an alias an alias, with its own place."""

    def __init__(self, loader: Any = None) -> None:
        super().__init__(loader)
        self.warn_double_anchors = False

    def compose_node(self, parent: Any, index: Any) -> Any:
        """Return the next node."""
        if not self.parser.check_event(AliasEvent):
            return super().compose_node(parent, index)
        event = self.parser.get_event()
        return ScalarNode(_ALIAS, event.anchor, event.start_mark, event.end_mark)


_ALIAS = "alias"
_PROPERTIES = re.compile(r"(?:[&!]\S*\s+)*(?:[&!]\S*$)?")  # anchor and tag
_COLON = re.compile(r"[ \t]*:(?:[ \t]+[&!]\S*)*")  # behind a key, with anchor and tag
_STYLES = {
    None: Style.PLAIN,
    "'": Style.SINGLE,
    '"': Style.DOUBLE,
    "|": Style.LINES,
    ">": Style.LINES,
}


def _node(node: Node, text: str, key_end: int | None = None) -> SourceNode:
    """Return a value with all below it; `key_end` is where its key ends, if it has one."""
    start, end = _span(node, text)
    match node:
        case MappingNode():
            return SourceNode(
                style=Style.FLOW_MAP if node.flow_style else Style.BLOCK_MAP,
                start=start,
                end=end,
                entries=tuple(
                    SourceEntry(
                        key=str(key.value),
                        key_style=_STYLES[key.style],
                        start=key.start_mark.index,
                        node=_node(value, text, key.end_mark.index),
                    )
                    for key, value in node.value
                ),
            )
        case SequenceNode():
            return SourceNode(
                style=Style.FLOW_LIST if node.flow_style else Style.BLOCK_LIST,
                start=start,
                end=end,
                entries=tuple(
                    SourceEntry(
                        key=index,
                        key_style=Style.PLAIN,
                        start=item.start_mark.index,
                        node=_node(item, text),
                    )
                    for index, item in enumerate(node.value)
                ),
            )
    style = Style.ALIAS if node.tag == _ALIAS else _STYLES[getattr(node, "style", None)]
    if style is Style.LINES:
        end = start + len(text[start:end].rstrip("\r\n"))
    if start == end and key_end is not None:
        # The library takes nothing to stand behind the comments that follow.
        colon = _COLON.match(text, key_end)
        start = end = colon.end() if colon else start
    return SourceNode(style=style, start=start, end=end)


def _span(node: Node, text: str) -> tuple[int, int]:
    """Return where a value stands, behind its anchor and tag."""
    start, end = node.start_mark.index, node.end_mark.index
    before = _PROPERTIES.match(text[start:end])
    return start + (before.end() if before else 0), end

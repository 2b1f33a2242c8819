"""Values put into the text of a YAML file, or taken out of it, and nothing else touched.

Each edit takes the nodes of the text as it is and returns the new text, or None where the way the
file is written leaves no place for it. What the new text reads as, is for the caller to look at.
"""

from __future__ import annotations

from casewright.intake.document import KeyPath
from casewright.intake.source_nodes import SourceEntry, SourceNode, Style
from casewright.intake.write_value import Value, Writing
from parametric.stock.lengths import Units

USUAL_INDENT = 2


def replaced(text: str, node: SourceNode, written: str) -> str:
    """Return the text with the value written anew."""
    blank = " " if node.start == node.end else ""  # behind the colon of a key without a value
    return f"{text[: node.start]}{blank}{written}{text[node.end :]}"


def removed(text: str, top: SourceNode, key_path: KeyPath) -> str | None:
    """Return the text without one entry of a map or list; the only one leaves an empty one."""
    *above, key = key_path
    holder = top.at(tuple(above))
    if holder is None:
        return None
    place = next((n for n, each in enumerate(holder.entries) if each.key == key), None)
    if place is None:
        return None
    entry = holder.entries[place]
    start, end = entry.start, entry.node.content_end
    in_list = holder.style is Style.BLOCK_LIST
    if in_list:
        start = text.rindex("-", 0, entry.start)
    if len(holder.entries) == 1:
        return text[:start] + _empty(text, top, key_path, start) + text[end:]
    if not holder.in_block:
        return _out_of_flow(text, holder, place)
    line_start, line_end = _line_start(text, start), _line_end(text, end)
    if not text[line_start:start].strip():
        behind = _behind_break(text, line_end)
        return text[:line_start] + text[behind:]
    # The first key stands behind the dash of an item: the next one takes its place.
    rest = text[line_end:]
    return text[:start] + rest.lstrip()


def added(text: str, top: SourceNode, key_path: KeyPath, value: Value, units: Units) -> str | None:
    """Return the text with a new entry behind the last of its map or list.

    Raises:
        LengthError: a length is out of all bounds.
        ValueError: a number is not finite.
    """
    *above, key = key_path
    holder = top.at(tuple(above))
    if holder is None:
        return None
    writing = Writing(units=units)
    step = _indent(text, top)
    if holder.style is Style.PLAIN and holder.start == holder.end and above and top.in_block:
        entry = _entry(top, tuple(above))
        column = _column(text, entry.start) + step
        lines = list(writing.lines(str(key), value, step))
        return _below(text, holder.end, column, lines)
    if not holder.in_block:
        return _into_flow(text, holder, key, value, units)
    last = holder.entries[-1]
    if holder.style is Style.BLOCK_LIST:
        start, lines = text.rindex("-", 0, last.start), [f"- {writing.value(value)}"]
    else:
        start, lines = last.start, list(writing.lines(str(key), value, step))
    return _below(text, holder.content_end, _column(text, start), lines)


def _empty(text: str, top: SourceNode, key_path: KeyPath, start: int) -> str:
    """Return what stands for the only entry when it is gone."""
    *above, _ = key_path
    holder = top.at(tuple(above))
    if holder is None or not holder.in_block:
        return ""
    if holder.style is Style.BLOCK_MAP:
        return "{}"
    # Dashes may stand right below the key of their list, brackets may not.
    key_start = _entry(top, tuple(above)).start
    below = _column(text, start) <= _column(text, key_start)
    return " " * USUAL_INDENT * below + "[]"


def _column(text: str, at: int) -> int:
    return at - _line_start(text, at)


def _entry(top: SourceNode, key_path: KeyPath) -> SourceEntry:
    *above, key = key_path
    holder = top.at(tuple(above))
    found = holder.entries if holder is not None else ()
    return next(entry for entry in found if entry.key == key)


def _below(text: str, at: int, column: int, lines: list[str]) -> str:
    """Return the text with lines below that of a place, indented to a column."""
    end = _line_end(text, at)
    made = "".join(f"{_line_break(text)}{' ' * column}{line}" for line in lines)
    return text[:end] + made + text[end:]


def _into_flow(
    text: str, holder: SourceNode, key: str | int, value: Value, units: Units
) -> str | None:
    if holder.style not in (Style.FLOW_MAP, Style.FLOW_LIST):
        return None
    last = holder.entries[-1] if holder.entries else None
    quoted = last is not None and last.key_style is Style.DOUBLE
    writing = Writing(units=units, style=Style.DOUBLE if quoted else Style.PLAIN)
    written = writing.value(value)
    if holder.style is Style.FLOW_MAP:
        written = f"{writing.text(str(key))}: {written}"
    if last is None:
        inside = holder.start + 1
        return text[:inside] + written + text[inside:]
    end, between = last.node.end, ", "
    line_start = _line_start(text, last.start)
    if line_start > holder.start and not text[line_start : last.start].strip():
        between = f",{_line_break(text)}{text[line_start : last.start]}"
    return text[:end] + between + written + text[end:]


def _out_of_flow(text: str, holder: SourceNode, place: int) -> str:
    """Return the text without an entry; comments in lines of their own stay, and so may a comma."""
    entry = holder.entries[place]
    start, end = entry.start, entry.node.end
    if place + 1 < len(holder.entries):
        following = holder.entries[place + 1].start
        if "\n" not in text[end:following]:
            return text[:start] + text[following:]
        end = text.index(",", end, following) + 1
        line_start, line_end = _line_start(text, start), _line_end(text, end)
        alone = not text[line_start:start].strip() and not text[end:line_end].strip()
        if alone:
            return text[:line_start] + text[_behind_break(text, line_end) :]
        return text[:start] + text[end:]
    before = holder.entries[place - 1].node.end
    if "\n" not in text[before:start]:
        return text[:before] + text[end:]
    return text[:start] + text[end:]


def _indent(text: str, top: SourceNode) -> int:
    """Return by how much the first map in the top one is indented."""
    for entry in top.entries:
        if entry.node.style is Style.BLOCK_MAP:
            start = entry.node.entries[0].start
            return _column(text, start)
    return USUAL_INDENT


def _line_start(text: str, at: int) -> int:
    return text.rfind("\n", 0, at) + 1


def _line_end(text: str, at: int) -> int:
    """Return where the line of a place ends, before its break."""
    end = text.find("\n", at)
    if end < 0:
        return len(text)
    return end - 1 if end > at and text[end - 1] == "\r" else end


def _behind_break(text: str, line_end: int) -> int:
    end = text.find("\n", line_end)
    return len(text) if end < 0 else end + 1


def _line_break(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"

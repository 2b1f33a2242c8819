"""Ways to spoil a file: its bytes, lines, cells, YAML nodes, numbers, names, or what it is at all.

Each takes a source of chance and gives the same for the same source.
"""

import codecs
import gzip
import os
import random
import re
import socket
from collections.abc import Callable
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

NUMBERS = (
    "0", "-0", "-1", "0.1", "1e2", "1e999", "-1e999", "1e-400", ".nan", ".inf", "-.inf", "nan",
    "inf", "Infinity", "0x1F", "0x" + "f" * 9000, "0o17", "0b1", "017", "1_000", "1:30:30",
    "1:" * 3000 + "1", "9" * 5000, "9" * 19, "9" * 400, "0." + "3" * 500, "1/0", "1/3", "1 1/0 in",
    "1000000", "1000001", "2147483648", "9223372036854775808", "1,5", "1.5.5", "+5", "٣", "½", "²",
    "5 mm", "5 mm mm", "5 kg", "true", "null", "~", "2020-01-01", "10e", "--5", "1e400 mm",
)  # fmt: skip
NAMES = (
    "", " ", "\u00e9", "e\u0301", "a" * 41, "a" * 201, "a" * 140_000, "CON", "aux.dxf", "..",
    "../x", "/etc", "a/b", "a\\b", "a\x00b", "\x00", "\x1b[31m", "\u202e", "\u200b", "\u2028",
    "\x85", "\ufeff", "[/red]", "[bold]", "=1+1", "-", "<<", "?", "&a", "*a", "!!python/name:os.x",
    "!x", "%x", "{x}", "%%d", "\U0001f6cf", "yes", "no", "None", "[key]", "machine by file",
    "'", '"', "''", "a: b", "a #b", "`", "@", "|", ">",
)  # fmt: skip
PIECES = (
    b"\x00", b"\xff", b"\xc3", b"\xed\xa0\x80", b"\r", b"\r\r\n", b"\n", b"\t", b"\x0c", b"\x1a",
    b"\xef\xbb\xbf", b"\xe2\x80\xa8", b"\xc2\x85", b"[", b"]", b"{", b"}", b"[" * 3000,
    b"{a: " * 3000, b"- " * 3000, b"? " * 3000, b": ", b"- ", b'"', b"'", b'"""', b"#", b",", b";",
    b"," * 200, b"&a ", b"*a", b"<<: *a", b"!!int ", b"!!float ", b"!!bool ", b"!!binary ",
    b"!!set ", b"!!omap ", b"!!python/object/apply:os.system ", b"!<tag:yaml.org,2002:int> ",
    b"%YAML 1.1\n---\n", b"%YAML 1.3\n---\n", b"%YAML 999999999999.1\n---\n",
    b"%YAML 1.999999999999\n---\n", b"%TAG ! tag:x,2000:\n---\n", b"---\n", b"...\n", b"|\n",
    b">9\n", b'"\\ud800"', b'"\\UFFFFFFFF"', b'"\\U00110000"', b'"\\x0"', b'"\\q"', b'"\\0"',
)  # fmt: skip
ENCODINGS = ("utf-16", "utf-16-le", "utf-32", "latin-1", "cp1252", "cp437", "utf-7", "cp037")
HUGE_BYTES = 1 << 40

Content = Callable[[random.Random, bytes], bytes]


def bytes_changed(chance: random.Random, content: bytes) -> bytes:
    """Put a nasty piece, or any bytes, in the place of a few bytes."""
    start = chance.randrange(len(content) + 1)
    length = chance.choice((0, 0, 1, 1, 2, 5, 20, 200))
    anything = chance.randbytes(chance.randrange(1, 4))
    piece = chance.choice((b"", anything, chance.choice(PIECES), chance.choice(PIECES)))
    return content[:start] + piece + content[start + length :]


def lines_changed(chance: random.Random, content: bytes) -> bytes:
    """Drop, double, exchange, indent or join lines."""
    lines = content.splitlines(keepends=True) or [b""]
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    match chance.randrange(6):
        case 0:
            del lines[one : one + chance.choice((1, 1, 3, 10))]
        case 1:
            lines[one:one] = lines[one : one + chance.choice((1, 2, 8))] * chance.choice((1, 2, 9))
        case 2:
            lines[one], lines[other] = lines[other], lines[one]
        case 3:
            lines[one] = chance.choice((b" ", b"  ", b"\t", b"- ", b"# ")) + lines[one]
        case 4:
            lines[one] = lines[one].lstrip()
        case _:
            lines[one] = lines[one].rstrip()
    return b"".join(lines)


def cut_short(chance: random.Random, content: bytes) -> bytes:
    """End the file early, or begin it late."""
    where = chance.randrange(len(content) + 1)
    return chance.choice((content[:where], content[:where], content[where:], b""))


def doubled(chance: random.Random, content: bytes) -> bytes:
    """Say all of it, or its end, again."""
    return content + chance.choice((content, content[len(content) // 2 :], content * 5))


def numbers_changed(chance: random.Random, content: bytes) -> bytes:
    """Put another number, or what looks like one, in the place of one."""
    found = list(re.finditer(rb"[0-9]+(?:\.[0-9]+)?", content))
    if not found:
        return content
    match = chance.choice(found)
    number = float(match[0])
    near = (f"{number * 10:g}", f"{number / 10:g}", f"-{number:g}", f"{number + 1:g}", "0")
    far = (f"{number * 1e6:.0f}", f"{number}.{number}", f"{number:g} in", f"{number:e}")
    instead = chance.choice((*near, *far, *chance.choices(NUMBERS, k=9)))
    return content[: match.start()] + instead.encode() + content[match.end() :]


def names_changed(chance: random.Random, content: bytes) -> bytes:
    """Put another name, or half of one, in the place of a word."""
    found = list(re.finditer(rb"[A-Za-z_-]{2,}", content))
    if not found:
        return content
    match = chance.choice(found)
    other = chance.choice(found)[0]
    instead = chance.choice((match[0][:-1], match[0] + b"x", match[0].upper(), other, other))
    if chance.random() < 0.6:
        instead = chance.choice(NAMES).encode()
    return content[: match.start()] + instead + content[match.end() :]


def encoded_otherwise(chance: random.Random, content: bytes) -> bytes:
    """Write the text in another encoding, with other line ends or marks, or packed."""
    text = content.decode("utf-8", "replace")
    ways = (
        lambda: text.encode(chance.choice(ENCODINGS), "replace"),
        lambda: text.replace("\n", "\r\n").encode(),
        lambda: text.replace("\n", "\r").encode(),
        lambda: text.replace("\n", chance.choice(("\u2028", "\x85", "\x0b", "\n\n"))).encode(),
        lambda: codecs.BOM_UTF8 * chance.choice((1, 2)) + content,
        lambda: gzip.compress(content, mtime=0),
        lambda: bytes(byte for each in content for byte in (each, 0)),
    )
    return chance.choice(ways)()


def cells_changed(chance: random.Random, content: bytes) -> bytes:
    """Change a cell of a table, a column, or what parts them."""
    rows = [line.split(b",") for line in content.splitlines()] or [[b""]]
    row = chance.choice(rows)
    column = chance.randrange(len(row))
    match chance.randrange(6):
        case 0 | 1:
            row[column] = chance.choice((*NUMBERS, *NAMES)).encode()
        case 2:
            row[column] = b'"' + row[column] + chance.choice((b'"', b"", b'""', b'","'))
        case 3:
            for each in rows:
                del each[column : column + 1]
        case 4:
            for each in rows:
                each.insert(
                    column, chance.choice((b"", b"x", each[column] if column < len(each) else b"y"))
                )
        case _:
            return content.replace(b",", chance.choice((b";", b"\t", b",,", b" , ")))
    return b"\n".join(b",".join(each) for each in rows) + b"\n"


def nodes_changed(chance: random.Random, content: bytes) -> bytes:
    """Put something else in the place of a YAML node: nasty, or another node, or an alias."""
    try:
        text = content.decode("utf-8")
        top = YAML(typ="safe", pure=True).compose(text)
    except Exception:  # spoilt before, in whatever way
        return bytes_changed(chance, content)
    nodes = list(_nodes(top)) if top is not None else []
    if not nodes:
        return bytes_changed(chance, content)
    node, other = chance.choice(nodes), chance.choice(nodes)
    instead = chance.choice(
        (
            chance.choice(NUMBERS),
            _quoted(chance.choice(NAMES)),
            chance.choice(
                ("[]", "{}", "[[]]", "{a: 1}", "~", "true", "''", "[1, 2]", "{? [a] : 1}")
            ),
            _flat(text, other),
            f"&a {_flat(text, node)}",
            "[" + ", ".join(["&a [x, x]", *["*a"] * 30]) + "]",
        )
    )
    start, end = node.start_mark.index, node.end_mark.index
    return (text[:start] + instead + text[end:]).encode("utf-8", "surrogatepass")


def _nodes(top: Node) -> Any:
    yield top
    if isinstance(top, MappingNode):
        for key, value in top.value:
            yield key
            yield from _nodes(value)
    elif isinstance(top, SequenceNode):
        for value in top.value:
            yield from _nodes(value)


def _flat(text: str, node: Node) -> str:
    if isinstance(node, ScalarNode):
        return text[node.start_mark.index : node.end_mark.index]
    return "[" + ", ".join(_quoted(line.strip()) for line in text.splitlines()[:3]) + "]"


def _quoted(text: str) -> str:
    """Return a YAML text in double quotes, with escapes."""
    return '"' + "".join(f"\\U{ord(c):08x}" if c in '"\\' or c < " " else c for c in text) + '"'


OF_ANY_FILE: tuple[Content, ...] = (
    bytes_changed, bytes_changed, lines_changed, cut_short, doubled, numbers_changed,
    numbers_changed, names_changed, names_changed, encoded_otherwise,
)  # fmt: skip
OF_TABLES: tuple[Content, ...] = (*OF_ANY_FILE, *(cells_changed,) * 5)
OF_YAML: tuple[Content, ...] = (*OF_ANY_FILE, *(nodes_changed,) * 6)


def put_something_else(chance: random.Random, path: Path) -> None:
    """Put what is no text file, or a link, or too large a file, where a file was."""
    others = sorted(p for p in path.parent.iterdir() if p != path)
    path.unlink()
    ways: tuple[Callable[[], object], ...] = (
        lambda: os.mkfifo(path),
        path.mkdir,
        lambda: path.symlink_to(path.name),
        lambda: path.symlink_to("nothing-there"),
        lambda: path.symlink_to("."),
        lambda: path.symlink_to(chance.choice(others or [path.parent])),
        lambda: path.symlink_to(chance.choice(("/dev/zero", "/dev/null", "/dev/full", "/dev/tty"))),
        lambda: path.symlink_to(chance.choice(("/proc/self/mem", "/proc/self/maps"))),
        lambda: _socket(path),
        lambda: _sparse(path),
        lambda: None,
    )
    chance.choice(ways)()


def _socket(path: Path) -> None:
    with socket.socket(socket.AF_UNIX) as end:
        end.bind(os.fspath(path))


def _sparse(path: Path) -> None:
    with path.open("wb") as stream:
        stream.truncate(HUGE_BYTES)

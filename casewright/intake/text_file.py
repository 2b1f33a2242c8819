"""Text files of a job, as UTF-8 or not at all."""

from __future__ import annotations

from pathlib import Path

from casewright.errors import Fault
from casewright.intake.document import Blame, Place, placed_fault


def read_text(path: Path, faults: list[Fault], blame: Blame | None = None) -> str | None:
    """Return the text, or None after adding a fault; a byte order mark is dropped.

    A file that cannot be opened is a fault of whoever names it (`blame`), or of the file itself.
    """
    try:
        content = path.read_bytes()
    except (OSError, ValueError) as problem:  # ValueError: no file can have such a name
        found = _reason(problem)
        if blame is None:
            faults.append(placed_fault(path, Place(1, None), found=found, allowed="a text file"))
        else:
            faults.append(blame(found, "a text file, named relative to this one"))
        return None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        faults.append(_not_utf8(path, content, problem))
        return None


def _not_utf8(path: Path, content: bytes, problem: UnicodeDecodeError) -> Fault:
    # Decoding skips a byte order mark, and counts from behind it.
    start = problem.start + len(content) - len(problem.object)
    before = content[:start]
    line_start = before.rfind(b"\n") + 1
    return placed_fault(
        path,
        Place(before.count(b"\n") + 1, len(before[line_start:].decode("utf-8", "replace")) + 1),
        found=f"the byte 0x{content[start]:02x}, which is not UTF-8",
        allowed="text in UTF-8",
    )


def _reason(problem: OSError | ValueError) -> str:
    if isinstance(problem, FileNotFoundError):
        return "no such file"
    if isinstance(problem, IsADirectoryError):
        return "a folder"
    if isinstance(problem, OSError) and problem.strerror:
        return f"a file that cannot be opened ({problem.strerror.lower()})"
    return "a name that no file can have"

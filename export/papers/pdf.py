"""The door to the typesetter: source and pictures in, PDF out, the same bytes every time."""

from __future__ import annotations

from pathlib import Path

import typst

from export.papers.typesetting import Source


def pdf_bytes(source: Source) -> bytes:
    """Return the PDF. Fonts come with the typesetter, and no date is written.

    Raises:
        RuntimeError: the source cannot be set, which is a bug.
    """
    files = {name: text.encode() for name, text in source.files}
    # The stub leaves out that a document may come as files by name.
    # Without a root it looks for the working folder, which may be gone; nothing is read from it.
    made = typst.compile(  # type: ignore[call-overload]
        {"main.typ": source.main.encode(), **files},
        root=str(Path(__file__).parent),
        ignore_system_fonts=True,
    )
    if not isinstance(made, bytes):
        raise RuntimeError("the typesetter gave no single PDF")
    return made

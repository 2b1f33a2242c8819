"""The door to the typesetter: source and pictures in, PDF out, the same bytes every time; and how
wide its letters are.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import typst

from export.papers.drawn import PAPER_FONT
from export.papers.typesetting import Source

OFTEN = 10
"""A picture that is shown more often stands in the file once, and pages refer to it."""

_SHOWN = re.compile(r'view\("([^"]+)", ')
"""Where a picture is shown: no text of a person can hold this, since its quotes are escaped."""

_FIRST, _LAST = " ", "~"  # of ASCII, as far as it is seen
_SIZE_PT = 1000

_ALONE = """#set document(date: none)
#set page(width: auto, height: auto, margin: 0mm)
#image("picture.svg")
"""


def pdf_bytes(source: Source) -> bytes:
    """Return the PDF. Fonts come with the typesetter, and no date is written.

    Raises:
        RuntimeError: the source cannot be set, which is a bug.
    """
    files = {name: text.encode() for name, text in source.files}
    return _compiled(_shown_once(source.main, files), files)


def _shown_once(main: str, files: dict[str, bytes]) -> str:
    """Return the source with pictures that are shown often as PDF, of which the typesetter keeps
    one, and take them out of the files: SVG it draws anew on each page.
    """
    definitions = []
    for name, times in Counter(_SHOWN.findall(main)).items():
        if times > OFTEN:
            picture = name.removesuffix(".svg")
            alone = _compiled(_ALONE, {"picture.svg": files.pop(name)}, tags=False)
            definitions.append(f"#let {picture} = bytes(({', '.join(map(str, alone))}))\n")
            main = main.replace(f'view("{name}", ', f"view({picture}, ")
    return "".join(definitions) + main


def _compiled(main: str, files: Mapping[str, bytes], *, tags: bool = True) -> bytes:
    # The stub leaves out that a document may come as files by name.
    # Without a root it looks for the working folder, which may be gone; nothing is read from it.
    made = typst.compile(  # type: ignore[call-overload]
        {"main.typ": main.encode(), **files},
        root=str(Path(__file__).parent),
        font_paths=_fonts(),
        ignore_system_fonts=True,
        pdf_tags=tags,
    )
    if not isinstance(made, bytes):
        raise RuntimeError("the typesetter gave no single PDF")
    return made


@cache
def _fonts() -> typst.Fonts:
    """Return the typesetter's own fonts, read once."""
    return typst.Fonts(include_system_fonts=False)


@cache
def letter_widths(weight: str) -> Mapping[str, float]:
    """Return how wide each letter of ASCII is in a weight of the papers' font, as a share of the
    size of the type.

    Raises:
        RuntimeError: the typesetter does not tell, which is a bug.
    """
    letters = [chr(code) for code in range(ord(_FIRST), ord(_LAST) + 1)]
    main = f"""#context {{
  let set-in(body) = text(font: "{PAPER_FONT}", size: {_SIZE_PT}pt, weight: "{weight}", body)
  let wide(code) = str(measure(set-in(str.from-unicode(code))).width.pt())
  [#metadata(range({ord(_FIRST)}, {ord(_LAST) + 1}).map(wide).join(" ")) <widths>]
}}"""
    # The stub asks for one type of source, selector and field, which are bytes and texts.
    told = typst.query(  # type: ignore[type-var]
        main.encode(),
        "<widths>",
        field="value",
        one=True,
        root=str(Path(__file__).parent),
        font_paths=_fonts(),
        ignore_system_fonts=True,
    )
    widths = [float(width) / _SIZE_PT for width in told.strip('"').split()]
    return dict(zip(letters, widths, strict=True))

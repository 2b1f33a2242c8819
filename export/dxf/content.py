"""What is read from a DXF file, without any type of the DXF library."""

from __future__ import annotations

from dataclasses import dataclass

from export.drawing.primitives import Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class DxfContent:
    """What a DXF file holds, in millimetres.

    `release` is the header's code (AC1024 for R2010), `unit_code` its unit (4: mm, None: not
    stated), `declared` the layers of its layer table without the obligatory layer 0. `unread` names
    whatever is neither a closed path, a circle nor a text.
    """

    drawing: Drawing
    release: str
    unit_code: int | None
    declared: tuple[str, ...]
    unread: tuple[str, ...]

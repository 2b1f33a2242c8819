"""What can go wrong while files are made.

ExportError
├── LayerNameFault    a machine's layer names cannot be used as they are
├── UnfitDrawing      a drawing that must not become a cut file
└── DxfFailure        the DXF library refused to write or to read
"""

from __future__ import annotations


class ExportError(Exception):
    """Root of all errors of this package."""


class LayerNameFault(ExportError):
    """Layer names that clash, or that the oldest DXF version cannot carry."""

    def __init__(self, faults: tuple[str, ...]) -> None:
        """Keep the faults; each names the layer and what is wrong with it."""
        self.faults = faults
        super().__init__("layer names cannot be used: " + "; ".join(faults))


class UnfitDrawing(ExportError):
    """A drawing with duplicate, empty or nameless geometry."""

    def __init__(self, faults: tuple[str, ...]) -> None:
        """Keep the faults; each names the layer, the place and what is wrong."""
        self.faults = faults
        super().__init__("the drawing cannot be written: " + "; ".join(faults))


class DxfFailure(ExportError):
    """A DXF that cannot be written or read; `doing` says which, `found` what stood in the way."""

    def __init__(self, *, doing: str, found: str) -> None:
        """Keep both."""
        self.doing = doing
        self.found = found
        super().__init__(f"{doing}: {found}")

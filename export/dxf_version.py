"""The drawing exchange formats that cut files can be written in."""

from __future__ import annotations

from enum import StrEnum


class DxfVersion(StrEnum):
    """Release of the format, oldest first."""

    R12 = "R12"
    R2000 = "R2000"
    R2010 = "R2010"

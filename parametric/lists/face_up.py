"""Which way up a sheet lies, for the parts that are cut from it."""

from __future__ import annotations

from enum import StrEnum

from parametric.lists.cut_list import Part
from parametric.shapes.panel import Face
from parametric.stock.materials import GoodFaces


class FaceUp(StrEnum):
    """Which face of a nested sheet looks up; the front is the face that is seen once installed."""

    FRONT = "front"
    BACK = "back"
    EITHER = "either"


def face_up(part: Part) -> FaceUp:
    """Return how a sheet must lie for the part to be cut from it."""
    if part.material.good_faces is not GoodFaces.ONE:
        return FaceUp.EITHER
    return FaceUp.FRONT if part.front is Face.UP else FaceUp.BACK

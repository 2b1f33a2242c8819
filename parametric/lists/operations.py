"""The operations on the router that a part needs."""

from __future__ import annotations

from enum import StrEnum

from parametric.lists.cut_list import Part
from parametric.shapes.panel import Face


class Operation(StrEnum):
    """Which face of a part is worked."""

    FIRST = "first"
    SECOND = "second"


def operations(part: Part) -> tuple[Operation, ...]:
    """Return the operations that the part needs: a second one if face DOWN is worked."""
    if Face.DOWN in part.panel.faces_worked():
        return (Operation.FIRST, Operation.SECOND)
    return (Operation.FIRST,)

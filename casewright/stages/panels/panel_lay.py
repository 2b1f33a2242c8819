"""How a panel drawn elsewhere lies: its length along the grain, its good face up."""

from __future__ import annotations

from casewright.job import DrawnPanel, GoodFace, PanelGrain
from parametric.geometry.space import Direction, dot
from parametric.lists.part_catalogue import feature_count
from parametric.shapes.board import Show
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.panel import Face, FlatPanel
from parametric.shapes.same_panel import Freedom, near, orientations, same_panel
from parametric.stock.materials import GoodFaces, Grain, SheetMaterial

_LOOKS = 0.5  # cosine from which on a face looks a way


class NotToldHow(ValueError):
    """The row does not say enough: the column, what was found, and what is allowed."""

    def __init__(self, column: str, found: str, allowed: str) -> None:
        super().__init__(column, found, allowed)
        self.column = column
        self.found = found
        self.allowed = allowed


def shown_faces(row: DrawnPanel) -> Show:
    """Return which faces are seen."""
    if row.good_face is GoodFace.NONE:
        return Show.NONE
    return Show.BOTH if row.good_face is GoodFace.BOTH else Show.FRONT


def lay(row: DrawnPanel, material: SheetMaterial, read: LaidPanel) -> LaidPanel:
    """Return the panel with its good face up and the grain along its length.

    Raises:
        NotToldHow: the row leaves open which face or which side is meant, and it matters.
    """
    return along_grain(row, material, front_up(row, material, read))


def front_up(row: DrawnPanel, material: SheetMaterial, read: LaidPanel) -> LaidPanel:
    """Return the panel with its good face up.

    Raises:
        NotToldHow: the face cannot be told.
    """
    if isinstance(row.good_face, Direction):
        looks = dot(row.good_face.vector, read.pose.z_axis)
        if abs(looks) < _LOOKS:
            found = "a way in which neither face looks in the file"
            raise NotToldHow("show_face", found, "the way in which the good face looks")
        return read if looks > 0 else read.turned_over()
    up, down = (feature_count(read.panel, face) for face in (Face.UP, Face.DOWN))
    decides = row.good_face in (GoodFace.MACHINED, GoodFace.PLAIN)
    one_good = material.good_faces is GoodFaces.ONE
    if up == down and decides and one_good and not _same_either_way(read):
        found = "as much machined into one face as into the other, and the two differ"
        allowed = "the way in which the good face looks in the file: x+, x-, y+, y-, z+ or z-"
        raise NotToldHow("show_face", found, allowed)
    machined = read if up >= down else read.turned_over()
    # What nobody sees lies good face down, as most parts of such sheets do.
    plain_up = row.good_face is GoodFace.PLAIN or (row.good_face is GoodFace.NONE and one_good)
    return machined.turned_over() if plain_up else machined


def along_grain(row: DrawnPanel, material: SheetMaterial, laid: LaidPanel) -> LaidPanel:
    """Return the panel with the grain along its length.

    Raises:
        NotToldHow: it is square, so that its length cannot be told.
    """
    if material.grain is Grain.NONE or row.grain is PanelGrain.NONE:
        return laid
    panel = laid.panel
    if near(panel.length_mm, panel.width_mm) and not _same_turned(panel):
        found = f"{row.grain}, of a square panel that is not the same when turned by a quarter"
        raise NotToldHow("grain", found, "none, or a panel with a longer side")
    return laid.turned_quarter() if row.grain is PanelGrain.WIDTH else laid


def _same_either_way(laid: LaidPanel) -> bool:
    over = laid.turned_over()
    return any(
        same_panel(laid.panel, turned.panel) for turned in orientations(over, Freedom.HALF_TURNS)
    )


def _same_turned(panel: FlatPanel) -> bool:
    quarter = panel.turned_quarter()
    return same_panel(panel, quarter) or same_panel(panel, quarter.turned_half())

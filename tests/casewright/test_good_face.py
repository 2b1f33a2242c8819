"""Which way up a board with one good face lies, to the sheet that it is nested on."""

import pytest

from parametric.geometry.hand import Hand
from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.lists.cut_list import Part
from parametric.lists.face_up import FaceUp, face_up
from parametric.lists.part_catalogue import PartCatalogue, ReadBoard
from parametric.shapes.board import Board, Show
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.panel import Face, FlatPanel
from parametric.stock.materials import GoodFaces
from tests.export.sample_parts import LAMINATED, bore, flat_panel


def as_part(panel: FlatPanel) -> Part:
    """The cut list's line for a board that lies on the floor, its good face (the front) up."""
    board = Board(
        name="shelf",
        unit="table",
        description="shelf",
        material=LAMINATED,
        box=Box(Point(0.0, 0.0, 0.0), Point(panel.length_mm, panel.width_mm, 18.0)),
        grain=Axis.X,
        facing=Direction.Z_PLUS,
        show=Show.FRONT,
    )
    pose = Pose(Point(0.0, 0.0, 0.0), Point(1.0, 0.0, 0.0), Point(0.0, 0.0, 1.0))
    volume_mm3 = panel.length_mm * panel.width_mm * 18.0
    catalogue = PartCatalogue(pre_mill_mm=0.0)
    read = ReadBoard(board=board, laid=LaidPanel(panel, pose), volume_mm3=volume_mm3)
    catalogue.add_set("set", Hand.RIGHT, (read,), 1)
    (found,) = catalogue.parts()
    return found


@pytest.mark.parametrize(
    ("bores", "front", "up"),
    [
        ((), Face.DOWN, FaceUp.BACK),
        ((bore(100, 100, 5, None),), Face.DOWN, FaceUp.BACK),
        ((bore(100, 100, 5, 9, Face.DOWN),), Face.DOWN, FaceUp.BACK),
        ((bore(100, 100, 5, 9, Face.UP), bore(50, 50, 5, 9, Face.DOWN)), Face.DOWN, FaceUp.BACK),
        ((bore(100, 100, 5, 9, Face.UP),), Face.UP, FaceUp.FRONT),
    ],
    ids=["nothing worked", "a hole right through", "back worked", "both worked", "front worked"],
)
def test_the_good_face_lies_down_unless_only_it_is_worked(bores, front: Face, up: FaceUp) -> None:
    """Rule, by hand: with blind work on one face that face looks up; in any other case the good
    face lies down, so that all such parts share sheets. Common practice, no source.
    """
    assert LAMINATED.good_faces is GoodFaces.ONE
    found = as_part(flat_panel(400.0, 300.0, bores=bores))
    assert found.front is front
    assert face_up(found) is up

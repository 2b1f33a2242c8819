"""Which paths are routed holes: two half circles, wherever their ends lie (by hand)."""

import pytest

from export.expected_cuts import RoundCut, round_cut
from parametric.geometry.outline import Vertex


@pytest.mark.parametrize(
    ("start", "end"), [((10, 20), (13, 24)), ((13, 24), (10, 20)), ((10, 24), (13, 20))]
)
@pytest.mark.parametrize("bulge", [1.0, -1.0])
def test_two_half_circles_are_a_hole(
    start: tuple[float, float], end: tuple[float, float], bulge: float
) -> None:
    """Ends 3 mm apart along x and 4 mm along y: a diameter of 5 mm round the middle."""
    found = round_cut("GROOVE", (Vertex(*start, bulge), Vertex(*end, bulge)))
    assert found == RoundCut(layer="GROOVE", x=11.5, y=22.0, diameter_mm=5.0, drilled=False)


@pytest.mark.parametrize("at", [((0.0, 0.0), (5.0, 0.0)), ((0.0, 5.0), (0.0, 0.0))])
def test_ends_along_one_axis(at: tuple[tuple[float, float], tuple[float, float]]) -> None:
    found = round_cut("A", tuple(Vertex(*point, 1.0) for point in at))
    assert found is not None
    assert found.diameter_mm == 5.0


@pytest.mark.parametrize(
    "vertices",
    [
        (Vertex(0, 0, 1.0), Vertex(5, 0, 0.0)),  # half a circle and a chord
        (Vertex(0, 0, 1.0), Vertex(5, 0, 0.9)),  # not quite a circle
        (Vertex(0, 0, 1.0), Vertex(5, 0, 1.0), Vertex(0, 0, 1.0)),
        (Vertex(0, 0, 1.0),),
    ],
)
def test_other_paths_are_no_holes(vertices: tuple[Vertex, ...]) -> None:
    assert round_cut("A", vertices) is None

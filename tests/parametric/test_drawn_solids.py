"""Solids that other programs draw: read as the panels they are, or refused with a reason."""

import math
from concurrent.futures import ThreadPoolExecutor

import cadquery as cq
import pytest

from parametric.shapes.panel import Face
from parametric.shapes.same_panel import Freedom, orientations, same_panel
from parametric.solids.drawn_solid import drawn_solid
from parametric.solids.flatten import Reading
from parametric.solids.kernel_errors import KernelFailure, NotFlat
from parametric.solids.panel_solid import panel_solid
from parametric.solids.read_step import NoSolids, step_solids
from parametric.solids.step_process import StepProcess
from tests import drawn_shapes as drawn
from tests.drawn_shapes import V, anywhere, as_free_form, board, bore, less, step_of, tip
from tests.solid_assertions import difference_mm3, placed


def read_back(shape: cq.Shape) -> Reading:
    """What is read from a STEP file with the shape alone in it."""
    (solid,) = step_solids(step_of(shape)).solids
    return drawn_solid("drawn", solid).read()


def difference(reading: Reading, shape: cq.Shape) -> float:
    rebuilt = panel_solid("rebuilt", reading.laid.panel)
    return difference_mm3(placed(rebuilt, reading.laid.pose), shape)


@pytest.mark.parametrize("where", [lambda shape: shape, anywhere], ids=["still", "anywhere"])
@pytest.mark.parametrize(
    "shape",
    [
        drawn.door(),
        drawn.door().mirror("YZ"),
        drawn.half_cylinders(),
        drawn.dowel_into_recess(),
        drawn.crossing_bores(),
        drawn.bore_across_a_hole(),
        cq.Solid.makeCylinder(150, 18),
    ],
    ids=["door", "mirrored door", "halves", "dowel", "crossing", "across a hole", "disc"],
)
def test_a_panel_is_read_as_its_solid(shape: cq.Solid, where) -> None:
    assert difference(read_back(where(shape)), where(shape)) < 0.1


@pytest.mark.parametrize("shape", [drawn.door(), drawn.half_cylinders()], ids=["door", "halves"])
def test_free_form_surfaces_are_what_they_are(shape: cq.Solid) -> None:
    plain, free = read_back(shape), read_back(anywhere(as_free_form(shape)))
    freedom = Freedom.TURNING_OVER | Freedom.QUARTER_TURNS
    assert any(
        same_panel(plain.laid.panel, turned.panel) for turned in orientations(free.laid, freedom)
    )


def test_faces_that_look_inwards_do_not_matter() -> None:
    inside_out = cq.Solid(drawn.door().wrapped.Reversed())
    assert inside_out.Volume() < 0
    reading = drawn_solid("drawn", step_solids(step_of(inside_out)).solids[0]).read()
    assert difference(reading, drawn.door()) < 0.1


def test_half_cylinders_are_one_bore() -> None:
    """By hand: 8 x 30 into the short edge, 9 above either face."""
    (found,) = read_back(drawn.half_cylinders()).laid.panel.edge_bores
    assert (found.diameter_mm, found.depth_mm, found.z_mm) == pytest.approx((8, 30, 9), abs=1e-6)


def test_a_bore_into_a_recess_is_as_deep_as_its_wall() -> None:
    """By hand: the recess's wall is furthest in beside the bore: 34 - (7.5^2 - 4^2)^(1/2)."""
    panel = read_back(anywhere(drawn.dowel_into_recess())).laid.panel
    (dowel,) = panel.edge_bores
    assert dowel.depth_mm == pytest.approx(34 - math.sqrt(7.5**2 - 4**2), abs=1e-4)
    (recess,) = panel.bores
    assert (recess.diameter_mm, recess.depth_mm) == pytest.approx((15, 13), abs=1e-6)


def test_bores_that_overlap_are_drilled_whole() -> None:
    """A hinge's recess of 35 x 12.5 with a bore of 8 x 10 that runs into it, and one that the edge
    of the board cuts: each is the circle that a drill makes, not what is left of its bottom.
    """
    shape = less(
        board(),
        bore(17.5, 12.5, (60, 50, 5.5), (0, 0, 1)),
        bore(4, 10, (60, 69, 8), (0, 0, 1)),
        bore(5, 10, (150, 3, 8), (0, 0, 1)),
    )
    reading = read_back(anywhere(shape))
    found = sorted((b.diameter_mm, b.depth_mm) for b in reading.laid.panel.bores)
    assert found == [pytest.approx(each) for each in [(8, 10), (10, 10), (35, 12.5)]]
    assert reading.laid.panel.pockets == ()
    assert difference(reading, anywhere(shape)) < 0.1


@pytest.mark.parametrize("change", [lambda shape: shape, as_free_form], ids=["plain", "free form"])
def test_a_drill_tip_is_left_to_the_drill(change) -> None:
    """By hand: the full diameter goes 10 deep, and the tip is a cone of 8 across."""
    shape = change(drawn.drilled())
    reading = read_back(anywhere(shape))
    (found,) = reading.laid.panel.bores
    assert (found.diameter_mm, found.depth_mm) == pytest.approx((8, 10), abs=1e-5)
    assert found.face is Face.UP
    assert reading.tips == 1
    assert difference(reading, anywhere(shape)) == pytest.approx(
        math.pi * 16 * 2.4034 / 3, rel=0.02
    )


def test_a_point_in_a_flat_bottom_and_a_tip_in_an_edge_bore() -> None:
    pointed = less(
        board(), bore(7.5, 12, (50, 50, 6), (0, 0, 1)), tip(2, 1.2, (50, 50, 6), (0, 0, -1))
    )
    reading = read_back(pointed)
    assert [(b.diameter_mm, b.depth_mm) for b in reading.laid.panel.bores] == [(15, 12)]
    edge = less(board(), bore(4, 30, (0, 50, 9), (1, 0, 0)), tip(4, 2.4, (30, 50, 9), (1, 0, 0)))
    reading = read_back(anywhere(edge))
    (found,) = reading.laid.panel.edge_bores
    assert (found.diameter_mm, found.depth_mm) == pytest.approx((8, 30), abs=1e-6)
    assert reading.tips == 1


@pytest.mark.parametrize("shape", [drawn.leaning(2e-6), drawn.tapering(2e-6)])
def test_two_millionths_out_of_square_are_square(shape: cq.Solid) -> None:
    panel = read_back(anywhere(shape)).laid.panel
    sizes = (panel.length_mm, panel.width_mm, panel.thickness_mm)
    assert sizes == pytest.approx((600, 300, 18), abs=2e-3)


@pytest.mark.parametrize(
    ("shape", "reason"),
    [
        (drawn.leaning(1e-3), r"at \(600\.01, 150\.00, 9\.00\) is 0\.057 degrees off square"),
        (drawn.tapering(1e-3), r"is 0\.057 degrees off square"),
        (drawn.bracket(40), "40 x 60 x 60 mm over all, but its walls are about .*: a bracket"),
        (drawn.bracket(18), "18 x 60 x 60 mm over all, but its walls are about .*: a bracket"),
        (drawn.round_tube(), "as thick as it is wide: a bar, tube"),
        (drawn.square_tube(), "40 x 40 x 500 mm over all, as thick as it is wide: a bar, tube"),
        (cq.Solid.makeBox(18, 18, 18), "18 x 18 x 18 mm over all, as thick as it is wide"),
        (drawn.bent_board(), "bent part"),
        (cq.Solid.makeSphere(50), "curved surface"),
        (less(board(), cq.Solid.makeBox(50, 50, 5, V(100, 100, 5))), "hollow inside"),
        (
            less(board(), cq.Solid.makeBox(500, 8, 6, V(-10, 0, 6))),
            r"no bit gets at the face at \(200\.00, 4\.00, 6\.00\)",
        ),
        (
            cq.Workplane("XY").box(400, 200, 18).faces(">Z").workplane().cskHole(5, 10, 82).val(),
            r"at \(0\.00, 0\.00, 7\.\d\d\) is a cone of 82\.0 degrees: a countersink",
        ),
        (
            cq.Workplane("XY").box(400, 200, 18).edges("|X and >Z").fillet(3).val(),
            r"round face at \(0\.00, -9\d\.\d\d, 7\.\d\d\) is not a whole bore: an edge is rounded",
        ),
        (less(board(), bore(4, 400, (0, 50, 18), (1, 0, 0))), "is not a whole bore"),
        (less(board(), bore(4, 400, (0, 0, 9), (1, 0, 0))), "is not a whole bore"),
        (cq.Workplane("XY").ellipse(300, 200).extrude(18).val(), r"curved surface \(extrusion\)"),
    ],
)
def test_what_is_no_panel_is_told_with_its_place(shape: cq.Shape, reason: str) -> None:
    with pytest.raises(NotFlat, match=reason):
        read_back(shape)


@pytest.mark.parametrize("written", [drawn.step_in_metres, drawn.step_in_inches])
def test_files_in_other_units_are_read_in_millimetres(written) -> None:
    content = written(drawn.door())
    assert drawn.MILLIMETRE not in content or b"'INCH'" in content
    (solid,) = step_solids(content).solids
    panel = drawn_solid("drawn", solid).read().laid.panel
    sizes = (panel.length_mm, panel.width_mm, panel.thickness_mm)
    assert sizes == pytest.approx((600, 300, 18), abs=1e-5)


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "an empty file"),
        (b" \n", "an empty file"),
        (b"solid box\nendsolid", "does not begin as STEP files do"),
        (step_of(drawn.door())[:9000], "breaks off, or is damaged"),
        (step_of(drawn.door()).replace(b"#23 =", b"#99023 ="), "breaks off, or is damaged"),
        (step_of(drawn.door()).replace(b"CARTESIAN", b"CARTESIEN"), "no solid in it"),
        (step_of(drawn.door().Faces()[0]), "surfaces that enclose no solid"),
        (step_of(cq.Edge.makeLine(V(0, 0, 0), V(1, 0, 0))), "no solid in it"),
    ],
    # Of their own: what the kernel writes bears the time.
    ids=["empty", "blank", "not STEP", "cut off", "a hole", "misspelt", "a face", "an edge"],
)
def test_files_without_a_solid_say_so(
    content: bytes, reason: str, capfd: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(NoSolids, match=reason):
        step_solids(content)
    assert capfd.readouterr() == ("", ""), "the kernel has printed what it thinks"


def test_every_solid_of_a_file_counts_and_loose_surfaces_are_counted() -> None:
    loose = drawn.door().Faces()[0].moved(cq.Location(V(0, 0, 500)))
    found = step_solids(step_of(drawn.door(), anywhere(board()), loose))
    assert len(found.solids) == 2
    assert found.loose_surfaces == 1


def test_a_file_that_ends_who_reads_it_ends_nobody_else() -> None:
    """The process of its own dies at each file; another one answers as before."""
    dying = StepProcess("import os, sys; sys.stdin.buffer.read(1); os.abort()")
    for _ in range(2):
        with pytest.raises(KernelFailure, match="it ended the process that read it"):
            dying.shape(step_of(drawn.door()))
    dying.close()
    assert step_solids(step_of(drawn.door())).solids


def test_after_a_broken_file_the_next_is_read() -> None:
    content = step_of(drawn.door())
    with pytest.raises(NoSolids, match="breaks off, or is damaged"):
        step_solids(content[:9000])
    (solid,) = step_solids(content).solids
    assert solid.Volume() == pytest.approx(drawn.door().Volume())


def test_a_reader_that_is_asked_from_several_threads_answers_each() -> None:
    contents = [step_of(shape) for shape in (drawn.door(), board())]
    with ThreadPoolExecutor(4) as pool:
        found = list(pool.map(step_solids, contents * 4))
    volumes = [solid.Volume() for held in found for solid in held.solids]
    assert volumes == pytest.approx([drawn.door().Volume(), board().Volume()] * 4)

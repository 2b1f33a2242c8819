"""Flat panels, and what is none, as somebody else would draw them: made with the kernel's own
tools, turned and shifted anywhere, and written as STEP by its own writer.
"""

import tempfile
from pathlib import Path

import cadquery as cq
from OCP.BRepBuilderAPI import BRepBuilderAPI_NurbsConvert

V = cq.Vector
BOARD = (400.0, 200.0, 18.0)


def step_of(*shapes: cq.Shape) -> bytes:
    """The shapes as the only ones of a STEP file in millimetres."""
    whole = shapes[0] if len(shapes) == 1 else cq.Compound.makeCompound(list(shapes))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "drawn.step"
        cq.exporters.export(cq.Workplane(whole), str(path))
        return path.read_bytes()


MILLIMETRE = b"( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.) )"


def step_in_metres(shape: cq.Shape) -> bytes:
    """The shape in a file whose lengths are metres (ISO 10303-41, as its unit says)."""
    return step_of(shape.scale(0.001)).replace(
        MILLIMETRE, b"( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT($,.METRE.) )"
    )


def step_in_inches(shape: cq.Shape) -> bytes:
    """The shape in a file whose lengths are inches, told as a multiple of the millimetre."""
    inch = (
        b"( CONVERSION_BASED_UNIT('INCH',#90001) LENGTH_UNIT() NAMED_UNIT(#90002) );\n"
        b"#90001 = LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),#90003);\n"
        b"#90002 = DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.);\n"
        b"#90003 = " + MILLIMETRE
    )
    return step_of(shape.scale(1 / 25.4)).replace(MILLIMETRE, inch, 1)


def anywhere(shape: cq.Shape) -> cq.Shape:
    """The shape turned about a skew axis and far from the origin."""
    turned = shape.rotate(V(0, 0, 0), V(1.0, 2.0, 0.5), 37.0)
    return turned.moved(cq.Location(V(1000.0, 200.0, -333.0)))


def as_free_form(shape: cq.Shape) -> cq.Shape:
    """The shape with all its surfaces and curves as B-splines."""
    return cq.Shape.cast(BRepBuilderAPI_NurbsConvert(shape.wrapped, True).Shape())


def less(solid: cq.Solid, *tools: cq.Shape) -> cq.Solid:
    return solid.cut(*tools).Solids()[0]


def board() -> cq.Solid:
    return cq.Solid.makeBox(*BOARD)


def bore(radius: float, depth: float, at: tuple[float, ...], way: tuple[float, ...]) -> cq.Solid:
    return cq.Solid.makeCylinder(radius, depth, V(*at), V(*way))


def tip(radius: float, height: float, at: tuple[float, ...], way: tuple[float, ...]) -> cq.Solid:
    return cq.Solid.makeCone(radius, 0, height, V(*at), V(*way))


def drawn_door() -> cq.Workplane:
    """A panel without any symmetry: a rounded corner, holes, a blind bore, a groove, an opening."""
    return (
        cq.Workplane("XY")
        .box(600, 300, 18, centered=False)
        .edges("|Z and >X and >Y")
        .fillet(40)
        .faces(">Z")
        .workplane(origin=(0, 0, 18))
        .pushPoints([(50, 40), (90, 40)])
        .hole(5)
        .pushPoints([(150, 60)])
        .hole(8, 12)
        .moveTo(300, 100)
        .rect(120, 20)
        .cutBlind(-9)
        .moveTo(300, 220)
        .rect(200, 60)
        .cutThruAll()
    )


def door() -> cq.Solid:
    """The same as a solid."""
    return drawn_door().val()


def drilled() -> cq.Solid:
    """A blind bore of 8 x 10 with the tip that a drill of 118 degrees leaves: 4 / tan 59 high."""
    return less(
        board(), bore(4, 10, (50, 50, 8), (0, 0, 1)), tip(4, 2.4034, (50, 50, 8), (0, 0, -1))
    )


def half_cylinders() -> cq.Solid:
    """A bore of 8 x 30 into an edge, its wall drawn as two half cylinders."""
    upper, lower = (
        cq.Workplane("YZ").moveTo(50, 5).threePointArc((y, 9), (50, 13)).close().extrude(30).val()
        for y in (54, 46)
    )
    return less(less(board(), upper), lower)


def dowel_into_recess() -> cq.Solid:
    """A bore of 8 into an edge that ends in a recess of 15 x 13: bores that meet."""
    return less(board(), bore(4, 34, (0, 50, 9), (1, 0, 0)), bore(7.5, 13, (34, 50, 5), (0, 0, 1)))


def crossing_bores() -> cq.Solid:
    return less(board(), bore(4, 80, (0, 50, 9), (1, 0, 0)), bore(3, 100, (40, 0, 9), (0, 1, 0)))


def bore_across_a_hole() -> cq.Solid:
    return less(board(), bore(4, 80, (0, 50, 9), (1, 0, 0)), bore(3, 18, (40, 50, 0), (0, 0, 1)))


def leaning(angle_rad: float) -> cq.Solid:
    """A board whose end stands out of square by an angle: its upper face is longer."""
    more = 18 * angle_rad
    lower = [V(0, 0, 0), V(600, 0, 0), V(600, 300, 0), V(0, 300, 0)]
    upper = [V(0, 0, 18), V(600 + more, 0, 18), V(600 + more, 300, 18), V(0, 300, 18)]
    wires = [cq.Wire.makePolygon(points, close=True) for points in (lower, upper)]
    return cq.Solid.makeLoft(wires, True)


def tapering(angle_rad: float) -> cq.Solid:
    """A board whose faces stand to each other at an angle."""
    thick = 18 + 600 * angle_rad
    drawn = cq.Workplane("XZ").polyline([(0, 0), (600, 0), (600, thick), (0, 18)])
    return drawn.close().extrude(300).val()


def bracket(width: float) -> cq.Solid:
    """An angle of 60 x 60 x 5, so wide."""
    drawn = cq.Workplane("XZ").polyline([(0, 0), (60, 0), (60, 5), (5, 5), (5, 60), (0, 60)])
    return drawn.close().extrude(width).val()


def round_tube() -> cq.Solid:
    return less(cq.Solid.makeCylinder(20, 500), cq.Solid.makeCylinder(18, 500))


def square_tube() -> cq.Solid:
    return less(cq.Solid.makeBox(500, 40, 40), cq.Solid.makeBox(500, 36, 36, V(0, 2, 2)))


def bent_board() -> cq.Solid:
    drawn = cq.Workplane("XY").moveTo(-300, 0).threePointArc((0, 100), (300, 0)).lineTo(290, -10)
    return drawn.threePointArc((0, 82), (-290, -10)).close().extrude(400).val()

"""The check of a written file, fed with files that are wrong on purpose."""

from dataclasses import replace

import pytest

from export.drawing.panel_drawing import panel_drawing
from export.drawing.primitives import Circle, Drawing
from export.drawing.sheet_drawing import sheet_drawing
from export.dxf.content import DxfContent
from export.dxf.reader import read_dxf
from export.dxf.writer import dxf_bytes
from export.dxf_version import DxfVersion
from export.sheet_check import part_problems, sheet_problems
from export.sheet_problem import SheetFault, SheetProblem
from nesting.answer.solution import Layout, Placement
from nesting.question.sheet_rules import SheetRules, Trim
from nesting.question.ticks import gap_ticks
from parametric.lists.cut_list import Part
from parametric.lists.operations import Operation
from tests.export.sample_parts import (
    STOCK,
    part,
    sample_layers,
    sample_layout,
    sample_parts,
    two_sided_panel,
)

RULES = SheetRules(trim=Trim.even(gap_ticks(10)), gap=gap_ticks(10))
LAYERS = sample_layers()


def content_of(
    layout: Layout | None = None,
    parts: dict[str, Part] | None = None,
    version: DxfVersion = DxfVersion.R2010,
) -> DxfContent:
    drawing = sheet_drawing(layout or sample_layout(), parts or sample_parts(), STOCK, LAYERS)
    return read_dxf(dxf_bytes(drawing, LAYERS, version))


def problems(content: DxfContent, layout: Layout | None = None) -> tuple[SheetProblem, ...]:
    return sheet_problems(
        content,
        layout or sample_layout(),
        sample_parts(),
        stock=STOCK,
        layers=LAYERS,
        rules=RULES,
    )


def faults(found: tuple[SheetProblem, ...]) -> set[SheetFault]:
    return {problem.fault for problem in found}


def changed(content: DxfContent, drawing: Drawing) -> DxfContent:
    return replace(content, drawing=drawing)


def moved(layout: Layout, index: int, **changes: object) -> Layout:
    placements = list(layout.placements)
    placements[index] = replace(placements[index], **changes)  # type: ignore[arg-type]
    return replace(layout, placements=tuple(placements))


@pytest.mark.parametrize("version", list(DxfVersion))
def test_a_right_sheet_has_no_problems(version: DxfVersion) -> None:
    assert problems(content_of(version=version)) == ()


def test_a_mirrored_part_does_not_pass() -> None:
    parts = sample_parts()
    parts["A-01"] = part("A-01", two_sided_panel().mirror_image())
    found = problems(content_of(parts=parts))
    # the outline has the same area and bounds, and is still not the same
    assert SheetFault.MISSING in faults(found)
    assert any("path of" in problem.message and "OUTLINE" in problem.message for problem in found)
    assert {problem.where for problem in found if problem.fault is SheetFault.MISSING} == {
        "part A-01"
    }


def test_a_mirrored_part_with_a_symmetric_outline_does_not_pass() -> None:
    plain = sample_parts()["C-03"].panel
    hole = two_sided_panel().bores[0]
    hole = replace(hole, x=30.0, y=6.0)
    right = part("C-03", replace(plain, bores=(hole,)))
    wrong = part("C-03", replace(plain, bores=(hole,)).mirror_image())
    content = read_dxf(
        dxf_bytes(panel_drawing(wrong, Operation.FIRST, LAYERS), LAYERS, DxfVersion.R12)
    )
    assert part_problems(content, wrong, Operation.FIRST, LAYERS) == ()
    found = part_problems(content, right, Operation.FIRST, LAYERS)
    assert faults(found) == {SheetFault.MISSING, SheetFault.UNEXPECTED}


def test_a_turn_the_other_way_does_not_pass() -> None:
    # three quarter turns instead of one: same bounds, other places
    parts = sample_parts()
    parts["B-02"] = replace(parts["B-02"], panel=parts["B-02"].panel.turned_half())
    assert SheetFault.MISSING in faults(problems(content_of(parts=parts)))


def test_a_part_a_hundredth_of_a_millimetre_off_does_not_pass() -> None:
    content = content_of(moved(sample_layout(), 0, x=gap_ticks(10.01)))
    assert faults(problems(content)) == {
        SheetFault.MISSING,
        SheetFault.UNEXPECTED,
        SheetFault.TOO_CLOSE,
    }


def test_a_part_left_out_or_added_does_not_pass() -> None:
    layout = sample_layout()
    fewer = replace(layout, placements=layout.placements[:2])
    assert faults(problems(content_of(fewer))) == {SheetFault.MISSING, SheetFault.PART_TEXT}
    extra = Placement(piece="C-03", x=gap_ticks(10), y=gap_ticks(700), turned=False)
    more = replace(layout, placements=(*layout.placements, extra))
    assert faults(problems(content_of(more))) == {SheetFault.UNEXPECTED, SheetFault.PART_TEXT}


def test_a_hole_of_another_size_does_not_pass() -> None:
    content = content_of()
    first, *others = content.drawing.circles
    wider = replace(first, diameter_mm=first.diameter_mm + 0.01)
    wrong = changed(content, replace(content.drawing, circles=(wider, *others)))
    assert faults(problems(wrong)) == {SheetFault.MISSING, SheetFault.UNEXPECTED}


def test_a_drilled_hole_is_not_a_routed_one() -> None:
    content = content_of()
    drawing = content.drawing
    routed = next(path for path in drawing.paths if path.layer == "GROOVE-DEEP-3")
    box = routed.outline.bounds
    drilled = Circle(
        layer=routed.layer,
        x=(box.x0 + box.x1) / 2,
        y=(box.y0 + box.y1) / 2,
        diameter_mm=box.x1 - box.x0,
    )
    paths = tuple(path for path in drawing.paths if path is not routed)
    wrong = replace(drawing, paths=paths, circles=(*drawing.circles, drilled))
    assert faults(problems(changed(content, wrong))) == {
        SheetFault.MISSING,
        SheetFault.UNEXPECTED,
    }


def test_a_cut_on_the_wrong_layer_is_named() -> None:
    content = content_of()
    paths = tuple(
        replace(path, layer="OUTLINE") if path.layer == "OPENING" else path
        for path in content.drawing.paths
    )
    found = problems(changed(content, replace(content.drawing, paths=paths)))
    assert SheetFault.WRONG_LAYER in faults(found)
    assert any("lies on OUTLINE, not on OPENING" in problem.message for problem in found)


def test_an_arc_bent_the_other_way_does_not_pass() -> None:
    content = content_of()
    paths = tuple(
        replace(path, vertices=tuple(v._replace(bulge=-v.bulge) for v in path.vertices))
        if path.layer == "OUTLINE"
        else path
        for path in content.drawing.paths
    )
    found = problems(changed(content, replace(content.drawing, paths=paths)))
    assert SheetFault.MISSING in faults(found)


def test_paths_may_start_anywhere_and_run_either_way() -> None:
    content = content_of()
    paths = []
    for path in content.drawing.paths:
        vertices = path.outline.reversed().vertices
        paths.append(replace(path, vertices=vertices[1:] + vertices[:1]))
    drawing = replace(content.drawing, paths=tuple(reversed(paths)))
    assert problems(changed(content, drawing)) == ()


def test_the_trimmed_sheet_is_measured_on_the_file() -> None:
    layout = moved(sample_layout(), 0, x=gap_ticks(9.99))
    assert SheetFault.OUTSIDE in faults(problems(content_of(layout), layout))
    layout = moved(sample_layout(), 2, y=gap_ticks(1220 - 24 - 9.99))
    assert faults(problems(content_of(layout), layout)) == {SheetFault.OUTSIDE}


def test_the_gap_is_measured_on_the_file() -> None:
    layout = moved(sample_layout(), 1, x=gap_ticks(519.99))  # 9.99 mm from the first part
    assert faults(problems(content_of(layout), layout)) == {SheetFault.TOO_CLOSE}


def test_a_grained_part_may_not_be_turned() -> None:
    layout = moved(sample_layout(), 2, turned=True)
    layout = moved(layout, 2, x=gap_ticks(1500), y=gap_ticks(10))
    assert faults(problems(content_of(layout), layout)) == {SheetFault.AGAINST_GRAIN}


def test_a_part_number_must_lie_in_its_own_part() -> None:
    content = content_of()
    first, second, third = content.drawing.labels
    swapped = (replace(first, text=second.text), replace(second, text=first.text), third)
    found = problems(changed(content, replace(content.drawing, labels=swapped)))
    assert [problem.fault for problem in found] == [SheetFault.PART_TEXT] * 4
    on_cut_layer = (replace(first, layer="OUTLINE"), second, third)
    found = problems(changed(content, replace(content.drawing, labels=on_cut_layer)))
    assert faults(found) == {SheetFault.PART_TEXT}


def test_what_cannot_be_read_and_what_is_not_declared_is_told() -> None:
    content = replace(content_of(), unread=("SPLINE on layer 0",), declared=("SHEET",))
    assert faults(problems(content)) == {SheetFault.UNEXPECTED, SheetFault.LAYER_NOT_DECLARED}


@pytest.mark.parametrize("code", [None, 0])
def test_a_file_that_states_no_unit_does_not_pass(code: int | None) -> None:
    found = problems(replace(content_of(), unit_code=code))
    assert faults(found) == {SheetFault.UNIT}
    # R12 has no entry for it
    assert problems(content_of(version=DxfVersion.R12)) == ()


def test_a_sheet_of_another_size_does_not_pass() -> None:
    drawing = sheet_drawing(
        sample_layout(), sample_parts(), replace(STOCK, width_mm=1219.0), LAYERS
    )
    content = read_dxf(dxf_bytes(drawing, LAYERS, DxfVersion.R2010))
    found = problems(content)
    assert ("sheet", SheetFault.MISSING) in {(p.where, p.fault) for p in found}


@pytest.mark.parametrize("operation", list(Operation))
def test_part_files_pass_and_the_other_operation_does_not(operation: Operation) -> None:
    item = sample_parts()["A-01"]
    drawing = panel_drawing(item, operation, LAYERS)
    content = read_dxf(dxf_bytes(drawing, LAYERS, DxfVersion.R2000))
    assert part_problems(content, item, operation, LAYERS) == ()
    other = Operation.SECOND if operation is Operation.FIRST else Operation.FIRST
    assert part_problems(content, item, other, LAYERS)


def test_a_second_operation_not_turned_over_does_not_pass() -> None:
    item = sample_parts()["A-01"]
    drawing = panel_drawing(
        replace(item, panel=item.panel.mirror_image()), Operation.SECOND, LAYERS
    )
    content = read_dxf(dxf_bytes(drawing, LAYERS, DxfVersion.R2010))
    assert SheetFault.MISSING in faults(part_problems(content, item, Operation.SECOND, LAYERS))

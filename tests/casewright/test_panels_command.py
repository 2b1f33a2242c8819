"""Panels drawn in other programs, from a table to the shop's files, looked at from outside."""

import csv
from collections import Counter
from pathlib import Path

import cadquery as cq
import ezdxf
import openpyxl
import pytest
import shapely

from casewright.commands.panels_command.run import PanelFiles, cut_panels
from casewright.errors import DoesNotFit, InputErrors
from casewright.output.folder import Request
from casewright.stages.nest.nest_settings import NestSettings
from casewright.written import Written
from nesting.question.settings import Effort
from tests import drawn_shapes as drawn
from tests.casewright.build_fixtures import CONFIGS
from tests.casewright.dxf_to_solid import (
    best_difference,
    layers_of,
    manifest_of,
    solid_from_dxf,
)
from tests.casewright.step_names import solids_by_name
from tests.casewright.test_cli import run
from tests.drawn_shapes import V, anywhere, as_free_form, less, step_of
from tests.solid_assertions import mirrored

MOST_MM3 = 0.1
MATERIALS = CONFIGS / "materials-metric.yaml"
ROUTER = CONFIGS / "router-metric.yaml"
HEADER = "file,quantity,name,material,grain,show face\n"


def step(folder: Path, name: str, *shapes: cq.Shape) -> None:
    (folder / name).write_bytes(step_of(*shapes))


def files_with(folder: Path, rows: str, header: str = HEADER) -> PanelFiles:
    table = folder / "panels.csv"
    table.write_text(header + rows, encoding="utf-8")
    return PanelFiles(table=table, materials=(MATERIALS,), machine=ROUTER)


def cut(files: PanelFiles, out: Path) -> Path:
    cut_panels(files, NestSettings(effort=Effort.QUICK), Request(folder=out), Written())
    return out


def rows_of(path: Path) -> list[dict[str, str]]:
    with path.open(newline="", encoding="utf-8") as stream:
        return list(csv.DictReader(stream))


def cut_list(out: Path) -> dict[str, dict[str, str]]:
    """The cut list by description."""
    return {row["description"]: row for row in rows_of(out / "shop" / "cutlist.csv")}


def refused(files: PanelFiles, out: Path) -> dict[int, str]:
    """What is told of each line of the table; nothing is written."""
    with pytest.raises(InputErrors) as told:
        cut(files, out)
    assert not out.exists()
    assert {Path(fault.file).name for fault in told.value.faults} == {"panels.csv"}
    return {fault.line: str(fault) for fault in told.value.faults}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Panels of several materials, drawn as others would, cut."""
    folder = tmp_path_factory.mktemp("drawn elsewhere, Möbel")
    step(folder, "door.step", anywhere(drawn.door()))
    step(folder, "door-free.stp", anywhere(as_free_form(drawn.door())))
    step(folder, "door-left.step", drawn.door().mirror("YZ"))
    step(folder, "drilled.step", anywhere(drawn.drilled()))
    step(folder, "pair.step", drawn.half_cylinders(), anywhere(drawn.dowel_into_recess()))
    rows = (
        "door.step,3,door,raw-particleboard,,\n"
        "door-free.stp,2,the same door,raw-particleboard,,\n"
        "door-left.step,1,left door,raw-particleboard,,\n"
        "drilled.step,4,shelf,birch-plywood,width,plain\n"
        "pair.step,2,pair,birch-plywood,none,\n"
        "pair.step#2,5,dowelled,raw-particleboard,,z+\n"
        "missing.step,0,nothing,raw-particleboard,,\n"
    )
    return cut(files_with(folder, rows), folder / "out")


def test_quantities_and_materials_of_the_cut_list(made: Path) -> None:
    """A door drawn as free-form surfaces is the same part; its mirror image is another."""
    keys = ("quantity", "material", "grain", "hand", "cut_length_mm", "cut_width_mm", "show_face")
    found = {name: tuple(row[key] for key in keys) for name, row in cut_list(made).items()}
    particleboard = ("raw-particleboard", "none", "either")
    assert found == {
        "door, the same door": ("5", *particleboard, "600.000", "300.000", "up"),
        "left door": ("1", *particleboard, "600.000", "300.000", "up"),
        "shelf": ("4", "birch-plywood", "lengthwise", "either", "200.000", "400.000", "down"),
        "pair#1": ("2", "birch-plywood", "none", "either", "400.000", "200.000", "up"),
        "pair#2": ("2", "birch-plywood", "none", "either", "400.000", "200.000", "up"),
        "dowelled": (
            "5",
            *particleboard,
            "400.000",
            "200.000",
            cut_list(made)["dowelled"]["show_face"],
        ),
    }


def test_cut_files_make_the_solids_that_were_drawn(made: Path) -> None:
    """Edge bores are in no cut file, and the tip of a drill in none either (by hand: a cone)."""
    expected = {
        "door, the same door": (drawn.door(), 0.0),
        "left door": (drawn.door().mirror("YZ"), 0.0),
        "shelf": (drawn.drilled(), 40.27),
    }
    manifest = manifest_of(made)
    for name, (solid, tip_mm3) in expected.items():
        number = cut_list(made)[name]["part"]
        from_files = solid_from_dxf(made, manifest, number, 18.0)
        assert best_difference(from_files, solid) == pytest.approx(tip_mm3, abs=MOST_MM3), name
        if name == "left door":
            assert best_difference(mirrored(from_files), solid) > 1000


def test_edge_bores_are_listed(made: Path) -> None:
    """By hand: 8 x 30 and 8 x (34 - (7.5^2 - 4^2)^(1/2)), 9 above the face."""
    found = {
        (row["description"], row["diameter_mm"], row["depth_mm"], row["above_down_face_mm"])
        for row in rows_of(made / "shop" / "edge-bores.csv")
    }
    assert found == {
        ("pair#1", "8.000", "30.000", "9.000"),
        ("pair#2", "8.000", "27.656", "9.000"),
        ("dowelled", "8.000", "27.656", "9.000"),
    }


def test_the_list_of_panels_says_where_each_is_from(made: Path) -> None:
    found = [
        (row["file"], row["name"], row["quantity"], row["material_by"], row["bores_with_drill_tip"])
        for row in rows_of(made / "shop" / "panels.csv")
    ]
    assert found == [
        ("door.step", "door", "3", "table", "0"),
        ("door-free.stp", "the same door", "2", "table", "0"),
        ("door-left.step", "left door", "1", "table", "0"),
        ("drilled.step", "shelf", "4", "table", "1"),
        ("pair.step#1", "pair#1", "2", "table", "0"),
        ("pair.step#2", "pair#2", "2", "table", "0"),
        ("pair.step#2", "dowelled", "5", "table", "0"),
    ]


def test_sheets_hold_each_panel_as_often_as_asked_apart_and_within_the_trim(made: Path) -> None:
    """Read with ezdxf and held apart with shapely: 12 mm between parts, 10 along the edges."""
    manifest = manifest_of(made)
    layers, cut_pieces = layers_of(manifest), Counter()
    for nest in manifest["nests"]:
        for layout in nest["layouts"]:
            edge = shapely.box(0, 0, layout["length_mm"], layout["width_mm"]).buffer(-10 + 1e-6)
            placed = []
            for entity in ezdxf.readfile(made / layout["file"]).modelspace():
                role = layers[entity.dxf.layer]["role"]
                if role == "outline":
                    placed.append(shapely.Polygon([(x, y) for x, y in entity.get_points("xy")]))
                elif role == "text" and entity.dxf.text.startswith("P"):
                    cut_pieces[entity.dxf.text] += layout["runs"]
            assert all(edge.covers(piece) for piece in placed)
            for index, piece in enumerate(placed):
                assert all(piece.distance(other) > 12 - 1e-6 for other in placed[:index])
    asked = {row["part"]: int(row["quantity"]) for row in cut_list(made).values()}
    assert cut_pieces == asked


def side_by_side(made_row: dict[str, str], row: dict[str, str]) -> None:
    assert made_row["material"] == row["material"]
    assert made_row["grain"] == row["grain"]
    assert made_row["two_sided"] == row["two_sided"]
    for size in ("cut_length_mm", "cut_width_mm"):
        assert float(made_row[size]) == pytest.approx(float(row[size]), abs=1e-3), row["part"]


def test_a_build_comes_back_through_its_own_models(keeper: Path, tmp_path: Path) -> None:
    """Each board of the STEP models of a build, moved anywhere and saved alone: the same parts come
    out, and their cut files make the same solids. Bands are not in the models' boards.
    """
    (model,) = (keeper / f["path"] for f in manifest_of(keeper)["files"] if f["role"] == "solids")
    solids, lines = solids_by_name(model), []
    rows = {row["part"]: row for row in rows_of(keeper / "shop" / "cutlist.csv")}
    for number, row in rows.items():
        step(tmp_path, f"{number}.step", anywhere(solids[number][0].Solids()[0]))
        across = float(row["cut_length_mm"]) < float(row["cut_width_mm"])
        face = "plain" if row["show_face"] == "down" else "machined"
        grain = "width" if across else "length"
        lines.append(f"{number}.step,{row['quantity']},{number},{row['material']},{grain},{face}\n")
    out = cut(files_with(tmp_path, "".join(lines)), tmp_path / "out")
    asked, manifest, manifest_before = Counter(), manifest_of(out), manifest_of(keeper)
    for row in rows_of(out / "shop" / "cutlist.csv"):
        asked[row["part"]] = int(row["quantity"])
        for number in row["description"].split(", "):
            asked[row["part"]] -= int(rows[number]["quantity"])
            side_by_side(row, rows[number])
            thickness = float(row["thickness_mm"])
            again = solid_from_dxf(out, manifest, row["part"], thickness)
            before = solid_from_dxf(keeper, manifest_before, number, thickness)
            assert best_difference(again, before, MOST_MM3) < MOST_MM3, number
    assert set(asked.values()) == {0}


def test_the_good_face_decides_how_the_sheet_lies(tmp_path: Path) -> None:
    """Board with one good face, 19 mm, grooved: the face that is worked first looks up."""
    grooved = less(cq.Solid.makeBox(500, 300, 19), cq.Solid.makeBox(400, 8, 9, V(50, 50, 10)))
    step(tmp_path, "grooved.step", anywhere(grooved))
    rows = "".join(
        f"grooved.step,1,{face},ash-one-face,,{face}\n" for face in ("machined", "plain", "none")
    )
    out = cut(files_with(tmp_path, rows), tmp_path / "out")
    found = {name: row["show_face"] for name, row in cut_list(out).items()}
    assert found == {"machined": "up", "plain, none": "down"}
    assert [nest["face_up"] for nest in manifest_of(out)["nests"]] == ["front", "back"]


def test_a_face_told_by_the_way_it_looks(tmp_path: Path) -> None:
    """A board shaped like an L with nothing machined: only the way in the file tells its face."""
    shape = cq.Workplane("XY").polyline(
        [(0, 0), (600, 0), (600, 90), (90, 90), (90, 400), (0, 400)]
    )
    step(tmp_path, "corner.step", shape.close().extrude(19).val())
    files = files_with(tmp_path, "corner.step,1,,ash-one-face,,\n")
    told = refused(files, tmp_path / "out")
    assert "show_face: found corner.step: as much machined into one face" in told[2]
    told = refused(files_with(tmp_path, "corner.step,1,,ash-one-face,,x+\n"), tmp_path / "out")
    assert "neither face looks" in told[2]
    rows = "corner.step,1,up,ash-one-face,,z+\ncorner.step,1,down,ash-one-face,,z-\n"
    out = cut(files_with(tmp_path, rows), tmp_path / "out")
    assert set(cut_list(out)) == {"up", "down"}, "two parts: one is the mirror image of the other"


def test_the_thickness_tells_the_material_within_its_tolerance(tmp_path: Path) -> None:
    """Plywood may be 0.94 off 18, board 0.3 off 19 (the library says so): 17.5 is plywood alone."""
    for name, thickness in (("thin", 17.5), ("both", 18.0), ("none", 16.0), ("deep", 18.9)):
        panel = cq.Solid.makeBox(500, 300, thickness)
        if name == "deep":
            panel = less(panel, cq.Solid.makeBox(400, 8, 18.4, V(50, 50, 0.5)))
        step(tmp_path, f"{name}.step", anywhere(panel))
    rows = "thin.step,2,,,,\n"
    out = cut(files_with(tmp_path, rows), tmp_path / "out")
    (source,) = rows_of(out / "shop" / "panels.csv")
    assert (source["material"], source["material_by"]) == ("birch-plywood", "thickness")
    assert (source["thickness_mm"], source["drawn_thickness_mm"]) == ("18.000", "17.500")
    rows = (
        "both.step,1,,,,\nnone.step,1,,,,\nboth.step,1,,ash-one-face,,\n"
        "deep.step,1,,birch-plywood,,\n"
    )
    told = refused(files_with(tmp_path, rows), tmp_path / "other")
    assert "18 mm thick, as several are" in told[2]
    assert "allowed: one of raw-particleboard, birch-plywood" in told[2]
    assert "16 mm thick" in told[3]
    assert "birch-plywood (18 mm +/- 0.94 mm)" in told[3]
    assert "18 mm thick, for ash-one-face (19 mm +/- 0.3 mm)" in told[4]
    assert "18.4 mm deep would go right through: birch-plywood is 18 mm thick" in told[5]


def test_each_thing_wrong_is_told_at_its_line_with_its_solid(tmp_path: Path) -> None:
    step(tmp_path, "two.step", drawn.half_cylinders(), anywhere(drawn.bracket(40)))
    step(
        tmp_path,
        "square.step",
        less(cq.Solid.makeBox(300, 300, 18), drawn.bore(4, 18, (30, 50, 0), (0, 0, 1))),
    )
    step(tmp_path, "open.step", drawn.door().Faces()[0])
    (tmp_path / "empty.step").write_bytes(b"")
    (tmp_path / "broken.step").write_bytes(step_of(drawn.door())[:9000])
    (tmp_path / "folder.step").mkdir()
    rows = (
        "two.step,1,,raw-particleboard,,\n"
        "two.step#3,1,,,,\n"
        "square.step,1,,birch-plywood,,\n"
        "open.step,1,,,,\n"
        "empty.step,1,,,,\n"
        "broken.step,1,,,,\n"
        "missing.step,1,,,,\n"
        "folder.step,1,,,,\n"
    )
    told = refused(files_with(tmp_path, rows), tmp_path / "out")
    assert "file: found two.step#2: 40 x 60 x 60 mm over all, but its walls" in told[2]
    assert "two.step#3 of 2 solids; allowed: a number from 1 to 2" in told[3]
    assert "grain: found square.step: length, of a square panel" in told[4]
    assert "surfaces that enclose no solid" in told[5]
    assert "empty.step, an empty file" in told[6]
    assert "broken.step, a STEP file that cannot be read" in told[7]
    assert "missing.step, no such file; allowed: a STEP file" in told[8]
    assert "folder.step, a folder" in told[9]


def test_cells_that_say_nothing_are_told_before_any_file_is_read(tmp_path: Path) -> None:
    rows = ",1,,,,\nx.step,x,,,,\nx.step,1,,oak,,\nx.step,1,,,up,\nx.step,1,,,,sideways\n"
    told = refused(files_with(tmp_path, rows), tmp_path / "out")
    assert [told[line].partition(": found ")[0].rpartition(": ")[2] for line in range(2, 7)] == [
        "file",
        "quantity",
        "material",
        "grain",
        "show face",
    ]
    told = refused(files_with(tmp_path, "x.step,0,,,,\n"), tmp_path / "out")
    assert "no row with a quantity" in told[1]


def test_a_panel_larger_than_every_sheet_does_not_fit(tmp_path: Path) -> None:
    step(tmp_path, "long.step", cq.Solid.makeBox(2900, 300, 18))
    with pytest.raises(DoesNotFit, match="no stock sheet holds"):
        cut(files_with(tmp_path, "long.step,1,,raw-particleboard,,\n"), tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_the_command_takes_a_workbook_and_ends_plainly(tmp_path: Path) -> None:
    step(tmp_path, "door.step", anywhere(drawn.door()))
    step(tmp_path, "cube.step", anywhere(cq.Solid.makeBox(18, 18, 18)))
    book = openpyxl.Workbook()
    for row in (("file", "quantity", "material"), ("door.step", 3, "raw-particleboard")):
        book.active.append(row)
    book.save(tmp_path / "good.xlsx")
    book.active.append(("cube.step", 1, None))
    book.save(tmp_path / "bad.xlsx")
    asked = ("panels", tmp_path / "good.xlsx", MATERIALS, "--machine", ROUTER)
    done = run(*asked, "--effort", "quick", "--out", tmp_path / "out")
    assert (done.returncode, "Traceback" in done.stderr) == (0, False)
    assert "good.xlsx: 1 different panel, 3 in all" in done.stdout
    assert (tmp_path / "out" / "summary.html").exists()
    asked = ("panels", tmp_path / "bad.xlsx", MATERIALS, "--machine", ROUTER)
    wrong = run(*asked, "--out", tmp_path / "other")
    assert (wrong.returncode, "Traceback" in wrong.stderr) == (2, False)
    assert "bad.xlsx:3: file: found cube.step: 18 x 18 x 18 mm over all" in wrong.stderr
    assert not (tmp_path / "other").exists()

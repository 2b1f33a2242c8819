"""GLB and STEP files of a set, read back by readers that did not write them.

glTF 2.0, section 3.4 (coordinate system and units): metres, +y up. STEP in millimetres.
"""

from collections.abc import Iterator
from pathlib import Path

import cadquery as cq
import numpy as np
import pytest
import trimesh
from numpy.typing import NDArray

from casewright.stages.sets.set_stage import ModelledSet
from tests.outside.built_demo import BuiltDemo
from tests.row import row_of

Boxes = NDArray[np.float64]

MM = 1000.0
SINGLE_PRECISION_M = 1e-5  # GLB stores single precision: 6e-8 of some metres, and some slack


def model_file(demo: BuiltDemo, role: str, hand: str) -> Path:
    (file,) = [file for file in demo.files(role) if file["hand"] == hand]
    return demo.folder / file["path"]


def modelled(demo: BuiltDemo, hand: str) -> ModelledSet:
    (found,) = [each for each in demo.sets.sets if each.used.hand.value == hand]
    return found


def placed_boxes(path: Path) -> Boxes:
    """Least and greatest coordinates, metres, of every face of every part where it stands."""
    scene = trimesh.load_scene(path)
    rows = []
    for node in scene.graph.nodes_geometry:
        pose, name = scene.graph[node]
        corners = trimesh.transform_points(scene.geometry[name].vertices, pose)
        rows.append(np.concatenate([corners.min(axis=0), corners.max(axis=0)]))
    return np.array(rows)


def step_solids(path: Path) -> list[cq.Solid]:
    found = cq.importers.importStep(str(path)).solids().vals()
    return [solid for solid in found if isinstance(solid, cq.Solid)]


@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_glb_has_the_set_s_bounding_box(inn: BuiltDemo, hand: str) -> None:
    """In metres with y up: (x, y, z) of the room, mm, becomes (x, z, -y) / 1000."""
    solids = step_solids(model_file(inn, "solids", hand))
    room = cq.Compound.makeCompound(solids).BoundingBox()
    low = np.array([room.xmin, room.zmin, -room.ymax]) / MM
    high = np.array([room.xmax, room.zmax, -room.ymin]) / MM
    boxes = placed_boxes(model_file(inn, "view", hand))
    assert boxes[:, :3].min(axis=0) == pytest.approx(low, abs=SINGLE_PRECISION_M)
    assert boxes[:, 3:].max(axis=0) == pytest.approx(high, abs=SINGLE_PRECISION_M)


def test_the_set_stands_on_the_floor_and_is_lower_than_it_is_long(inn: BuiltDemo) -> None:
    """By hand from the job: a table of 220 on decks' height 340 is the tallest; a bed 1920 long."""
    boxes = placed_boxes(model_file(inn, "view", "left"))
    sizes = row_of(inn.job.sets[0])
    assert sizes.table is not None
    assert sizes.bed is not None
    assert boxes[:, 1].min() == pytest.approx(0.0, abs=SINGLE_PRECISION_M)
    tallest = (sizes.base_height_mm + sizes.table.height_mm) / MM
    assert boxes[:, 4].max() == pytest.approx(tallest, abs=SINGLE_PRECISION_M)
    assert boxes[:, 5].max() == pytest.approx(sizes.bed.deck_length_mm / MM, abs=SINGLE_PRECISION_M)


def in_mirror(boxes: Boxes) -> Boxes:
    """The boxes mirrored at the plane x = 0."""
    mirrored = boxes.copy()
    mirrored[:, 0], mirrored[:, 3] = -boxes[:, 3], -boxes[:, 0]
    return mirrored


def unmatched(a: Boxes, b: Boxes) -> int:
    """How many boxes of `a` have no partner of their own in `b`."""
    free = np.ones(len(b), dtype=bool)
    missing = 0
    for row in a:
        near = np.where(free & (np.abs(b - row).max(axis=1) < SINGLE_PRECISION_M))[0]
        if len(near):
            free[near[0]] = False
        else:
            missing += 1
    return missing


def test_the_two_hands_are_mirror_images(inn: BuiltDemo) -> None:
    """Face by face; and the sets are not symmetric in themselves, so that the test can fail."""
    right, left = (placed_boxes(model_file(inn, "view", hand)) for hand in ("right", "left"))
    assert len(right) == len(left) > 300
    assert unmatched(in_mirror(right), left) == 0
    moved = right.copy()
    moved[:, [0, 3]] += left[:, 0].min() - right[:, 0].min()
    assert unmatched(moved, left) > 50


@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_step_file_has_every_board_band_and_member(inn: BuiltDemo, hand: str) -> None:
    model = modelled(inn, hand).model
    bands = sum(len(solids) for solids in model.solids.bands.values())
    members = model.room_set.assembly.members
    boards = model.room_set.assembly.boards
    found = step_solids(model_file(inn, "solids", hand))
    assert len(found) == len(boards) + bands + len(members)
    assert bands > 5
    assert all(solid.isValid() for solid in found)


def test_the_step_file_of_one_room_has_the_pieces_of_its_lists(
    keeper: BuiltDemo, inn: BuiltDemo
) -> None:
    """From the lists alone: boards and bars by quantity; bands and legs are what is left over."""
    listed = sum(
        int(row["quantity"]) for table in ("cutlist", "linear") for row in keeper.table(table)
    )
    model = modelled(inn, "left").model  # the same set in the same hand
    bands = sum(len(solids) for solids in model.solids.bands.values())
    assembly = model.room_set.assembly
    bought = len(assembly.legs) + len(assembly.wall_plates)
    found = step_solids(model_file(keeper, "solids", "left"))
    assert len(found) == listed + bands + bought


@pytest.mark.parametrize("hand", ["right", "left"])
def test_solids_of_both_files_take_the_same_room(inn: BuiltDemo, hand: str) -> None:
    """Every solid of the STEP file has faces in the GLB file that fill the same box."""
    faces = placed_boxes(model_file(inn, "view", hand))
    for low, high in step_boxes(model_file(inn, "solids", hand)):
        inside = faces[
            (faces[:, :3] >= low - SINGLE_PRECISION_M).all(axis=1)
            & (faces[:, 3:] <= high + SINGLE_PRECISION_M).all(axis=1)
        ]
        assert len(inside)
        assert inside[:, :3].min(axis=0) == pytest.approx(low, abs=SINGLE_PRECISION_M)
        assert inside[:, 3:].max(axis=0) == pytest.approx(high, abs=SINGLE_PRECISION_M)


def step_boxes(path: Path) -> Iterator[tuple[Boxes, Boxes]]:
    for solid in step_solids(path):
        room = solid.BoundingBox()
        yield (
            np.array([room.xmin, room.zmin, -room.ymax]) / MM,
            np.array([room.xmax, room.zmax, -room.ymin]) / MM,
        )

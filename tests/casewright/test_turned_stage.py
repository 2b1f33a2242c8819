"""Meshes in whole millimetres, and which sets have which parts."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from casewright.stages.models.turned_stage import in_whole_mm
from parametric.meshes.mesh import Mesh

CORNER = st.tuples(*[st.floats(-5000, 5000, allow_nan=False)] * 3)


@given(st.lists(CORNER, min_size=3, max_size=30))
def test_corners_move_by_half_a_millimetre_at_most(corners: list[tuple[float, ...]]) -> None:
    points = np.array(corners)
    triangles = np.array([[at, at + 1, at + 2] for at in range(len(corners) - 2)], dtype=np.int32)
    listed, kept = in_whole_mm(Mesh(points=points, triangles=triangles))
    whole = np.array(listed).reshape(-1, 3)
    assert all(isinstance(each, int) for each in (*listed, *kept))
    assert len({tuple(row) for row in whole.tolist()}) == len(whole)
    distance = np.abs(points[:, None] - whole[None]).max(axis=2).min(axis=1)
    assert distance.max() <= 0.5 + 1e-6
    for row in np.array(kept).reshape(-1, 3):
        assert len(set(row.tolist())) == 3


def test_triangles_keep_their_way_round() -> None:
    """By hand: a triangle with corners 0.4 mm off whole ones, and one that shrinks to a line."""
    points = np.array([[0.4, 0, 0], [9.6, 0.4, 0], [0, 10.4, 0], [0.2, 0.1, 0]])
    triangles = np.array([[0, 1, 2], [0, 3, 1]], dtype=np.int32)
    listed, kept = in_whole_mm(Mesh(points=points, triangles=triangles))
    corners = np.array(listed).reshape(-1, 3)[np.array(kept).reshape(-1, 3)]
    assert corners.tolist() == [[[0, 0, 0], [10, 0, 0], [0, 10, 0]]]


def test_the_noise_of_floats_does_not_decide_about_a_half() -> None:
    points = np.array([[9.525, 0.5 - 1e-12, 0], [4.5, 3, 0.5 + 1e-12], [1, 1.5 - 1e-12, 7]])
    triangles = np.array([[0, 1, 2]], dtype=np.int32)
    listed, _ = in_whole_mm(Mesh(points=points, triangles=triangles))
    assert sorted(np.array(listed).reshape(-1, 3).tolist()) == [[1, 2, 7], [5, 3, 1], [10, 1, 0]]

import random

import pytest

from export.errors import LayerNameFault
from export.layer_names import LayerNames
from export.layer_table import Layer, LayerRole, LayerTable, layer_table, shown_number
from parametric.geometry.outline import Outline
from parametric.shapes.panel import Face, FlatPanel, Pocket
from tests.export.sample_parts import (
    LARGEST_DRILL_MM,
    bore,
    flat_panel,
    part,
    sample_layers,
    sample_parts,
)


def table_of(*panels: FlatPanel, names: LayerNames | None = None) -> LayerTable:
    parts = [part(f"P-{index}", panel) for index, panel in enumerate(panels)]
    return layer_table(parts, names or LayerNames(), LARGEST_DRILL_MM)


def groove(depth_mm: float, face: Face = Face.UP) -> Pocket:
    return Pocket(outline=Outline.rectangle(50, 20), islands=(), depth_mm=depth_mm, face=face)


def test_one_layer_for_each_operation_and_depth() -> None:
    assert [layer.name for layer in sample_layers().layers] == [
        "SHEET",
        "OUTLINE",
        "OPENING",
        "PART_TEXT",
        "GROOVE-DEEP-3",
        "GROOVE-DEEP-9_525",
        "GROOVE-DEEP-6-BACK",
        "BORE-5-DEEP-12",
        "BORE-5-THROUGH",
        "BORE-8-DEEP-10-BACK",
    ]


def test_layers_say_role_depth_diameter_and_face() -> None:
    layers = sample_layers().by_name()
    assert layers["GROOVE-DEEP-9_525"] == Layer(
        name="GROOVE-DEEP-9_525",
        role=LayerRole.GROOVE,
        depth_mm=9.525,
        diameter_mm=None,
        face=Face.UP,
    )
    assert layers["BORE-8-DEEP-10-BACK"].face is Face.DOWN
    assert layers["BORE-5-THROUGH"].depth_mm is None


def test_a_plain_panel_needs_no_opening_layer() -> None:
    names = [layer.name for layer in table_of(flat_panel(300, 200)).layers]
    assert names == ["SHEET", "OUTLINE", "PART_TEXT"]


@pytest.mark.parametrize(
    ("features", "names"),
    [
        ({"pockets": (groove(5),)}, ["SHEET", "OUTLINE", "PART_TEXT", "GROOVE-DEEP-5"]),
        ({"bores": (bore(9, 9, 5, 7),)}, ["SHEET", "OUTLINE", "PART_TEXT", "BORE-5-DEEP-7"]),
        ({"openings": (Outline.rectangle(50, 20),)}, ["SHEET", "OUTLINE", "OPENING", "PART_TEXT"]),
        # 25.4 mm is more than any drill: routed right through, along its edge.
        ({"bores": (bore(50, 50, 25.4, None),)}, ["SHEET", "OUTLINE", "OPENING", "PART_TEXT"]),
        # Routed, but not through: a pocket, and no opening.
        ({"bores": (bore(50, 50, 35, 3),)}, ["SHEET", "OUTLINE", "PART_TEXT", "GROOVE-DEEP-3"]),
    ],
    ids=["groove", "hole", "opening", "large hole through", "large hole"],
)
def test_only_what_goes_through_needs_an_opening_layer(
    features: dict[str, object], names: list[str]
) -> None:
    """Rule: a job's files have no layer that nothing is on, and a layer for all that is cut."""
    assert [layer.name for layer in table_of(flat_panel(300, 200, **features)).layers] == names


def test_the_order_of_parts_does_not_matter() -> None:
    parts = list(sample_parts().values())
    for seed in range(5):
        random.Random(seed).shuffle(parts)
        assert layer_table(parts, LayerNames(), LARGEST_DRILL_MM) == sample_layers()


def test_names_show_three_decimals_and_the_table_keeps_the_exact_depth() -> None:
    # 25/64 in = 9.921875 mm exactly (1 in = 25.4 mm by agreement of 1959)
    depth = 25 / 64 * 25.4
    layer = table_of(flat_panel(300, 200, pockets=(groove(depth),))).layers[-1]
    assert (layer.name, layer.depth_mm) == ("GROOVE-DEEP-9_922", 9.921875)


@pytest.mark.parametrize(
    ("value", "shown"),
    [(9.525, "9_525"), (12.0, "12"), (3.175, "3_175"), (6.35, "6_35"), (0.5, "0_5"), (100, "100")],
)
def test_numbers_in_names(value: float, shown: str) -> None:
    assert shown_number(value) == shown


def test_float_noise_does_not_make_a_second_layer() -> None:
    table = table_of(
        flat_panel(300, 200, pockets=(groove(9.525),)),
        flat_panel(300, 200, pockets=(groove(9.525 + 1e-9),)),
    )
    assert table.names_of(LayerRole.GROOVE) == ("GROOVE-DEEP-9_525",)
    assert table.groove(9.525 + 1e-9, Face.UP) == "GROOVE-DEEP-9_525"


def test_two_depths_that_would_share_a_name_are_refused() -> None:
    with pytest.raises(LayerNameFault) as caught:
        table_of(flat_panel(300, 200, pockets=(groove(9.5251), groove(9.5252))))
    assert caught.value.faults == (
        "'GROOVE-DEEP-9_525' is used for groove depth 9.5251 mm face up"
        " and for groove depth 9.5252 mm face up",
    )


def test_names_that_differ_only_in_case_clash() -> None:
    names = LayerNames(outline="Cut", groove="cut-{depth}", bore_through="CUT-{diameter}")
    panel = flat_panel(300, 200, pockets=(groove(5),), bores=(bore(20, 20, 5, None),))
    with pytest.raises(LayerNameFault):
        table_of(panel, names=names)


def test_names_stay_within_what_r12_carries() -> None:
    # Symbol names of R12: at most 31 characters of A-Z, 0-9, $, _ and - (DXF reference).
    panel = flat_panel(
        3000, 2000, bores=(bore(900, 900, 11.111, 123.456, Face.DOWN), bore(9, 9, 12.345, None))
    )
    for layer in table_of(panel).layers:
        assert len(layer.name) <= 31
        assert layer.name.replace("-", "").replace("_", "").isalnum()


def test_a_number_too_wide_for_a_name_is_refused() -> None:
    names = LayerNames(groove="GROOVE-OF-DEPTH-{depth}")  # 29 characters with 123_456 and -BACK
    with pytest.raises(LayerNameFault, match="longer than 31"):
        table_of(flat_panel(300, 200, pockets=(groove(1234567890.125, Face.DOWN),)), names=names)


def test_a_hole_larger_than_any_drill_is_routed() -> None:
    table = table_of(flat_panel(300, 200, bores=(bore(99, 99, 12.7, None), bore(50, 50, 35, 11))))
    assert table.names_of(LayerRole.BORE) == ("BORE-12_7-THROUGH",)
    assert table.names_of(LayerRole.GROOVE) == ("GROOVE-DEEP-11",)


def test_an_unknown_depth_has_no_layer() -> None:
    with pytest.raises(KeyError, match="no layer for groove depth 7"):
        sample_layers().groove(7.0, Face.UP)

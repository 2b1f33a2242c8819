"""How deep blind cuts are and where they end, read from the solids, with the sizes by hand.

Mirror images and round trips agree with a depth that is wrong everywhere; these do not.
"""

import pytest

from parametric.geometry.hand import Hand
from parametric.shapes.panel import Bore, Face, FlatPanel, Pocket
from parametric.solids.set_model import SetModel
from tests.example_set import INCH

pytestmark = pytest.mark.parametrize("hand", list(Hand))


def panel_of(model: SetModel, name: str) -> FlatPanel:
    """The board as it was read, its front looking up."""
    (read,) = (read for read in model.read_boards if read.board.name == name)
    return read.laid.panel


def recesses(panel: FlatPanel) -> list[Bore]:
    return [bore for bore in panel.bores if bore.depth_mm is not None]


def test_a_cap_lies_in_its_recess(models: dict[Hand, SetModel], hand: Hand) -> None:
    """By hand from the cap: 1/8 in deep and 1/2 in wide, in the face that is seen, about the hole
    of a No. 10 screw; 60 in of panel want three. A shallower one lets the cap stand proud.
    """
    panel = panel_of(models[hand], "wall panel/panel")
    found = recesses(panel)
    assert len(found) == 3
    shanks = [(bore.x, bore.y) for bore in panel.bores if bore.depth_mm is None]
    for bore in found:
        assert bore.depth_mm == pytest.approx(INCH / 8, abs=1e-5)
        assert bore.diameter_mm == pytest.approx(INCH / 2, abs=1e-5)
        assert bore.face is Face.UP
        assert any(at == pytest.approx((bore.x, bore.y), abs=1e-5) for at in shanks)


def hanging(model: SetModel) -> tuple[FlatPanel, Pocket]:
    panel = panel_of(model, "wall panel/panel")
    (groove,) = panel.pockets
    return panel, groove


def test_a_hanging_groove_stops_short_of_both_ends(
    models: dict[Hand, SetModel], hand: Hand
) -> None:
    """By hand: 25 mm short of each end of a panel of 60 in, 24 mm from the cut board's, which is
    without 1 mm of band, so that it does not show; common practice, no source.
    """
    panel, groove = hanging(models[hand])
    assert panel.length_mm == pytest.approx(60 * INCH - 2.0)
    x_low, _, x_high, _ = groove.outline.bounds
    assert x_low == pytest.approx(24.0, abs=1e-5)
    assert x_high == pytest.approx(60 * INCH - 2.0 - 24.0, abs=1e-5)
    assert panel.outline.signed_area_mm2 == pytest.approx(panel.length_mm * panel.width_mm)


def test_a_hanging_groove_has_room_beyond_the_lips(
    models: dict[Hand, SetModel], hand: Hand
) -> None:
    """By hand: lips of 3/8 in and 1 mm beyond their tips, in the back; as high as a lip of 3/16 in
    and 6 mm to lift the panel on, which is more than the bit of 3/8 in needs; its upper side on the
    lips, 75 mm below the panel's upper edge. Common practice, no source.
    """
    panel, groove = hanging(models[hand])
    assert groove.face is Face.DOWN
    assert groove.depth_mm == pytest.approx(3 * INCH / 8 + 1.0, abs=1e-5)
    _, y_low, _, y_high = groove.outline.bounds
    assert y_high - y_low == pytest.approx(3 * INCH / 16 + 6.0, abs=1e-5)
    # Which way y runs depends on the hand's frame: one of the two edges is the upper one.
    to_edges = sorted((y_low, panel.width_mm - y_high))
    assert to_edges[0] == pytest.approx(75.0 - 1.0, abs=1e-5)


@pytest.mark.parametrize("name", ["top", "bottom", "side a", "side b"])
def test_a_groove_has_glue_room_at_its_bottom(
    models: dict[Hand, SetModel], hand: Hand, name: str
) -> None:
    """By hand: boards stand 3/8 in deep, with 0.2 mm left for glue; without it the joint is held
    open. Common practice, no source.
    """
    panel = panel_of(models[hand], f"bedside table/{name}")
    assert panel.pockets
    for groove in panel.pockets:
        assert groove.depth_mm == pytest.approx(3 * INCH / 8 + 0.2, abs=1e-5)

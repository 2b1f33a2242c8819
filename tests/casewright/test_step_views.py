"""From where the step pictures are seen: upright, at a right angle, mirrored for the other hand."""

from types import SimpleNamespace
from typing import Any

import pytest

from casewright.stages import site_pictures
from casewright.stages.site_pictures import mark_label, step_pictures
from parametric.geometry.hand import Hand
from parametric.geometry.space import Point
from parametric.steps.step import Mark, Step

CORNER = Point(0.0, 0.0, 0.0)
AXES = (Point(1.0, 0.0, 0.0), Point(0.0, 1.0, 0.0), Point(0.0, 0.0, 1.0))


def seen(hand: Hand, monkeypatch: pytest.MonkeyPatch) -> list[complex]:
    """Where the ends of the three axes lie in the picture, as x and y of a complex number."""
    no_lines = SimpleNamespace(visible=())
    monkeypatch.setattr(site_pictures, "line_pictures", lambda *_: (no_lines, no_lines))
    model: Any = SimpleNamespace(
        room_set=SimpleNamespace(name="twin", hand=hand), drawn={}, bands={}
    )
    step = Step(
        number=1,
        title="Mark out",
        parts=(),
        joints=(),
        people=1,
        tools=(),
        marks=tuple(Mark(what="axis", start=CORNER, end=axis) for axis in AXES),
        checks=(),
        cautions=(),
    )
    (picture,) = step_pictures(model, (step,), {})
    assert {start for start, _ in picture.marks} == {(0.0, 0.0)}
    middles = [complex(*callout.at) for callout in picture.callouts]
    ends = [complex(*end) for _, end in picture.marks]
    assert middles == pytest.approx([end / 2 for end in ends])
    return ends


@pytest.mark.parametrize("hand", list(Hand))
def test_axes_are_seen_as_a_camera_sees_them(hand: Hand, monkeypatch: pytest.MonkeyPatch) -> None:
    """Gauss's theorem of axonometry: seen at a right angle from far away, the squares of the ends
    of three axes, taken as complex numbers, add up to nothing, and their sizes squared to 2.
    """
    x, y, z = seen(hand, monkeypatch)
    assert abs(x**2 + y**2 + z**2) < 1e-9
    assert abs(x) ** 2 + abs(y) ** 2 + abs(z) ** 2 == pytest.approx(2.0)
    assert abs(z.real) < 1e-9, "what stands upright in the room does so in the picture"
    assert z.imag > 0


def test_the_hands_are_seen_from_mirrored_places(monkeypatch: pytest.MonkeyPatch) -> None:
    right, left = (seen(hand, monkeypatch) for hand in (Hand.RIGHT, Hand.LEFT))
    assert right[0] == pytest.approx(complex(left[0].real, -left[0].imag))
    assert right[1] == pytest.approx(complex(-left[1].real, left[1].imag))
    assert right[2] == pytest.approx(left[2])


def test_marks_go_on_after_the_alphabet() -> None:
    assert [mark_label(index) for index in (0, 1, 25, 26, 27, 52)] == [
        *("a", "b", "z", "a1", "b1", "a2")
    ]

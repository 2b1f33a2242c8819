"""The closing lines of the nest command: what is left over."""

from types import SimpleNamespace
from typing import Any

from casewright.commands.nest_command.show import offcut_lines
from nesting.after.offcuts import Offcut
from nesting.question.ticks import gap_ticks
from parametric.stock.lengths import Units


def left(length_mm: int, width_mm: int) -> Offcut:
    return Offcut(x=0, y=0, length=gap_ticks(length_mm), width=gap_ticks(width_mm))


def answer(*layouts: tuple[int, tuple[Offcut, ...]]) -> Any:
    """Layouts by how often they are cut and what each leaves."""
    return SimpleNamespace(
        sheets=[
            SimpleNamespace(layout=SimpleNamespace(runs=runs), offcuts=offcuts)
            for runs, offcuts in layouts
        ]
    )


def test_offcuts_of_one_size_are_counted_over_all_layouts_and_turns() -> None:
    """By hand: two of 800 x 300 on each of two sheets, one of them lying across, and one on each of
    three make 7; with 5 of 2000 x 200 that is 7 x 0.24 + 5 x 0.4 = 3.68 m2. The larger goes first.
    """
    nest = answer(
        (2, (left(800, 300), left(300, 800))), (3, (left(800, 300),)), (5, (left(2000, 200),))
    )
    assert list(offcut_lines(nest, Units.MM)) == [
        "Offcuts to keep: 12, 3.68 m2",
        "  5 x 2000 mm x 200 mm",
        "  7 x 800 mm x 300 mm",
    ]


def test_eight_sizes_of_offcuts_are_listed_and_more_are_counted() -> None:
    """Limit, common practice, no source."""
    sizes = tuple(left(1000 + 100 * number, 200) for number in range(10))
    eight = list(offcut_lines(answer((1, sizes[:8])), Units.MM))
    assert eight[1:] == [f"  1 x {1700 - 100 * number} mm x 200 mm" for number in range(8)]
    ten = list(offcut_lines(answer((1, sizes)), Units.MM))
    assert ten[1:9] == [f"  1 x {1900 - 100 * number} mm x 200 mm" for number in range(8)]
    assert ten[9:] == ["  and 2 more sizes, all in nest.json"]


def test_nothing_is_said_where_nothing_is_left() -> None:
    assert list(offcut_lines(answer((3, ())), Units.MM)) == []

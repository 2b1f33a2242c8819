"""What the nest command says at its end about offcuts, line by line, worked out by hand."""

from types import SimpleNamespace
from typing import Any

from casewright.commands.nest_command.show import offcut_lines
from nesting.after.offcuts import Offcut
from nesting.question.ticks import gap_ticks
from parametric.stock.lengths import Units


def answer(*plans: tuple[int, list[tuple[float, float]]]) -> Any:
    """Layouts with their runs and the sides of their offcuts."""
    return SimpleNamespace(
        sheets=tuple(
            SimpleNamespace(
                layout=SimpleNamespace(runs=runs),
                offcuts=tuple(
                    Offcut(x=0, y=0, length=gap_ticks(length), width=gap_ticks(width))
                    for length, width in sides
                ),
            )
            for runs, sides in plans
        )
    )


def test_offcuts_of_one_size_are_counted_over_all_runs_whichever_way_they_lie() -> None:
    """By hand: 3 + 2 + 2 of 800 x 500 mm = 2.8 m2, 2 of 1000 x 600 mm = 1.2 m2, 3 of 762 x 254 mm
    = 0.580644 m2; in inches 800 = 31.496, 500 = 19.685, 1000 = 39.370, 600 = 23.622, 762 = 30.
    """
    found = answer(
        (3, [(800, 500), (254, 762)]), (2, [(1000, 600), (500, 800), (800, 500)]), (4, [])
    )
    assert list(offcut_lines(found, Units.MM)) == [
        "Offcuts to keep: 12, 4.58 m2",
        "  2 x 1000 mm x 600 mm",
        "  7 x 800 mm x 500 mm",
        "  3 x 762 mm x 254 mm",
    ]
    assert list(offcut_lines(found, Units.INCH))[1:] == [
        '  2 x 39 3/8" x 23 5/8"',
        '  7 x 31 1/2" x 19 11/16"',
        '  3 x 30" x 10"',
    ]


def test_without_offcuts_nothing_is_said() -> None:
    assert list(offcut_lines(answer((3, [])), Units.MM)) == []


def test_eight_sizes_are_shown_and_the_others_counted() -> None:
    sides = [(1000.0 - each, 500.0) for each in range(10)]
    lines = list(offcut_lines(answer((1, sides[:8])), Units.MM))
    assert lines[-1] == "  1 x 993 mm x 500 mm"
    lines = list(offcut_lines(answer((1, sides)), Units.MM))
    assert lines[-2:] == ["  1 x 993 mm x 500 mm", "  and 2 more sizes, all in nest.json"]

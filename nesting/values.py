"""What one piece of a kind is worth, learnt from answers.

Sequential value correction (Belov and Scheithauer): a piece that ended on wasteful sheets is worth
more next time and so is placed earlier, while good partners are still there.
"""

from collections.abc import Sequence

from nesting.draft import Draft
from nesting.problem import Problem
from nesting.settings import LEARNING_RATE, SHORT_PENALTY


def first_values(problem: Problem) -> list[float]:
    """Return each kind's grown area."""
    return [float(kind.area) for kind in problem.kinds]


def corrected(problem: Problem, values: Sequence[float], draft: Draft) -> list[float]:
    """Return the values moved towards the sheet area that each kind took in the draft."""
    taken = [0.0] * len(values)
    placed = [0] * len(values)
    for filling, runs in draft:
        share = problem.rooms[filling.room].area / filling.area
        for kind, count in filling.counts:
            placed[kind] += count * runs
            taken[kind] += problem.kinds[kind].area * share * count * runs
    return [
        _moved(value, taken[kind] / placed[kind] if placed[kind] else value)
        * (SHORT_PENALTY if kind in draft.short else 1.0)
        for kind, value in enumerate(values)
    ]


def _moved(value: float, towards: float) -> float:
    return (1 - LEARNING_RATE) * value + LEARNING_RATE * towards

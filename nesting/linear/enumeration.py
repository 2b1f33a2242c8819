"""All patterns that an answer cheaper than the best one known can hold.

A proof gives each pattern a reduced cost: what one use costs above its dual values. In an answer
all reduced costs add up to its cost less the bound, so no pattern of a cheaper answer has more than
that alone. Patterns to which one more piece could be added are left out: a fuller one does the
same.
"""

from collections.abc import Iterator
from fractions import Fraction
from math import floor

from nesting.linear.column_generation import Proof
from nesting.linear.problem import BarProblem, Pattern

MOST_NODES = 100_000
"""Steps of the search beyond which the list is given up."""


def least_reduced_cost(problem: BarProblem, proof: Proof, most: int) -> list[Pattern]:
    """Return up to `most` full patterns of little reduced cost; no other has less than the last."""
    dearest = max(room.price for room in problem.rooms)
    for halvings in range(HALVINGS):
        allowed = Fraction(dearest, 2**halvings)
        patterns = helpful_patterns(problem, proof, allowed, most)
        if patterns is not None:
            return patterns
    return []


class TooMany(Exception):
    """There are more patterns than can be listed."""


HALVINGS = 20
"""Halvings of the dearest bar's price after which no reduced cost is small enough to look for."""


def helpful_patterns(
    problem: BarProblem, proof: Proof, allowed: Fraction, most: int
) -> list[Pattern] | None:
    """Return all full patterns whose reduced cost is at most `allowed`; None beyond `most`.

    An answer of a certain cost holds none but those (or part of them) whose reduced cost is at most
    that cost less the bound.
    """
    listed: list[Pattern] = []
    steps = _Steps()
    try:
        for room in range(len(problem.rooms)):
            for pattern in _patterns(problem, proof, room, allowed, steps):
                listed.append(pattern)
                if len(listed) > most:
                    return None
    except TooMany:
        return None
    return listed


class _Steps:
    """Counts steps up to the limit."""

    def __init__(self) -> None:
        self._done = 0

    def count(self) -> None:
        self._done += 1
        if self._done > MOST_NODES:
            raise TooMany


def _patterns(
    problem: BarProblem, proof: Proof, place: int, allowed: Fraction, steps: _Steps
) -> Iterator[Pattern]:
    room = problem.rooms[place]
    if room.on_hand == 0:
        return
    price = room.price * proof.scale + proof.rooms[place]
    least_value = price - floor(allowed * proof.scale)
    order = sorted(
        range(len(problem.demand)),
        key=lambda item_type: Fraction(-proof.item_types[item_type], problem.lengths[item_type]),
    )
    counts = [0] * len(order)
    shortest_left = _shortest_from(problem, order)

    def deeper(depth: int, left: int, total: int) -> Iterator[Pattern]:
        steps.count()
        if depth == len(order) or shortest_left[depth] > left:
            if total >= least_value and _is_full(problem, counts, left):
                yield Pattern(place, tuple(counts))
            return
        item_type = order[depth]
        length, value = problem.lengths[item_type], proof.item_types[item_type]
        # What follows is worth at most this item type's value of length.
        if (least_value - total) * length > left * value:
            return
        for count in range(min(left // length, problem.demand[item_type]), -1, -1):
            counts[item_type] = count
            yield from deeper(depth + 1, left - count * length, total + count * value)
        counts[item_type] = 0

    yield from deeper(0, room.size, 0)


def _shortest_from(problem: BarProblem, order: list[int]) -> list[int]:
    shortest = [problem.lengths[item_type] for item_type in order]
    for depth in range(len(order) - 2, -1, -1):
        shortest[depth] = min(shortest[depth], shortest[depth + 1])
    return shortest


def _is_full(problem: BarProblem, counts: list[int], left: int) -> bool:
    return any(counts) and all(
        length > left or count == most
        for length, count, most in zip(problem.lengths, counts, problem.demand, strict=True)
    )

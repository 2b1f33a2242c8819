"""The last touch on an answer: what an operator likes better, at the same price."""

from nesting.after.compaction import compacted
from nesting.after.grouping import grouped
from nesting.answer.solution import Solution
from nesting.question.instance import Instance


def finished(instance: Instance, solution: Solution) -> Solution:
    """Return the answer with groups kept together and its emptiest sheet drawn together.

    Sheets, price, bounds and quantities stay, and there are no more layouts than before.

    Raises:
        KeyError: the answer names a piece or a stock that the question does not have.
    """
    return compacted(instance, grouped(instance, solution))

"""What must hold for every answer about bars, over random questions."""

from collections import Counter

from hypothesis import given, settings

from nesting.linear.answer import cost, gap, length_yield, reusable_remnants
from nesting.linear.instance import BarInstance
from nesting.linear.solve import solve_bars
from nesting.linear.verify import violations
from tests.nesting.linear.bar_questions import bar_questions
from tests.nesting.linear.independent_models import exhaustive_cost


@settings(max_examples=60, deadline=None)
@given(bar_questions())
def test_every_answer_verifies_and_makes_exactly_what_is_asked(question: BarInstance) -> None:
    answer = solve_bars(question)
    assert violations(question, answer) == ()
    made: Counter[str] = Counter()
    for pattern in answer.patterns:
        made.update({cut: pattern.runs * n for cut, n in pattern.counts().items()})
    assert made == {piece.id: piece.quantity for piece in question.pieces}
    assert answer.lower_bound <= cost(question, answer)
    assert gap(question, answer) >= 0
    assert 0 < length_yield(question, answer) <= 1
    assert all(
        left.length >= question.rules.reusable for left in reusable_remnants(question, answer)
    )


@settings(max_examples=20, deadline=None)
@given(bar_questions())
def test_the_same_question_gives_the_same_answer(question: BarInstance) -> None:
    assert solve_bars(question) == solve_bars(question)


@settings(max_examples=60, deadline=None)
@given(bar_questions(most_pieces=3, most_quantity=2))
def test_tiny_questions_agree_with_exhaustive_search(question: BarInstance) -> None:
    answer = solve_bars(question)
    least = exhaustive_cost(question)
    assert least is not None
    assert cost(question, answer) == least
    assert answer.lower_bound <= least

"""From a question with trim, kerf, rim and defects to sheets that come off the saw."""

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.answer.layout_check import layout_violations
from nesting.answer.solution import Layout, Placement
from nesting.edge_to_edge.cut_sequence import cut_sequence
from nesting.edge_to_edge.cuts import Fate
from nesting.edge_to_edge.sawn_patterns import sawn_patterns
from nesting.question.instance import Defect, Instance, Piece, Stock, Turn
from nesting.question.problem import problem_of
from nesting.question.sheet_rules import EdgeToEdge, Rim, SheetRules, Trim
from nesting.search.pattern import Pattern
from tests.nesting.edge_to_edge.replayed_saw import rectangle_of, replayed


@st.composite
def _instances(draw: st.DrawFn) -> Instance:
    trim = Trim(
        left=draw(st.integers(0, 9)),
        right=draw(st.integers(0, 9)),
        bottom=draw(st.integers(0, 9)),
        top=draw(st.integers(0, 9)),
    )
    rim = st.builds(Rim, longest_side=st.integers(1, 60), distance=st.integers(0, 20))
    stages = st.sampled_from((2, 3, 4, None)).map(lambda most: EdgeToEdge(stages=most))
    rules = SheetRules(
        trim=trim,
        gap=draw(st.integers(0, 6)),
        rim=draw(st.one_of(st.none(), rim)),
        saw=draw(stages),
    )
    pieces = tuple(
        Piece(
            id=f"P{n}",
            length=draw(st.integers(5, 90)),
            width=draw(st.integers(5, 90)),
            quantity=draw(st.integers(1, 6)),
            turn=draw(st.sampled_from(Turn)),
        )
        for n in range(draw(st.integers(1, 7)))
    )
    defects = st.builds(
        Defect,
        x=st.integers(0, 80),
        y=st.integers(0, 60),
        length=st.integers(1, 20),
        width=st.integers(1, 20),
    )
    stock = Stock(
        id="S",
        length=draw(st.integers(100, 200)),
        width=draw(st.integers(80, 150)),
        price=1.0,
        on_hand=None,
        defects=tuple(draw(st.lists(defects, max_size=2))),
    )
    return Instance(pieces=pieces, stocks=(stock,), rules=rules)


def _layout(instance: Instance, pattern: Pattern) -> Layout:
    trim = instance.rules.trim
    placements = tuple(
        Placement(
            piece=instance.pieces[item_type].id, x=x + trim.left, y=y + trim.bottom, turned=turned
        )
        for item_type, x, y, turned in pattern.spots
    )
    return Layout(stock="S", placements=placements, runs=1)


@given(_instances(), st.integers(0, 99))
@settings(max_examples=150, deadline=None)
def test_found_sheets_are_right_and_come_off_the_saw_in_the_stages_asked(
    instance: Instance, seed: int
) -> None:
    problem = problem_of(instance)
    saw = instance.rules.saw
    assert saw is not None
    (room,) = problem.rooms
    values = [float(item_type.area) for item_type in problem.item_types]
    patterns = sawn_patterns(room, problem.item_types, values, problem.demand, saw.stages, 20, seed)
    fits = any(item_type.fits(room) for item_type in problem.item_types)
    assert bool(patterns) == fits
    for pattern in patterns[:4]:
        layout = _layout(instance, pattern)
        assert not list(layout_violations(instance, layout, "found"))
        sequence = cut_sequence(instance, layout)
        assert saw.stages is None or sequence.stages <= saw.stages
        off_saw = replayed(instance, sequence)
        pieces = [off_saw[board.number] for board in sequence.boards if board.fate is Fate.PIECE]
        assert sorted(pieces) == sorted(rectangle_of(instance, p) for p in layout.placements)

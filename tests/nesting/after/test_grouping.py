"""Groups kept together: quantities stay exact, and groups never lie on more sheets."""

from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.after.grouping import grouped, sheets_touched
from nesting.answer.solution import Layout, Placement, Solution
from nesting.answer.verify import violations
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import SheetRules, Trim
from tests.nesting.after.loose_nests import loose_nests
from tests.nesting.random_nests import answer_of, one_sheet

BOARD = Stock(id="board", length=100, width=10, price=1.0, on_hand=None)
RULES = SheetRules(trim=Trim.even(0), gap=0)


def ask(quantities: dict[str, int], length: int = 10) -> Instance:
    return Instance(
        pieces=tuple(
            Piece(id=name, length=length, width=10, quantity=n, turn=Turn.FIXED, group=name[0])
            for name, n in quantities.items()
        ),
        stocks=(BOARD,),
        rules=RULES,
    )


def row(names: list[str] | str, runs: int = 1) -> Layout:
    places = (Placement(piece=name, x=10 * n, y=0, turned=False) for n, name in enumerate(names))
    return one_sheet("board", *places, runs=runs)


def groups_of(solution: Solution) -> list[set[str]]:
    return [{placed.piece[0] for placed in layout.placements} for layout in solution.layouts]


def test_equal_pieces_of_two_rooms_are_parted_by_room():
    instance = ask({"a": 4, "b": 4})
    answer = answer_of(instance, row("abab"), row("baba"))
    better = grouped(instance, answer)
    assert violations(instance, better) == ()
    assert sorted(map(sorted, groups_of(better))) == [["a"], ["b"]]
    assert (sheets_touched(instance, answer), sheets_touched(instance, better)) == (4, 2)


def test_pieces_of_another_size_or_run_count_stay_where_they_are():
    instance = ask({"a": 3, "b": 3})
    answer = answer_of(instance, row("ab", runs=2), row("ba", runs=1))
    assert grouped(instance, answer).layouts == answer.layouts
    pieces = (*ask({"a": 2}).pieces, *ask({"b": 2}, length=20).pieces)
    sizes = Instance(pieces=pieces, stocks=(BOARD,), rules=RULES)
    mixed = answer_of(sizes, row("ab"), row("ab"))
    assert sheets_touched(sizes, grouped(sizes, mixed)) == 4


@given(st.permutations("aaabbbccc"), st.integers(1, 3))
@settings(deadline=None, max_examples=100)
def test_three_rooms_on_three_sheets_of_equal_slots(letters, runs):
    instance = ask(dict.fromkeys("abc", 3 * runs))
    rows = [row(letters[n : n + 3], runs) for n in (0, 3, 6)]
    answer = answer_of(instance, *rows)
    better = grouped(instance, answer)
    assert violations(instance, better) == ()
    assert better.distinct <= 3
    assert sheets_touched(instance, better) == 3 * runs  # a sheet for each room: no less can do


@given(loose_nests())
@settings(deadline=None, max_examples=60)
def test_random_answers_stay_right_and_are_no_more_scattered(nest):
    instance, solution = nest
    better = grouped(instance, solution)
    assert violations(instance, better) == ()
    assert better.sheets == solution.sheets
    assert better.distinct <= solution.distinct
    assert sheets_touched(instance, better) <= sheets_touched(instance, solution)


@given(st.data())
@settings(deadline=None, max_examples=60)
def test_equal_pieces_in_many_groups_are_gathered(data):
    names = data.draw(st.lists(st.sampled_from(["a", "b", "c", "d"]), min_size=4, max_size=40))
    quantities = {name: names.count(name) for name in sorted(set(names))}
    instance = ask(quantities)
    answer = answer_of(instance, *(row(names[n : n + 5]) for n in range(0, len(names), 5)))
    better = grouped(instance, answer)
    assert violations(instance, better) == ()
    assert sheets_touched(instance, better) <= sheets_touched(instance, answer)
    assert grouped(instance, better) == better

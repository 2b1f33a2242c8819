"""How long lists, errors of several lines and names that nobody knows are told in words."""

import pytest

from casewright.errors import CannotBeMade, DoesNotFit, InputErrors, OptionErrors, OptionFault
from casewright.intake.nearest import one_of
from casewright.stages.nest.stock_words import named
from casewright.wording import counted


def test_each_line_of_an_error_is_a_line_of_its_own() -> None:
    assert DoesNotFit("oak: too few\nply: too few\nwhat to do").lines == (
        "oak: too few",
        "ply: too few",
        "what to do",
    )
    assert CannotBeMade("one line").lines == ("one line",)
    faults = tuple(OptionFault(option=name, found="1\n2", allowed="3") for name in ("--a", "--b"))
    assert OptionErrors(faults).lines == (
        "--a: found 1\n2; allowed: 3",
        "--b: found 1\n2; allowed: 3",
    )
    assert InputErrors(()).lines == ()


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (0, ""),
        (1, "1"),
        (8, "1; 2; 3; 4; 5; 6; 7; 8"),
        (9, "1; 2; 3; 4; 5; 6; 7; 8; and 1 more"),
        (20, "1; 2; 3; 4; 5; 6; 7; 8; and 12 more"),
    ],
)
def test_eight_parts_are_named_and_the_others_counted(number: int, words: str) -> None:
    assert named(str(each) for each in range(1, number + 1)) == words


def test_of_many_names_thirty_are_listed_and_it_is_said_that_there_are_more() -> None:
    names = [f"n{number:03}" for number in range(301)]
    thirty = ", ".join(names[:30])
    assert one_of(names[:30], "zzz", what="names") == f"one of {thirty}"
    assert one_of(names[:31], "zzz", what="names") == f"one of {thirty}, ..."


def test_the_nearest_is_sought_among_three_hundred_names_and_not_among_more() -> None:
    names = [f"n{number:03}" for number in range(301)]
    assert one_of(names[:300], "n1999", what="names").endswith(" (nearest: n199)")
    assert "nearest" not in one_of(names, "n1999", what="names")


def test_names_are_told_in_the_order_of_the_alphabet_with_the_nearest() -> None:
    assert one_of(["birch", "ash", "oak"], "aks", what="woods") == "one of ash, birch, oak" + (
        " (nearest: oak)"
    )
    assert one_of(["birch"], "steel", what="woods") == "one of birch"
    assert one_of([], "steel", what="woods") == "nothing, for there are no woods"
    assert one_of(["", "a\nb"], "steel", what="woods") == r"one of '', 'a\nb'"


def test_one_is_not_counted_as_several() -> None:
    assert [counted(number, "sheet") for number in (0, 1, 2)] == ["0 sheets", "1 sheet", "2 sheets"]

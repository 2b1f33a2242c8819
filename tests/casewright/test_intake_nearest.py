"""What may have been meant: the allowed names in words, and the one that comes nearest."""

import pytest

from casewright.intake.nearest import one_of


def numbered(count: int) -> list[str]:
    """Names of one length; the last one stands out."""
    return [f"board-{number:03d}" for number in range(count - 1)] + ["spruce"]


def test_the_nearest_of_a_few_names_is_told_in_their_order() -> None:
    assert one_of(["oak", "ash", "elm"], "elmm", what="boards") == (
        "one of ash, elm, oak (nearest: elm)"
    )
    assert one_of(["oak", "ash"], "melamine", what="boards") == "one of ash, oak"
    assert one_of([], "ash", what="boards") == "nothing, for there are no boards"


@pytest.mark.parametrize(("count", "nearest"), [(299, True), (300, True), (301, False)])
def test_of_three_hundred_names_at_most_one_is_said_to_be_near(count: int, nearest: bool) -> None:
    """Limit, common practice, no source: more than 300 names are not compared with each fault."""
    told = one_of(numbered(count), "sprucee", what="boards")
    assert told.endswith(" (nearest: spruce)") is nearest
    assert told.startswith("one of board-000, board-001, ")


@pytest.mark.parametrize(("count", "listed", "end"), [(30, 30, "spruce"), (31, 30, "...")])
def test_thirty_names_are_listed_and_more_are_left_open(count: int, listed: int, end: str) -> None:
    """Limit, common practice, no source."""
    names = one_of(numbered(count), "?", what="boards").removeprefix("one of ").split(", ")
    assert len([name for name in names if name != "..."]) == listed
    assert names[-1] == end


def test_a_long_mistake_is_compared_by_its_beginning() -> None:
    """200 letters are enough to tell what somebody meant: common practice, no source."""
    name = "m" * 200
    assert one_of([name], name + "?" * 100_000, what="sets") == f"one of {name} (nearest: {name})"

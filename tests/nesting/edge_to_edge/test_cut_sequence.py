"""The cuts of a layout, made again one by one on a saw that knows nothing of the layout."""

from dataclasses import replace

import pytest
from hypothesis import given, settings

from nesting.after.offcuts import Reusable
from nesting.answer.cut_check import fewest_stages
from nesting.answer.solution import Layout, Placement
from nesting.edge_to_edge.cut_sequence import cut_sequence
from nesting.edge_to_edge.cuts import CutKind, Fate, Line
from nesting.edge_to_edge.errors import CutRefused, Refusal
from nesting.question.instance import Defect, Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import EdgeToEdge, SheetRules, Trim
from tests.nesting.edge_to_edge.replayed_saw import (
    directions_of,
    rectangle_of,
    replayed,
    stages_taken,
)
from tests.nesting.edge_to_edge.sawn_layouts import sawn_layouts
from tests.nesting.edge_to_edge.through_cuts import comes_apart

_ANY = Reusable(longer=1, shorter=1)


@given(sawn_layouts())
@settings(max_examples=300, deadline=None)
def test_every_piece_comes_off_the_saw_once_and_to_size(case: tuple[Instance, Layout]) -> None:
    instance, layout = case
    sequence = cut_sequence(instance, layout)
    off_saw = replayed(instance, sequence)
    assert off_saw == {
        board.number: (board.x, board.y, board.length, board.width)
        for board in sequence.boards
        if board.fate is not Fate.CUT
    }
    finished = [
        (placement, off_saw[board.number])
        for board in sequence.boards
        if board.fate is Fate.PIECE
        for placement in board.holds
    ]
    assert sorted(finished, key=str) == sorted(
        ((p, rectangle_of(instance, p)) for p in layout.placements), key=str
    )


@given(sawn_layouts())
@settings(max_examples=200, deadline=None)
def test_each_piece_is_freed_by_one_cut_and_the_fence_is_set_once_for_cuts_in_a_row(
    case: tuple[Instance, Layout],
) -> None:
    instance, layout = case
    sequence = cut_sequence(instance, layout)
    freed = [placement for cut in sequence.cuts for placement in sequence.freed_by(cut)]
    uncut = [rectangle_of(instance, p) for p in layout.placements if p not in freed]
    stock = instance.stocks[0]
    assert uncut in ([], [(0, 0, stock.length, stock.width)])
    assert len(set(freed)) == len(freed)
    assert [cut for cuts in sequence.settings for cut in cuts] == list(sequence.cuts)
    for cuts in sequence.settings:
        assert len({(cut.stage, cut.line, cut.distance) for cut in cuts}) == 1
    assert [cut.stage for cut in sequence.cuts] == sorted(cut.stage for cut in sequence.cuts)


@given(sawn_layouts())
@settings(max_examples=200, deadline=None)
def test_stages_are_the_fewest_and_change_direction(case: tuple[Instance, Layout]) -> None:
    instance, layout = case
    sequence = cut_sequence(instance, layout)
    gap = instance.rules.gap
    boxes = [
        (x, y, x + length + gap, y + width + gap)
        for x, y, length, width in (rectangle_of(instance, p) for p in layout.placements)
    ]
    assert stages_taken(instance, layout, sequence) <= sequence.stages
    assert comes_apart(boxes, sequence.stages)
    assert sequence.stages == 0 or not comes_apart(boxes, sequence.stages - 1)
    assert sequence.stages == fewest_stages([(a, b, c - gap, d - gap) for a, b, c, d in boxes], gap)
    lines = directions_of(sequence)
    assert all(len(lines[stage]) == 1 for stage in lines if stage > 0)
    for stage in lines:
        if stage > 0:
            turned = (stage - 1) % 2
            assert lines[stage] == {sequence.first.other if turned else sequence.first}
    for cut in sequence.cuts:
        assert (cut.kind is CutKind.TRIM) == (cut.stage == 0)
        assert (cut.kind is CutKind.SIZE) == (cut.stage > sequence.stages)


@given(sawn_layouts())
@settings(max_examples=100, deadline=None)
def test_fewer_stages_than_needed_are_refused(case: tuple[Instance, Layout]) -> None:
    instance, layout = case
    needed = cut_sequence(instance, layout).stages
    if needed <= 2:
        return
    rules = replace(instance.rules, saw=EdgeToEdge(stages=needed - 1))
    with pytest.raises(CutRefused) as refused:
        cut_sequence(replace(instance, rules=rules), layout)
    assert (refused.value.needed, refused.value.allowed) == (needed, needed - 1)


def _question(*pieces: tuple[str, int, int], trim: Trim, kerf: int = 4) -> Instance:
    return Instance(
        pieces=tuple(
            Piece(id=id, length=length, width=width, quantity=9, turn=Turn.QUARTER)
            for id, length, width in pieces
        ),
        stocks=(Stock(id="S", length=100, width=60, price=1.0, on_hand=None),),
        rules=SheetRules(trim=trim, gap=kerf, saw=EdgeToEdge(stages=2)),
    )


def _layout(*places: tuple[str, int, int]) -> Layout:
    return Layout(
        stock="S",
        placements=tuple(Placement(piece=id, x=x, y=y, turned=False) for id, x, y in places),
        runs=1,
    )


def test_two_strips_step_by_step() -> None:
    """Worked out by hand: trim 6 left and below, 0 above, 1 right; a blade of 4."""
    instance = _question(("A", 40, 20), ("B", 30, 16), trim=Trim(left=6, right=1, bottom=6, top=0))
    layout = _layout(("A", 6, 6), ("B", 50, 6), ("A", 30, 30))
    sequence = cut_sequence(instance, layout, _ANY)
    steps = [
        (cut.stage, cut.kind, cut.line, cut.board, cut.distance, cut.dust) for cut in sequence.cuts
    ]
    along, across = Line.ALONG, Line.ACROSS
    assert steps == [
        (0, CutKind.TRIM, along, 0, 2, 4),
        (0, CutKind.TRIM, across, 2, 2, 4),
        (0, CutKind.TRIM, across, 4, 93, 1),
        (1, CutKind.RIP, along, 5, 20, 4),
        (1, CutKind.RIP, along, 7, 20, 4),
        # 20 first: 40 is then needed on both strips.
        (2, CutKind.CROSSCUT, across, 8, 20, 4),
        (2, CutKind.CROSSCUT, across, 6, 40, 4),
        (2, CutKind.CROSSCUT, across, 11, 40, 4),
        (2, CutKind.CROSSCUT, across, 13, 30, 4),
        (3, CutKind.SIZE, along, 16, 16, 4),
    ]
    assert (sequence.stages, sequence.first) == (2, along)
    assert [len(cuts) for cuts in sequence.settings] == [1, 1, 1, 2, 1, 2, 1, 1]
    freed = [[p.piece for p in sequence.freed_by(cut)] for cut in sequence.cuts]
    assert freed == [[], [], [], [], [], [], ["A"], ["A"], [], ["B"]]
    offcuts = [(b.length, b.width) for b in sequence.left_over if b.fate is Fate.OFFCUT]
    # Both trim strips, the rest above the strips, both sides of the upper A, the right of B.
    assert offcuts == [(100, 2), (2, 54), (93, 6), (20, 20), (25, 20), (15, 20)]


def test_only_large_and_clear_waste_is_an_offcut() -> None:
    """A halved sheet: the right half is kept unless a defect lies in it, or it is too small."""
    instance = _question(("A", 48, 60), trim=Trim.even(0))
    layout = _layout(("A", 0, 0))
    half = Reusable(longer=60, shorter=48)

    def fates(defects: tuple[Defect, ...], reusable: Reusable) -> list[Fate]:
        stock = replace(instance.stocks[0], defects=defects)
        sequence = cut_sequence(replace(instance, stocks=(stock,)), layout, reusable)
        return [board.fate for board in sequence.left_over]

    assert fates((), half) == [Fate.OFFCUT]
    assert fates((), Reusable(longer=60, shorter=49)) == [Fate.WASTE]
    assert fates((Defect(x=99, y=0, length=1, width=1),), half) == [Fate.WASTE]
    assert fates((Defect(x=51, y=0, length=1, width=1),), half) == [Fate.OFFCUT]


def test_what_cannot_be_sawn_is_refused_with_its_pieces() -> None:
    instance = _question(("A", 40, 20), ("B", 20, 40), trim=Trim.even(0))
    pinwheel = _layout(("A", 0, 0), ("B", 44, 0), ("A", 24, 44 - 4), ("B", 0, 24 - 4 + 4))
    with pytest.raises(CutRefused) as refused:
        cut_sequence(replace(instance, stocks=(replace(instance.stocks[0], width=64),)), pinwheel)
    assert refused.value.refusal is Refusal.LOCKED
    assert refused.value.pieces == ("A", "B")
    assert "A, B" in str(refused.value)


def test_too_small_a_gap_is_refused() -> None:
    instance = _question(("A", 40, 20), trim=Trim.even(0))
    with pytest.raises(CutRefused) as refused:
        cut_sequence(instance, _layout(("A", 0, 0), ("A", 43, 0)))
    assert refused.value.refusal is Refusal.LOCKED
    assert cut_sequence(instance, _layout(("A", 0, 0), ("A", 44, 0))).stages == 1


def test_other_refusals() -> None:
    instance = _question(("A", 40, 20), trim=Trim.even(5))
    with pytest.raises(CutRefused) as outside:
        cut_sequence(instance, _layout(("A", 4, 5)))
    assert (outside.value.refusal, outside.value.pieces) == (Refusal.OUTSIDE, ("A",))
    with pytest.raises(CutRefused) as twice:
        cut_sequence(instance, _layout(("A", 5, 5), ("A", 5, 5)))
    assert twice.value.refusal is Refusal.LOCKED
    free = replace(instance, rules=replace(instance.rules, saw=None))
    with pytest.raises(CutRefused) as routed:
        cut_sequence(free, _layout(("A", 5, 5)))
    assert routed.value.refusal is Refusal.FREE_NEST
    with pytest.raises(KeyError):
        cut_sequence(instance, replace(_layout(("A", 5, 5)), stock="other"))

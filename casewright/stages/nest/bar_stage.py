"""From the linear cut list to cut plans: the one place where cleats and angles become pieces."""

from __future__ import annotations

from collections.abc import Iterable

from casewright.errors import DoesNotFit
from casewright.job import Saw
from casewright.progress import Progress
from casewright.wording import counted
from export.manifest import BarEntry
from export.tables.profile_words import profile_shown
from nesting.linear.answer import length_yield
from nesting.linear.bar_nest import BarNest
from nesting.linear.errors import PieceTooLong
from nesting.linear.instance import Bar, BarInstance, BarPiece, SawRules
from nesting.linear.solve import solve_bars
from nesting.question.ticks import gap_ticks, piece_ticks, sheet_ticks, to_mm
from parametric.lists.cut_list import BarPart, CutList
from parametric.stock.lengths import Units, show_length
from parametric.stock.origin import told_at

STOCK = "bar"
"""Identity of the one length that a material is bought in."""


def nest_bars(
    cut_list: CutList, saw: Saw, progress: Progress, units: Units = Units.MM
) -> tuple[BarNest, ...]:
    """Return the cut plans of all bars, in the order in which their first parts are numbered;
    errors tell lengths in `units`.

    Raises:
        DoesNotFit: a part is longer than the bar it is cut from.
    """
    groups = bar_groups(cut_list.bars)
    progress.stage("bars", len(groups))
    nests = []
    for parts in groups:
        nest = nest_of(parts, saw, units)
        progress.step(f"{nest.material}: {counted(nest.answer.bars, 'bar')}")
        nests.append(nest)
    return tuple(nests)


def bar_groups(bars: Iterable[BarPart]) -> tuple[tuple[BarPart, ...], ...]:
    """Return the parts that are cut from the same bars, together."""
    groups: dict[tuple[str, str, float], list[BarPart]] = {}
    for bar in bars:
        groups.setdefault((bar.material, bar.profile, bar.stock_length_mm), []).append(bar)
    return tuple(map(tuple, groups.values()))


def nest_of(parts: tuple[BarPart, ...], saw: Saw, units: Units) -> BarNest:
    """Return the cut plan of parts of one material.

    Raises:
        DoesNotFit: a part is longer than the bar it is cut from.
    """
    question = bar_question(parts, saw)
    try:
        answer = solve_bars(question)
    except PieceTooLong as error:
        too_long = too_long_text(parts[0], error, units)
        raise DoesNotFit(told_at(parts[0].stock_origin, too_long)) from error
    return BarNest(
        material=parts[0].material, profile=parts[0].profile, question=question, answer=answer
    )


def bar_question(parts: tuple[BarPart, ...], saw: Saw) -> BarInstance:
    """Return the question that the parts pose. All bars are bought, so each counts 1."""
    return BarInstance(
        pieces=tuple(
            BarPiece(id=part.number, length=piece_ticks(part.length_mm), quantity=part.quantity)
            for part in parts
        ),
        bars=(
            Bar(id=STOCK, length=sheet_ticks(parts[0].stock_length_mm), price=1.0, on_hand=None),
        ),
        rules=SawRules(
            kerf=gap_ticks(saw.kerf_mm if parts[0].kerf_mm is None else parts[0].kerf_mm),
            end_trim=gap_ticks(saw.end_trim_mm),
            reusable=gap_ticks(saw.reusable_mm),
        ),
    )


def bar_entries(nests: Iterable[BarNest]) -> tuple[BarEntry, ...]:
    """Return the nests as the manifest lists them."""
    return tuple(
        BarEntry(
            material=nest.material,
            profile=nest.profile,
            length_mm=to_mm(bar.length),
            kerf_mm=to_mm(nest.question.rules.kerf),
            end_trim_mm=to_mm(nest.question.rules.end_trim),
            bars=nest.answer.bars,
            lower_bound=round(nest.answer.lower_bound),
            patterns=nest.answer.distinct,
            share_used=length_yield(nest.question, nest.answer),
        )
        for nest in nests
        for bar in nest.question.bars
    )


def too_long_text(part: BarPart, error: PieceTooLong, units: Units) -> str:
    """Return which parts are too long for the bar, and what would do."""
    (tried,) = error.pieces[0].bars
    pieces = ", ".join(
        f"{each.piece} ({show_length(to_mm(each.length), units)})" for each in error.pieces
    )
    bar, room = (show_length(mm, units) for mm in (part.stock_length_mm, to_mm(tried.room)))
    profile = profile_shown(part.profile, units)
    return (
        f"{part.material} ({profile}): {pieces} cannot be cut from bars of {bar},"
        f" which hold {room} between their trimmed ends; "
        "set a longer stock_length, or make the unit shorter"
    )

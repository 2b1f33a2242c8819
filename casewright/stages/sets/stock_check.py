"""Whether the stock of a job can hold its parts at all, before anything is nested.

What is told here is proven and takes no search: parts too large for every sheet or bar, and sheets
on hand that are too few by area or by the nest's quick bounds. That nothing is told does not say
that the sheets suffice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass

from casewright.errors import DoesNotFit
from casewright.job import Job, Saw
from casewright.stages.nest.bar_stage import bar_groups, bar_question, too_long_text
from casewright.stages.nest.nest_stage import (
    NestGroup,
    board_instance,
    nest_groups,
    nest_instance,
    sheet_rules,
)
from casewright.stages.nest.stock_words import named, too_big_text, what_to_buy, what_was_not_placed
from casewright.stages.sets.used_sets import PlacedSets, used_sets
from casewright.wording import counted
from nesting.bounds.stock_need import least_of_limited, proven_shortfall
from nesting.linear.errors import PieceTooLong
from nesting.linear.shortage import refuse_too_long
from nesting.question.errors import InvalidInstance, NotEnoughStock, PieceTooBig, ShortageProof
from nesting.question.fit_check import refuse_impossible
from nesting.question.instance import Instance
from nesting.question.sheet_rules import SheetRules
from nesting.question.ticks import to_mm
from parametric.findings.finding import Finding, Sense, Severity
from parametric.lists.cut_list import BarPart, CutList
from parametric.shapes.board import Board
from parametric.stock.lengths import Units, show_length
from parametric.stock.materials import SheetMaterial
from parametric.stock.origin import Origin, told_at

ON_HAND, SHEET_SIZE, BAR_LENGTH = "stock-on-hand", "stock-size", "stock-length"
CODES = frozenset((ON_HAND, SHEET_SIZE, BAR_LENGTH))
"""The codes of all findings made here."""

NO_FEWER = "no fewer sheets hold the parts; more may be needed"


@dataclass(frozen=True, slots=True, kw_only=True)
class StockCheck:
    """What was found of the stock of one material, by its key, and where a job's files list it.

    `what` is that and what to do about it, without the place, in the job's units.
    """

    material: str
    origin: Origin | None
    finding: Finding
    what: str

    @property
    def missed(self) -> bool:
        """Whether the material cannot be cut from its stock."""
        return self.finding.severity is Severity.FAIL

    def __str__(self) -> str:
        """Return one line with the place that a person can act on."""
        return told_at(self.origin, self.what)


def missed(checks: Iterable[StockCheck]) -> tuple[StockCheck, ...]:
    """Return what does not suffice."""
    return tuple(check for check in checks if check.missed)


def refuse_missed(checks: Iterable[StockCheck], hint: str = "") -> None:
    """Do nothing when all stock suffices as far as it is known.

    Raises:
        DoesNotFit: some does not; all of it is told, then the hint.
    """
    found = missed(checks)
    if found:
        raise DoesNotFit("\n".join([*map(str, found), *((hint,) if hint else ())]))


def board_checks(job: Job, sets: PlacedSets) -> tuple[StockCheck, ...]:
    """Return the checks of limited sheets from the sizes of all boards alone, without solids."""
    return tuple(
        check
        for material, instance in board_questions(job, sets)
        for check in on_hand_checks(material, (instance,), job.units)
    )


def board_questions(job: Job, sets: PlacedSets) -> Iterator[tuple[SheetMaterial, Instance]]:
    """Yield each board material with all its boards as one question, however they will lie."""
    boards: dict[str, list[tuple[Board, int]]] = {}
    for used in used_sets(job):
        for board in sets[used.sizes.name, used.hand].assembly.boards:
            boards.setdefault(board.material.key, []).append((board, used.rooms))
    rules = sheet_rules(job.machine)
    for listed in boards.values():
        material = listed[0][0].material
        # Rules that cannot be asked like this are told when the parts are known.
        with suppress(InvalidInstance):
            yield material, board_instance(material, listed, job.routing.pre_mill_mm, rules)


def part_checks(job: Job, cut_list: CutList) -> tuple[StockCheck, ...]:
    """Return the checks of all sheets and bars that the parts are cut from."""
    groups = nest_groups(cut_list.parts)
    return (
        *sheet_checks(groups, sheet_rules(job.machine), job.units),
        *bar_checks(cut_list.bars, job.machine.saw, job.units),
    )


def sheet_checks(
    groups: Iterable[NestGroup], rules: SheetRules, units: Units
) -> Iterator[StockCheck]:
    """Yield for each material whether its parts fit a sheet, and its sheets on hand."""
    of_material: dict[str, list[NestGroup]] = {}
    for group in groups:
        of_material.setdefault(group.material.key, []).append(group)
    for members in of_material.values():
        material, instances, wrong = members[0].material, [], []
        for group in members:
            try:
                instances.append(nest_instance(group, rules))
                refuse_impossible(instances[-1])
            except PieceTooBig as error:
                wrong += [too_big_text(piece, units) for piece in error.pieces]
            except InvalidInstance as error:
                wrong += [str(fault) for fault in error.faults]
        yield _size_check(material, wrong)
        if len(instances) == len(members):
            yield from on_hand_checks(material, instances, units)


def on_hand_checks(
    material: SheetMaterial, instances: Iterable[Instance], units: Units
) -> Iterator[StockCheck]:
    """Yield whether the sheets on hand are proven too few for questions that share them; nothing
    where no stock of the material is limited.
    """
    on_hand = [sheet.on_hand for sheet in material.stock if sheet.on_hand is not None]
    if not on_hand:
        return
    questions = tuple(instances)
    shortfall = proven_shortfall(questions)
    least = (
        least_of_limited(questions) if shortfall is None else sum(on_hand) + (shortfall.more or 1)
    )
    more = len(on_hand) > 1 and shortfall is not None
    needed = f"{least - sum(on_hand)} more" if more else str(least)
    yield _check(
        _limited_origin(material),
        material.key,
        code=ON_HAND,
        severity=Severity.OK if shortfall is None else Severity.FAIL,
        message=f"{material.key}: {_on_hand(material)} on hand, at least {needed} needed",
        measured=float(sum(on_hand)),
        limit=float(least),
        unit="sheets",
        source=NO_FEWER if shortfall is None else shortfall.proof,
        advice="" if shortfall is None else what_to_buy(material, shortfall, units),
    )


def not_placed(
    material: SheetMaterial, error: NotEnoughStock, used: Counter[tuple[str, str]], units: Units
) -> StockCheck:
    """Return what is told where a nest found no place for all parts, though nothing forbade one."""
    taken = sum(used[material.key, sheet.key] for sheet in material.stock)
    message, advice = what_was_not_placed(material, error, taken, units)
    return _check(
        _limited_origin(material),
        material.key,
        code=ON_HAND,
        severity=Severity.FAIL,
        message=f"{material.key}: {_on_hand(material)} on hand; {message}",
        measured=float(sum(short.quantity for short in error.short)),
        sense=Sense.AT_MOST,
        limit=0.0,
        unit="parts",
        source=ShortageProof.SEARCH,
        advice=advice,
    )


def bar_checks(bars: Iterable[BarPart], saw: Saw, units: Units = Units.MM) -> Iterator[StockCheck]:
    """Yield for each material of cleats and steel angles what a bar has beyond its longest part."""
    for parts in bar_groups(bars):
        question = bar_question(parts, saw)
        longest = max(parts, key=lambda part: part.length_mm)
        room_mm = to_mm(question.bars[0].length - 2 * question.rules.end_trim)
        spare_mm, too_long = room_mm - longest.length_mm, ""
        try:
            refuse_too_long(question)
        except PieceTooLong as error:
            too_long = too_long_text(parts[0], error, units)
        message, _, advice = too_long.partition("; ")
        yield _check(
            parts[0].stock_origin,
            parts[0].material,
            code=BAR_LENGTH,
            severity=Severity.FAIL if too_long else Severity.OK,
            message=message
            or f"{parts[0].material}: a bar leaves {show_length(spare_mm, units)} beyond"
            f" {longest.number}, the longest part",
            measured=spare_mm,
            limit=0.0,
            unit="mm",
            source="bar length less the trim at both ends",
            advice=advice,
        )


def _size_check(material: SheetMaterial, wrong: list[str]) -> StockCheck:
    parts = f"{material.key}: a stock sheet holds every part"
    if wrong:
        parts = f"{counted(len(wrong), 'part')} of {material.key} that no stock sheet holds"
    return _check(
        material.stock_origin,
        material.key,
        code=SHEET_SIZE,
        severity=Severity.FAIL if wrong else Severity.OK,
        message=f"{parts}: {named(wrong)}" if wrong else parts,
        measured=float(len(wrong)),
        sense=Sense.AT_MOST,
        limit=0.0,
        unit="parts",
        source="stock sizes less the machine's trim and distances",
        advice="list a larger sheet, or make the parts smaller" if wrong else "",
    )


def _on_hand(material: SheetMaterial) -> str:
    return " and ".join(
        f"{sheet.on_hand} x {sheet.key}" for sheet in material.stock if sheet.on_hand is not None
    )


def _limited_origin(material: SheetMaterial) -> Origin | None:
    """Return where the one limited stock is limited, or where all stock is listed."""
    limited = [sheet for sheet in material.stock if sheet.on_hand is not None]
    return limited[0].origin if len(limited) == 1 else material.stock_origin


def _check(
    origin: Origin | None,
    material: str,
    *,
    code: str,
    severity: Severity,
    message: str,
    measured: float,
    limit: float,
    unit: str,
    source: str,
    advice: str,
    sense: Sense = Sense.AT_LEAST,
) -> StockCheck:
    where = f"stock of {material}" if origin is None else origin.in_its_folder
    finding = Finding(
        code=code,
        severity=severity,
        where=where,
        message=message,
        measured=measured,
        sense=sense,
        limit=limit,
        unit=unit,
        source=source,
        advice=advice,
    )
    what = f"{message}: {advice}" if advice else message
    return StockCheck(material=material, origin=origin, finding=finding, what=what)

"""A few parts on the offcuts at hand: nested before any full sheet, and told apart from those."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from math import ceil

from casewright.errors import DoesNotFit
from casewright.job import EdgeTrim, Machine
from casewright.progress import Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import Nest, nest_groups, nest_instance, sheet_rules
from casewright.stages.nest.stock_words import too_big_text
from casewright.stages.nested.nest_run import nest_all
from casewright.stages.sets.stock_check import refuse_missed, sheet_checks
from export.tables.csv_text import shown_size
from nesting.answer.solution import BoundKind, Layout, Solution, price_of
from nesting.answer.verify import violations
from nesting.question.errors import BrokenSolution, Obstacle, OversizedPiece, PieceTooBig
from nesting.question.fit_check import refuse_impossible
from nesting.question.instance import StockKind
from nesting.question.sheet_rules import Trim
from nesting.question.ticks import sheet_ticks, to_mm
from parametric.lists.cut_list import CutList, Part
from parametric.stock.lengths import Units, show_length
from parametric.stock.materials import SheetMaterial, StockSheet

_FULL_SHEET_COUNTS = 1000.0
_SQUARE_METRE_MM2 = 1e6
_LEAST_SHOWN_MM = {Units.MM: 0.1, Units.INCH: 25.4 / 32}


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """Offcuts of one size that are at hand, by the label that is written on them; their length is
    the way the grain runs.
    """

    material: str
    label: str
    length_mm: float
    width_mm: float
    quantity: int


class FullSheets(Enum):
    """What becomes of parts that no offcut has room for."""

    TAKEN = "cut from full sheets"
    LEFT = "refused"


@dataclass(frozen=True, slots=True, kw_only=True)
class RecutRules:
    """The router, with its trim for full sheets and that for offcuts, and what full sheets are."""

    machine: Machine
    offcut_trim_mm: float | None
    full_sheets: FullSheets

    @property
    def offcut_machine(self) -> Machine:
        """The router as it cuts offcuts."""
        if self.offcut_trim_mm is None:
            return self.machine
        return replace(self.machine, sheet_trim_mm=self.offcut_trim_mm, edge_trim=EdgeTrim())

    @property
    def trims(self) -> tuple[Trim, Trim]:
        """What is lost at the edges of offcuts, and of full sheets."""
        return sheet_rules(self.offcut_machine).trim, sheet_rules(self.machine).trim


@dataclass(frozen=True, slots=True, kw_only=True)
class StockNest:
    """A nest whose sheets are all offcuts or all full ones, and the router as it cuts those."""

    kind: StockKind
    machine: Machine
    nest: Nest


def nest_on_offcuts(
    parts: Sequence[Part],
    offcuts: Sequence[Offcut],
    rules: RecutRules,
    settings: NestSettings,
    progress: Progress,
    units: Units,
) -> tuple[StockNest, ...]:
    """Return the parts on offcuts, and where these do not suffice on as little of full sheets as
    was found. Of offcuts the smallest that do are taken. Each nest is verified as it stands.

    Offcuts may be trimmed otherwise than full sheets. For the search they are made larger or
    smaller by the difference, and what lies on them is shifted by it afterwards.

    Raises:
        DoesNotFit: a part finds no place.
    """
    asked = tuple(
        replace(part, material=_searched(part.material, offcuts, rules)) for part in parts
    )
    groups = nest_groups(asked)
    if rules.full_sheets is FullSheets.LEFT:
        _refuse_without_offcut(asked, rules, units)
    else:
        refuse_missed(sheet_checks(groups, sheet_rules(rules.machine), units))
    try:
        listed = CutList(parts=asked, bars=(), uses=())
        nests = nest_all(listed, rules.machine, settings, progress, units)
    except DoesNotFit as error:
        if rules.full_sheets is FullSheets.TAKEN:
            raise
        raise DoesNotFit(f"{error}\n{_HINT}") from None
    materials = {part.number: part.material for part in parts}
    return tuple(each for nest in nests for each in _apart(nest, materials, offcuts, rules))


_HINT = "Without --offcuts-only a full sheet is taken where offcuts do not suffice."


def _searched(
    material: SheetMaterial, offcuts: Iterable[Offcut], rules: RecutRules
) -> SheetMaterial:
    """Return the material with the stock that the search sees: prices are what sheets count, so
    that no full sheet is taken that offcuts can spare, and the least of offcuts is used up.
    """
    of_offcut, of_sheet = rules.trims
    found = []
    for each in offcuts:
        length, width = sheet_ticks(each.length_mm), sheet_ticks(each.width_mm)
        if (
            each.material == material.key
            and min(length - of_offcut.along, width - of_offcut.across) > 0
        ):
            found.append(
                StockSheet(
                    key=each.label,
                    length_mm=to_mm(length - of_offcut.along + of_sheet.along),
                    width_mm=to_mm(width - of_offcut.across + of_sheet.across),
                    price=_area_m2(each),
                    on_hand=each.quantity,
                )
            )
    if rules.full_sheets is FullSheets.TAKEN:
        found += [
            replace(sheet, price=_FULL_SHEET_COUNTS * (sheet.price or _area_m2(sheet)))
            for sheet in material.stock
        ]
    return replace(material, stock=tuple(found))


def _area_m2(sheet: Offcut | StockSheet) -> float:
    return round(sheet.length_mm * sheet.width_mm / _SQUARE_METRE_MM2, 6)


def _refuse_without_offcut(parts: Iterable[Part], rules: RecutRules, units: Units) -> None:
    """Do nothing when each part fits an offcut.

    Raises:
        DoesNotFit: some do not; for each the offcut is named that lacks least.
    """
    told = []
    for group in nest_groups(parts):
        if not group.material.stock:
            told += [f"{part.number}: no offcut of {group.material.key}" for part in group.parts]
            continue
        try:
            refuse_impossible(nest_instance(group, sheet_rules(rules.machine)))
        except PieceTooBig as error:
            told += [_lacking(piece, group.material.key, units) for piece in error.pieces]
    if told:
        raise DoesNotFit("\n".join((*told, _HINT)))


def _lacking(piece: OversizedPiece, material: str, units: Units) -> str:
    """Return what the offcut that comes nearest lacks for a piece."""
    ways = [(piece.length, piece.width), (piece.width, piece.length)][: len(piece.turns)]
    lacks = [
        (max(0, length - tried.room_length), max(0, width - tried.room_width), tried.stock)
        for tried in piece.stocks
        if tried.obstacle is Obstacle.SIZE
        for length, width in ways
    ]
    if not lacks:
        return too_big_text(piece, units)
    short, narrow, label = min(lacks, key=lambda lack: (lack[0] + lack[1], lack[2]))
    words = [
        f"{_shown(lack, units)} too {what}"
        for lack, what in ((short, "short"), (narrow, "narrow"))
        if lack
    ]
    size = shown_size(to_mm(piece.length), to_mm(piece.width), units)
    return (
        f"{piece.piece} of {size} fits no offcut of {material}: inside its trim"
        f" {label} is {' and '.join(words)}"
    )


def _shown(ticks: int, units: Units) -> str:
    least_mm = _LEAST_SHOWN_MM[units]
    if to_mm(ticks) < least_mm:
        return f"less than {show_length(least_mm, units)}"
    return show_length(ceil(to_mm(ticks) / least_mm - 1e-6) * least_mm, units)


def _apart(
    nest: Nest,
    materials: dict[str, SheetMaterial],
    offcuts: Sequence[Offcut],
    rules: RecutRules,
) -> Iterator[StockNest]:
    """Yield what lies on offcuts of a nest, and what on full sheets, as questions of their own."""
    material = materials[nest.group.parts[0].number]
    at_hand = tuple(
        StockSheet(
            key=each.label,
            length_mm=each.length_mm,
            width_mm=each.width_mm,
            price=0.0,
            on_hand=each.quantity,
        )
        for each in offcuts
        if each.material == material.key
    )
    labels = {sheet.key for sheet in at_hand}
    of_offcut, of_sheet = rules.trims
    shift = of_offcut.left - of_sheet.left, of_offcut.bottom - of_sheet.bottom
    for kind, machine, stock, by in (
        (StockKind.REMNANT, rules.offcut_machine, at_hand, shift),
        (StockKind.SHEET, rules.machine, material.stock, (0, 0)),
    ):
        layouts = tuple(
            _shifted(layout, by)
            for layout in nest.solution.layouts
            if (layout.stock in labels) is (kind is StockKind.REMNANT)
        )
        if layouts:
            used = {layout.stock for layout in layouts}
            cut = tuple(sheet for sheet in stock if sheet.key in used)
            own = _nest_of(nest, layouts, replace(material, stock=cut), machine)
            yield StockNest(kind=kind, machine=machine, nest=own)


def _shifted(layout: Layout, by: tuple[int, int]) -> Layout:
    return replace(
        layout,
        placements=tuple(
            replace(placed, x=placed.x + by[0], y=placed.y + by[1]) for placed in layout.placements
        ),
    )


def _nest_of(
    nest: Nest, layouts: tuple[Layout, ...], material: SheetMaterial, machine: Machine
) -> Nest:
    """Return some layouts of a nest as a nest of its own.

    Raises:
        BrokenSolution: they do not keep the rules of that stock; a bug.
    """
    counts: Counter[str] = Counter()
    for layout in layouts:
        for piece, count in layout.counts().items():
            counts[piece] += count * layout.runs
    group = replace(
        nest.group,
        material=material,
        parts=tuple(
            replace(part, material=material, quantity=counts[part.number])
            for part in nest.group.parts
            if counts[part.number]
        ),
    )
    instance = nest_instance(group, sheet_rules(machine))
    solution = Solution(
        layouts=layouts,
        lower_bound=0,
        bound_kind=BoundKind.NOTHING,
        price=price_of(instance.stocks, layouts),
        price_bound=0.0,
        price_bound_kind=BoundKind.NOTHING,
        stop=nest.solution.stop,
        seed=nest.solution.seed,
    )
    broken = violations(instance, solution)
    if broken:
        raise BrokenSolution(violations=broken, seed=solution.seed)
    return Nest(group=group, instance=instance, solution=solution)

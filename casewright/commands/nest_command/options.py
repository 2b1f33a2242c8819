"""The command's options: texts as they are typed, into rules and settings."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction

from casewright.commands.choices import EffortChoice, StagesChoice
from casewright.errors import OptionErrors, OptionFault
from casewright.intake.document import shown
from casewright.intake.entry import LengthIn
from nesting.after.offcuts import COMMON_REUSABLE, Reusable
from nesting.question.settings import Effort, Preference
from nesting.question.sheet_rules import EdgeToEdge, Rim, SheetRules, Trim
from nesting.question.ticks import Grid
from parametric.stock.lengths import LENGTH_EXAMPLES, LengthError, Units

GAP = LengthIn(0, 1000, "Left between pieces.")
TRIM = LengthIn(0, 10_000, "Lost along an edge.")
RIM = LengthIn(0.1, 10_000, "Kept from the edges.")
SIDE = LengthIn(1, 100_000, "A side.")
HEIGHT = LengthIn(0.1, 1000, "A height.")
MOST_SEED = 2**31 - 1
MOST_SECONDS = 86_400.0
MOST_WORKERS = 64
MOST_EXTRA_PERCENT = 100.0
_SIZE = re.compile(r"\s*(.+?)\s*[x×]\s*(.+?)\s*")


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionTexts:
    """The options as they are typed; None where they are not given."""

    units: Units
    gap: str | None = None
    trim: str | None = None
    rim_side: str | None = None
    rim: str | None = None
    seed: int = 1
    effort: EffortChoice | None = None
    seconds: float | None = None
    edge_to_edge: bool = False
    stages: StagesChoice | None = None
    fewer_layouts: float | None = None
    reusable: str | None = None
    book_height: str | None = None
    thickness: str | None = None
    workers: int | None = None
    other_gap: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """How many sheets a saw cuts at once follows from these, millimetres."""

    thickness_mm: float
    largest_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NestOptions:
    """What the options ask for. With `seconds` a clock decides, and answers cannot be repeated.

    `rounded_mm` is the most by which one of their lengths was rounded to ticks; `other_gap` is one
    to compare with (ticks).
    """

    units: Units
    rules: SheetRules
    reusable: Reusable
    seed: int
    effort: Effort
    seconds: float | None
    preference: Preference
    book: Book | None
    workers: int
    rounded_mm: float
    other_gap: int | None


def read_options(texts: OptionTexts, cores: int) -> NestOptions:
    """Return what the options ask for; as many workers as `cores` where they say nothing.

    Raises:
        OptionErrors: some options cannot be used; all faults at once.
    """
    reader = _Reader(texts.units)
    edge_to_edge = texts.edge_to_edge
    rules = SheetRules(
        trim=reader.trim(texts.trim),
        gap=reader.grid.gap(reader.length("--gap", texts.gap, GAP) or 0.0),
        rim=reader.rim(texts),
        saw=reader.saw(texts),
    )
    options = NestOptions(
        units=texts.units,
        rules=rules,
        reusable=reader.reusable(texts.reusable),
        seed=round(reader.number("--seed", texts.seed, 0, MOST_SEED)),
        effort=Effort[(texts.effort or EffortChoice.NORMAL).name],
        seconds=None
        if texts.seconds is None
        else reader.number("--seconds", texts.seconds, 0.1, MOST_SECONDS),
        preference=Preference(
            extra_price=reader.number(
                "--fewer-layouts", texts.fewer_layouts or 0.0, 0.0, MOST_EXTRA_PERCENT
            )
            / 100
        ),
        book=reader.book(texts),
        workers=cores
        if texts.workers is None
        else round(reader.number("--workers", texts.workers, 1, MOST_WORKERS)),
        other_gap=reader.other_gap(texts.other_gap),
        rounded_mm=reader.grid.rounded_mm,
    )
    if texts.effort is not None and texts.seconds is not None:
        reader.fault("--seconds", "together with --effort", "one of the two")
    if edge_to_edge and options.rules.rim is not None:
        reader.fault("--rim", "with --edge-to-edge", "with --free: a saw needs no vacuum")
    if reader.faults:
        raise OptionErrors(tuple(reader.faults))
    return options


@dataclass(frozen=True, slots=True)
class _Reader:
    """Reads options one by one and keeps their faults."""

    units: Units
    faults: list[OptionFault] = field(default_factory=list)
    grid: Grid = field(default_factory=Grid)

    def fault(self, option: str, found: str, allowed: str) -> None:
        self.faults.append(OptionFault(option=option, found=found, allowed=allowed))

    def length(self, option: str, text: str | None, allowed: LengthIn) -> Fraction | None:
        if text is None:
            return None
        try:
            return allowed.read_exact(text, self.units)
        except LengthError as problem:
            self.fault(option, problem.found, problem.allowed)
            return None

    def other_gap(self, text: str | None) -> int | None:
        length = self.length("--other-gap", text, GAP)
        return None if length is None else self.grid.gap(length)

    def number(self, option: str, value: float, least: float, most: float) -> float:
        if least <= value <= most:
            return value
        self.fault(option, shown(value), f"a number from {least:g} to {most:g}")
        return least

    def trim(self, text: str | None) -> Trim:
        edges = (text or "0").split(",")
        if len(edges) not in (1, 4):
            allowed = "one length for all edges, or four: left,right,bottom,top"
            self.fault("--trim", f"{len(edges)} lengths", allowed)
            return Trim.even(0)
        widths = [self.grid.gap(self.length("--trim", edge, TRIM) or 0.0) for edge in edges]
        left, right, bottom, top = widths * (4 // len(widths))
        return Trim(left=left, right=right, bottom=bottom, top=top)

    def rim(self, texts: OptionTexts) -> Rim | None:
        distance, side = self.both(("--rim", texts.rim, RIM), ("--rim-side", texts.rim_side, SIDE))
        if distance is None or side is None:
            return None
        return Rim(longest_side=self.grid.gap(side), distance=self.grid.gap(distance))

    def saw(self, texts: OptionTexts) -> EdgeToEdge | None:
        if not texts.edge_to_edge:
            if texts.stages is not None:
                self.fault("--stages", "without --edge-to-edge", "together with it")
            return None
        stages = texts.stages or StagesChoice.THREE
        return EdgeToEdge(stages=None if stages is StagesChoice.ANY else int(stages))

    def reusable(self, text: str | None) -> Reusable:
        if text is None:
            return COMMON_REUSABLE
        sides = _SIZE.fullmatch(text)
        if sides is None:
            self.fault("--reusable", shown(text), f"LENGTHxWIDTH, each such as {LENGTH_EXAMPLES}")
            return COMMON_REUSABLE
        one, other = (self.length("--reusable", side, SIDE) for side in sides.groups())
        if one is None or other is None:
            return COMMON_REUSABLE
        read = one, other
        return Reusable(longer=self.grid.gap(max(read)), shorter=self.grid.gap(min(read)))

    def book(self, texts: OptionTexts) -> Book | None:
        largest, thickness = self.both(
            ("--book-height", texts.book_height, HEIGHT), ("--thickness", texts.thickness, HEIGHT)
        )
        if largest is None or thickness is None:
            return None
        if not texts.edge_to_edge:
            self.fault("--book-height", "without --edge-to-edge", "together with it")
        if thickness > largest:
            self.fault("--book-height", "less than one sheet", "at least --thickness")
        return Book(thickness_mm=float(thickness), largest_mm=float(largest))

    def both(
        self, one: tuple[str, str | None, LengthIn], other: tuple[str, str | None, LengthIn]
    ) -> tuple[Fraction | None, Fraction | None]:
        """Return two lengths that make sense together only; blame the one that stands alone."""
        for (option, text, _), (missing, its_text, _) in ((one, other), (other, one)):
            if text is not None and its_text is None:
                self.fault(option, f"without {missing}", "together with it")
        return self.length(*one), self.length(*other)

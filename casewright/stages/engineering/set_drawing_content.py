"""From a set in one hand to all that its drawings show."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from string import ascii_uppercase

from casewright.stages.engineering.set_views import elevations, plan_view
from casewright.stages.engineering.tie_sections import tie_sections
from casewright.stages.engineering.units_apart import numbered_set, unit_apart
from casewright.stages.models.piece_stage import part_numbers
from casewright.stages.sets.set_stage import ModelledSet, SetsOfJob
from casewright.stages.site.bought_words import BOUGHT
from export.dimensions.reading import drawn_length, taped_length
from export.papers.blocks import Row
from export.set_drawing.content import SetDrawings
from parametric.pictures.bodies import body_of
from parametric.stock.lengths import Units


def set_drawings(
    job: str, sets: SetsOfJob, each: ModelledSet, rooms: Sequence[str], units: Units
) -> SetDrawings:
    """Return the drawings of a set, which stands in these rooms; its parts go by their numbers in
    the cut list.
    """
    model = each.model
    room_set, worked = model.room_set, model.machining
    assembly, hand = room_set.assembly, room_set.hand
    parts = (*assembly.boards, *assembly.members)
    numbers = part_numbers(sets, model)
    bodies = {part.name: body_of(part, worked) for part in parts}
    ties = list(tie_sections(model, parts, _letters(), numbers, units))
    whole = numbered_set(assembly, worked, bodies, hand, numbers)
    shown = {each.label for each in whole.numbers} | {numbers[a.name] for a in assembly.angles}
    row_of = _rows(sets, units)
    names = dict.fromkeys(part.unit for part in parts)
    apart = (unit_apart(n, assembly, worked, bodies, hand, numbers, shown, row_of) for n in names)
    return SetDrawings(
        job=job,
        set_name=room_set.name,
        hand=hand,
        rooms=tuple(rooms),
        plan=plan_view(room_set, bodies, [plane for _, plane in ties]),
        elevations=elevations(room_set, bodies),
        whole=whole,
        ties=tuple(tie for tie, _ in ties),
        units=tuple(unit for unit in apart if unit is not None),
    )


def _letters() -> Iterator[str]:
    """Yield names of planes: A to Z, then AA, AB."""
    for first in ("", *ascii_uppercase):
        for letter in ascii_uppercase:
            yield first + letter


def _rows(sets: SetsOfJob, units: Units) -> Callable[[str, Sequence[str]], Row]:
    """Return what makes a line of a list of parts for a number and what its parts are called:
    count, number, names, material, size.
    """
    parts = {part.number: part for part in sets.cut_list.parts}
    bars = {bar.number: bar for bar in sets.cut_list.bars}

    def size(*sides_mm: float) -> str:
        return " x ".join(drawn_length(side, units) for side in sides_mm)

    def row_of(number: str, names: Sequence[str]) -> Row:
        many, name = str(len(names)), ", ".join(dict.fromkeys(names))
        if number in parts:
            part = parts[number]
            thick = part.panel.thickness_mm
            sides = size(part.finished_length_mm, part.finished_width_mm, thick)
            # Its name would make long rows: the part's drawing has it.
            return many, number, name, part.material.key, sides
        if number in bars:
            bar = bars[number]
            return many, number, name, bar.material_name, taped_length(bar.length_mm, units)
        return many, BOUGHT, number, "", ""

    return row_of

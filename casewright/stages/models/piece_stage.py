"""From the sets of a job to the pieces that the shop joins and delivers."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.stages.sets.set_stage import SetsOfJob
from export.tables.place_table import PartPlace
from parametric.joints.delivered import delivered
from parametric.lists.piece_catalogue import PieceCatalogue
from parametric.shapes.members import Leg, WallPlate
from parametric.solids.set_model import SetModel


def part_numbers(sets: SetsOfJob, model: SetModel) -> dict[str, str]:
    """Return the number of each part of a set by its name; bought things go by their article."""
    key = (model.room_set.name, model.room_set.hand)
    found = {u.board: u.number for u in sets.cut_list.uses if (u.set_name, u.hand) == key}
    for member in model.room_set.assembly.members:
        if isinstance(member, Leg | WallPlate):
            found[member.name] = member.hardware.description
        else:
            found[member.name] = sets.bar_numbers[*key, member.name]
    return found


def pieces_of(sets: SetsOfJob) -> PieceCatalogue:
    """Return the pieces of all sets in use."""
    catalogue = PieceCatalogue()
    for each in sets.sets:
        key = each.used.sizes.name, each.used.hand
        catalogue.add_set(
            key,
            each.model.room_set.assembly,
            part_numbers(sets, each.model),
            (use for use in sets.cut_list.uses if (use.set_name, use.hand) == key),
            each.used.rooms,
        )
    return catalogue


def part_places(sets: SetsOfJob, pieces: PieceCatalogue) -> Iterator[PartPlace]:
    """Yield where each part of each set goes; `pieces` are those of the sets."""
    for each in sets.sets:
        name, hand = each.used.sizes.name, each.used.hand
        numbers, joined_to = part_numbers(sets, each.model), pieces.joined_to((name, hand))
        for piece in delivered(each.model.room_set.assembly):
            for part in piece.parts:
                unit, _, own = part.name.rpartition("/")
                yield PartPlace(
                    set_name=name,
                    hand=hand,
                    rooms=each.used.rooms,
                    unit=unit,
                    name=own,
                    number=numbers[part.name],
                    piece=joined_to.get(part.name, ""),
                )

"""What is done in a room before the first part and after the last: it comes from the rooms as they
were measured. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from parametric.joints.driving import screws_of
from parametric.joints.joints import FixedToWall, Joint
from parametric.kit.kit import Kit
from parametric.kit.supplies import TOUCH_UP
from parametric.rooms.fitting import Fitting
from parametric.rooms.room_fit import RoomFit
from parametric.sets.room_set import RoomSet
from parametric.steps.step import Step
from parametric.stock.lengths import Units, show_on_tape

_PAGE = "as the room's page says"


def before_lines(fits: Sequence[RoomFit], units: Units) -> Iterator[str]:
    """Yield what a room asks for before the first part comes, over all rooms of a set."""
    yield "Read the room's page first: its distances and shims overrule these sheets"
    yield (
        "Find the highest point of the floor under the set and strike a level line from it: all"
        " heights count from there"
    )
    cuts = [fit.wall_base_cut_mm for fit in fits if fit.wall_base_cut_mm]
    if cuts:
        yield (
            f"Cut the wall base away where boxes stand against the walls: {_range(cuts, units)} in"
            f" all, {_PAGE}"
        )
    falls = [packing.most_mm for fit in fits for packing in fit.levelling if packing.most_mm]
    if falls:
        yield (
            f"Pack boxes and legs up level with it, by up to {show_on_tape(max(falls), units)},"
            f" {_PAGE}"
        )
    wedges = [fit.wedge.gap_mm for fit in fits if fit.wedge is not None]
    if wedges:
        yield (
            "Scribe what lies in the corner to the side wall before it is glued or fixed, by up to"
            f" {show_on_tape(max(wedges), units)}, {_PAGE}"
        )
    if any(fit.unknown for fit in fits):
        yield "Measure what the room's page lists as not measured"


def bits_to_bring(joints: Iterable[Joint]) -> str:
    """Return the driver bits of a set in a few words, empty where nothing is screwed; where nobody
    has said which fits, the steps name the article.
    """
    screws = screws_of(joints)
    known = dict.fromkeys(screw.drive for screw in screws if screw.drive is not None)
    others = ["others as the steps say"] if any(screw.drive is None for screw in screws) else []
    return f"bring bits {', '.join([*known, *others])}" if screws else ""


def closing_step(
    number: int,
    room_set: RoomSet,
    kit: Kit,
    fits: Sequence[RoomFit],
    fitting: Fitting,
    units: Units,
) -> Step:
    """Return the last step: what closes the set to the room, where gaps do not stay open."""
    gaps = [
        gap.gap_mm
        for fit in fits
        for gap in (*fit.gaps, *fit.side_gaps)
        if gap.gap_mm > 0 and fitting.closes(gap.gap_mm)
    ]
    fixings = [each for each in room_set.assembly.joints if isinstance(each, FixedToWall)]
    return Step(
        number=number,
        title="Close the gaps round the set and clean up" if gaps else "Clean up",
        parts=(),
        joints=(),
        people=1,
        tools=("scribe", "plane or saw", "vacuum cleaner") if gaps else ("vacuum cleaner",),
        marks=(),
        checks=tuple(
            filter(
                None,
                (
                    f"Narrow gaps beyond the set closed with fillers; the room's page has them all"
                    f" ({_range(gaps, units)})"
                    if gaps
                    else "",
                    "A cap in every recess" if any(each.cap for each in fixings) else "",
                    "Edges and faces touched up"
                    if any(line.key == TOUCH_UP for line in kit.lines)
                    else "",
                    "Protective film off every face, where the boards came with it",
                    "Nothing loose: every deck, panel and box pushed and pulled by hand",
                    "Dust, offcuts and pencil marks gone",
                ),
            )
        ),
        cautions=("Wear eye and ear protection; keep the dust down",),
    )


def _range(lengths_mm: Iterable[float], units: Units) -> str:
    least, *_, most = sorted((*lengths_mm, *lengths_mm))
    if show_on_tape(least, units) == show_on_tape(most, units):
        return show_on_tape(most, units)
    return f"{show_on_tape(least, units)} to {show_on_tape(most, units)}"

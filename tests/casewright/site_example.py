"""The example set with steps, a kit and rooms that are built by hand, for tests of the papers."""

from typing import NamedTuple, cast

from casewright.entries.built import Built
from casewright.entries.entry import Form, left_by
from casewright.entries.registry import ENTRIES
from casewright.job import Measured, Room
from casewright.stages.site.site_stage import SiteSet, SiteWork
from export.manifest import FileRole
from parametric.geometry.hand import Hand
from parametric.geometry.space import Point
from parametric.geometry.walls import Wall
from parametric.joints.delivered import delivered
from parametric.joints.joints import Bonded, FixedToWall, Housed, Hung, Passing, Screwed, Seated
from parametric.kit.kit import Kit, KitLine, KitUnit
from parametric.rooms.room_fit import MissedFixing, Packing, RoomFit, SideGap
from parametric.sets.room_set import build_set
from parametric.solids.set_model import SetModel, model_set
from parametric.steps.step import Mark, Step
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes

CAUTION = 'Two people lift: "heavy" parts # $x$ *first* \\ then the rest'


def site_set(hand: Hand) -> SiteSet:
    model = model_set(build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM), ROUTING)
    assembly = model.room_set.assembly
    names = [piece.main.name for piece in delivered(assembly)]
    return SiteSet(
        model=model,
        numbers={name: f"P-{index:02}" for index, name in enumerate(names, start=1)},
        steps=steps_by_unit(model),
        kit=KIT,
    )


OF_SITE = (
    FileRole.INSTALLATION,
    FileRole.BLOCKING,
    FileRole.ROOM_PAGES,
    FileRole.PICK_SHEET,
    FileRole.BOX_LABELS,
)


class OfSite(NamedTuple):
    """All of a built job that the papers for the site are made from."""

    site: SiteWork


def papers_of(site: SiteWork) -> dict[str, bytes]:
    """Every paper that the registry makes from the work on site alone, by its path."""
    built = cast(Built, OfSite(site))
    papers = (e for e in ENTRIES if e.form is Form.PAPER and e.role in OF_SITE)
    left = (left for entry in papers for left in left_by(entry, built, ()))
    return {each.file.path: each.file.content for each in left}


def steps_by_unit(model: SetModel) -> tuple[Step, ...]:
    """One step for each unit; a joint belongs to the last of the parts that it needs."""
    assembly = model.room_set.assembly
    unit_of = {board.name: board.unit for board in assembly.boards}
    units = list(dict.fromkeys(unit_of.values()))
    for member in assembly.members:
        unit_of[member.name] = next((u for u in units if member.name.startswith(u)), units[-1])
    place = {name: units.index(unit) for name, unit in unit_of.items()}
    joints: list[list[int]] = [[] for _ in units]
    for index, joint in enumerate(assembly.joints):
        match joint:
            case Screwed():
                needed = (joint.through, joint.into)
            case FixedToWall():
                needed = (joint.through,)
            case Passing():
                needed = (joint.member, joint.through)
            case Housed():
                needed = (joint.member, joint.into)
            case Hung():
                needed = (joint.panel, *joint.plates)
            case Seated() | Bonded():
                needed = (joint.top, *joint.on)
        joints[max(place[name] for name in needed)].append(index)
    found = []
    for number, unit in enumerate(units):
        parts = tuple(name for name, of in unit_of.items() if of == unit)
        first = assembly.part(parts[0]).box.centre
        found.append(
            Step(
                number=number + 1,
                title=f"Place the {unit}",
                parts=parts,
                joints=tuple(joints[number]),
                people=2,
                tools=("level", "driver"),
                marks=(
                    Mark(what="middle above floor", start=first.at(2, 0.0), end=first),
                    Mark(what="middle from corner", start=Point(0.0, first.y, first.z), end=first),
                ),
                checks=("level both ways",),
                cautions=(CAUTION,),
            )
        )
    return tuple(found)


KIT = Kit(
    lines=(
        KitLine(
            key="screw",
            description="No. 8 screw",
            unit=KitUnit.PIECES,
            needed=40,
            spare=4,
            joints=(),
        ),
        KitLine(
            key="glue",
            description="adhesive",
            unit=KitUnit.MILLILITRES,
            needed=280,
            spare=30,
            joints=(),
        ),
        KitLine(
            key="level",
            description="spirit level",
            unit=KitUnit.PIECES,
            needed=1,
            spare=0,
            joints=(),
            supplied=False,
        ),
    )
)


def room(number: str, hand: Hand) -> Room:
    return Room(number=number, set_name="example", hand=hand, measured=Measured())


def fit(number: str, refusal: str = "") -> RoomFit:
    return RoomFit(
        room=number,
        set_name="example",
        refusal=refusal,
        nearest="a bench 10 mm less deep" if refusal else "",
        side_gaps=(),
        gaps=(SideGap(where="at the seat", gap_mm=12.7),),
        wedge=SideGap(where="at the side wall, in front", gap_mm=2.0),
        measured=True,
        shift_mm=0.0,
        width_off_mm=None,
        floor_fall_mm=4.0,
        shims=(Packing(where="upper row, second screw", least_mm=3.0, most_mm=3.0),),
        levelling=(Packing(where="front left corner", least_mm=0.0, most_mm=4.0),),
        wall_base_cut_mm=100.0,
        missed=(
            MissedFixing(
                corner_with=Wall.SIDE,
                where="rail",
                across_mm=400.0,
                height_mm=300.0,
                reason="no blocking at this height",
            ),
        ),
        unknown=("corner",),
    )

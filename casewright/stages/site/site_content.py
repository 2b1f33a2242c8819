"""From sets, steps, kits and room fits to what stands on the papers for the site."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from casewright.job import Room
from casewright.stages.site.bought_words import bought_articles, number_and_name
from casewright.stages.site.site_pictures import by_number, mark_label
from casewright.stages.site.step_work import work_of
from export.json_text import json_text
from export.papers.blocks import Row
from export.site.content import RoomPage, SetSheets, StepPicture, StepSheet
from export.tables.rooms_table import packed_alike
from parametric.joints.assembly import Assembly
from parametric.joints.delivered import Delivered, delivered
from parametric.joints.into_wall import wall_articles
from parametric.joints.joints import Bonded, FixedToWall, Joint, Screwed
from parametric.kit.count import bead_mm
from parametric.kit.kit import Kit, KitLine
from parametric.kit.supplies import ADHESIVE, CARTRIDGE_ML, cartridges_for
from parametric.lists.piece_catalogue import carried_by
from parametric.pictures.scene import Scene
from parametric.rooms.asked import UNKNOWN
from parametric.rooms.fitting import Fitting
from parametric.rooms.room_fit import RoomFit
from parametric.sets.room_set import RoomSet
from parametric.sets.standing_plan import stands_in_plan
from parametric.steps.step import Step
from parametric.steps.words import plain_name
from parametric.stock.amounts import in_words
from parametric.stock.lengths import Units, show_on_tape

NOT_MEASURED = "not measured"
LOOSE = ", beside the box"
MOST_NAMED = 2
"""Parts of one number that a step names; they are alike, so their names tell little."""


def set_sheets(
    job: str,
    room_set: RoomSet,
    steps: Sequence[tuple[Step, Scene]],
    pictures: Sequence[tuple[StepPicture, ...]],
    before: tuple[str, ...],
    kit: Kit,
    numbers: Mapping[str, str],
    alike: Mapping[str, str],
    letters: Mapping[str, str],
    effort: str,
    units: Units,
    set_minutes: float | None = None,
) -> SetSheets:
    """Return the installation sheets of a set, with scene and pictures of each step; `before` is
    what is done before the first, `letters` are those of articles by their keys, `alike` tells by
    number what bars are easily taken for, `effort` is screws and hours in words,
    `set_minutes` how long adhesive takes to set.
    """
    ml_mm = adhesive_ml_mm(room_set.assembly, kit)
    return SetSheets(
        job=job,
        set_name=room_set.name,
        hand=room_set.hand,
        effort=effort,
        before=before,
        steps=tuple(
            step_sheet(
                room_set.assembly,
                step,
                views,
                work_of(room_set.assembly, step, scene, letters, ml_mm, units, set_minutes),
                numbers,
                alike,
                letters,
                units,
            )
            for (step, scene), views in zip(steps, pictures, strict=True)
        ),
        stands=stands_in_plan(room_set),
        kit=lettered(
            (letters.get(line.key, ""), *row)
            for line, row in zip(kit.lines, kit_rows(kit), strict=True)
        ),
    )


def lettered(rows: Iterable[Row]) -> tuple[Row, ...]:
    """Return rows that begin with letters in the order of these, A to Z, then A1; those without a
    letter come last.
    """
    return tuple(sorted(rows, key=lambda row: (not row[0], len(row[0]), row[0])))


def adhesive_ml_mm(assembly: Assembly, kit: Kit) -> float:
    """Return the millilitres that the kit has for a millimetre of bead, spares left out."""
    bonds = [joint for joint in assembly.joints if isinstance(joint, Bonded)]
    length_mm = math.fsum(bead_mm(assembly, joint) for joint in bonds)
    needed = math.fsum(line.needed for line in kit.lines if line.key == ADHESIVE)
    return needed / length_mm if length_mm else 0.0


def step_sheet(
    assembly: Assembly,
    step: Step,
    pictures: tuple[StepPicture, ...],
    work: tuple[str, ...],
    numbers: Mapping[str, str],
    alike: Mapping[str, str],
    letters: Mapping[str, str],
    units: Units,
) -> StepSheet:
    """Return the sheet of one step."""
    joints = [assembly.joints[place] for place in step.joints]
    pieces = {piece.main.name: piece for piece in delivered(assembly)}
    bought = bought_articles(assembly)
    brought = [name for name in (*step.parts, *step.again) if name in pieces]
    return StepSheet(
        title=step.title,
        people=step.people,
        pictures=pictures,
        work=work,
        parts=tuple(
            (
                str(len(names)),
                *number_and_name(
                    number,
                    named([piece_name(pieces[name]) for name in names])
                    + (f" ({alike[number]})" if number in alike else ""),
                    bought,
                ),
            )
            for number, names in by_number(brought, numbers).items()
        ),
        fasteners=tuple(
            (letters.get(key, ""), str(count), article)
            for (key, article), count in Counter(fasteners(joints)).items()
        ),
        marks=tuple(
            (mark_label(index), mark.what, show_on_tape(mark.distance_mm, units))
            for index, mark in enumerate(step.marks)
        ),
        tools=step.tools,
        checks=step.checks,
        cautions=tuple(in_words(caution, units) for caution in step.cautions),
    )


def named(names: Sequence[str]) -> str:
    """Return the pieces of one number, all of a few and the first of many."""
    if len(names) <= MOST_NAMED:
        return ", ".join(names)
    return f"{names[0]} and {len(names) - 1} more like it"


def piece_name(piece: Delivered) -> str:
    """Return what a person calls a delivered piece, with what the shop put on it."""
    return f"{plain_name(piece.called)}{carried_by(piece)}"


def fasteners(joints: Sequence[Joint]) -> Iterator[tuple[str, str]]:
    """Yield key and words of the article of each screw and cap that the joints take."""
    for joint in joints:
        match joint:
            case Screwed():
                yield joint.screw.key, joint.screw.description
            case FixedToWall():
                yield from ((joint.screw.key, article) for article in wall_articles(joint))
                if joint.cap is not None:
                    yield joint.cap.key, joint.cap.description
            case _:
                pass


def kit_rows(kit: Kit) -> tuple[Row, ...]:
    """Return the kit as rows: packed, of which spare, article."""
    return tuple(
        (
            line.unit.in_words(line.packed) if line.supplied else "by installer",
            line.unit.in_words(line.spare) if line.supplied else "",
            f"{line.description}{cartridges(line)}{LOOSE if line.supplied and line.loose else ''}",
        )
        for line in kit.lines
    )


def cartridges(line: KitLine) -> str:
    """Return how many whole cartridges hold the adhesive that is packed; empty of the rest."""
    if line.key != ADHESIVE or not line.supplied:
        return ""
    count = cartridges_for(line.packed)
    return f", {count} {'cartridge' if count == 1 else 'cartridges'} of {CARTRIDGE_ML:.0f} ml"


def room_page(
    job: str,
    room: Room,
    fit: RoomFit | None,
    steps: Sequence[Step],
    kit: Kit,
    effort: str,
    revision: str,
    units: Units,
    fitting: Fitting,
) -> RoomPage:
    """Return the page of a room; `revision` is that of its set's installation sheets, whose steps
    are given.
    """
    record = {
        "job": job,
        "room": room.number,
        "set": room.set_name,
        "hand": str(room.hand),
        "revision": revision,
    }
    refusal = (
        "" if fit is None or fit.fits else f"{fit.refusal}. Would fit: {fit.nearest or 'no set'}"
    )
    return RoomPage(
        room=room.number,
        set_name=room.set_name,
        hand=room.hand,
        effort=effort,
        refusal=refusal,
        measured=fit is not None and fit.measured,
        without_wood=fit is not None and bool(fit.missed),
        facts=() if fit is None else tuple(fit_rows(fit, units, fitting)),
        marks=tuple(mark_rows(steps, fit, units)),
        unknown=("everything",) if fit is None else fit.unknown,
        kit=kit_rows(kit),
        record=json_text(record),
    )


def mark_rows(steps: Sequence[Step], fit: RoomFit | None, units: Units) -> Iterator[Row]:
    """Yield each distance from the corner along the head wall: step, what, in this room, and as the
    sheets of the set have it.
    """
    known = fit is not None and UNKNOWN["corner_out_of_square_per_1000"] not in fit.unknown
    shift_mm = 0.0 if fit is None else fit.shift_mm
    along: dict[tuple[int, str], list[float]] = {}
    for step in steps:
        for mark in dict.fromkeys(step.marks):
            if mark.along_head_wall:
                along.setdefault((step.number, mark.what), []).append(mark.distance_mm)
    for (number, what), distances in along.items():
        here = ", ".join(show_on_tape(distance + shift_mm, units) for distance in distances)
        nominal = ", ".join(show_on_tape(distance, units) for distance in distances)
        yield (str(number), what, here if known else NOT_MEASURED, nominal)


def fit_rows(fit: RoomFit, units: Units, fitting: Fitting) -> Iterator[Row]:
    """Yield what the room does to its set: what, where, and how much."""

    def length(mm: float) -> str:
        return show_on_tape(mm, units)

    if fit.floor_fall_mm is not None:
        level = length(fit.floor_fall_mm) == length(0.0)
        fall = "floor is level" if level else f"floor falls {length(fit.floor_fall_mm)}"
        yield ("level line", "from the highest point of the floor under the set", fall)
    if fit.shift_mm:
        yield ("further from the corner", "all along the head wall", length(fit.shift_mm))
    for gap in (*fit.gaps, *fit.side_gaps):
        yield ("beyond the set", f"{gap.where} ({fitting.closing(gap.gap_mm)})", length(gap.gap_mm))
    if fit.wedge is not None:
        yield ("scribe or filler", fit.wedge.where, length(fit.wedge.gap_mm))
    for what, packings in (("shim", fit.shims), ("level up", fit.levelling)):
        for amount_told, places in packed_alike(packings, units).items():
            yield (what, places, amount_told)
    for turned in fit.turned:
        floor = f"{length(turned.long_mm).removesuffix(' mm')} x {length(turned.wide_mm)}"
        told = "there is room" if turned.clear else "no room: turn it over elsewhere, or earlier"
        yield ("floor to turn over", f"{turned.about}: {told}", floor)
    if fit.wall_base_cut_mm:
        yield (
            "cut the wall base away",
            "where boxes stand at the walls",
            length(fit.wall_base_cut_mm),
        )
    for missed in fit.missed:
        corner = f"from the corner with the {missed.corner_with}"
        where = (
            f"{missed.where}: {length(missed.across_mm)} {corner}, {length(missed.height_mm)} up"
        )
        yield ("no wood behind the screw", where, missed.reason)

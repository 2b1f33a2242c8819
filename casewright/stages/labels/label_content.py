"""From sheets in the order of cutting, bars and rooms to what stands on their labels."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from casewright.job import Job
from casewright.stages.labels.label_pictures import part_pictures, top_of
from casewright.stages.labels.label_record import record_text
from casewright.stages.nest.nest_stage import Nest
from casewright.stages.sets.set_stage import SetsOfJob
from casewright.stages.shop.allotment_stage import CutSheet, cut_sheets, places_of
from casewright.stages.shop.sheet_stage import SheetFile, ShopFiles, nest_folder
from casewright.stages.site.site_stage import SiteWork
from casewright.wording import counted
from export.edge_names import bands_in_words, bands_of
from export.file_paths import part_name, safe_names, sheet_name
from export.labels.content import Label, LabelBook, LabelKind, PartPicture, SheetPicture
from export.placed_boxes import placed_boxes
from export.rack_label import rack_label
from export.tables.csv_text import cut_size, shown_size
from export.tables.cutlist_table import show_face_text
from export.tables.profile_words import profile_shown
from nesting.answer.solution import Placement
from parametric.geometry.outline import Bounds
from parametric.lists.allotment import Place
from parametric.lists.cut_list import BarPart, Part, PartUse
from parametric.lists.face_up import FaceUp
from parametric.lists.operations import Operation, operations
from parametric.lists.piece_catalogue import PieceCatalogue, SetKey
from parametric.stock.lengths import Units, show_length

_GOOD_FACE = {"up": "good face up", "down": "good face down", "both": "both faces good", "none": ""}
_LYING = {FaceUp.FRONT: "good face up", FaceUp.BACK: "good face down", FaceUp.EITHER: ""}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    """What labels of parts are made from: label and picture of each part by its number, without a
    place, and how it stands in a set, by set and hand and its name there.
    """

    job: str
    revision: str
    units: Units
    parts: Mapping[str, Label]
    pictures: Mapping[str, PartPicture]
    uses: Mapping[tuple[SetKey, str], PartUse]


def label_book(
    job: Job,
    sets: SetsOfJob,
    pieces: PieceCatalogue,
    nests: tuple[Nest, ...],
    bar_materials: Iterable[str],
    shop: ShopFiles | None,
    site: SiteWork,
) -> LabelBook:
    """Return all labels of a job; `bar_materials` are those that bars are cut of. Where no cut
    files are written there are those of boxes only.
    """
    boxes = tuple(box_labels(site))
    if shop is None:
        return LabelBook(boxes=boxes)
    work = _Work(
        job=job.name,
        revision=shop.revision,
        units=job.units,
        parts={part.number: _part_label(part, job.units) for part in sets.cut_list.parts},
        pictures=part_pictures(shop, sets.cut_list.parts),
        uses={((use.set_name, use.hand), use.board): use for use in sets.cut_list.uses},
    )
    wanted, cut = places_of(job.rooms, sets, pieces), set(bar_materials)
    folders = safe_names(nest.group.material.key for nest in nests)
    files = {file.name: file for file in shop.sheets}
    by_folder: dict[str, list[Label]] = {}
    for sheet in cut_sheets(nests, job.machine, wanted, job.cut_in_order_of):
        folder = nest_folder(sheet.nest, folders)
        file = files[sheet_name(folder, sheet.number)]
        by_folder.setdefault(folder, []).extend(_sheet_labels(work, sheet, file))
    names = safe_names(by_folder)
    bars = [bar for bar in sets.cut_list.bars if bar.material in cut]
    return LabelBook(
        materials=tuple((names[folder], tuple(listed)) for folder, listed in by_folder.items()),
        bars=tuple(label for bar in bars for label in _bundles(work, bar, wanted)),
        boxes=boxes,
    )


def box_labels(site: SiteWork) -> Iterator[Label]:
    """Yield a label for the box of each room, in the order of the schedule."""
    packed = {each.key: sum(line.in_box for line in each.kit.lines) for each in site.sets}
    for room in site.rooms:
        key = room.set_name, room.hand
        yield Label(
            kind=LabelKind.BOX,
            number=f"Room {room.number}",
            name=f"{room.set_name}, {room.hand} hand",
            room=room.number,
            notes=f"box with {counted(packed[key], 'article')} of the pick list",
            record=record_text(
                (f"box of room {room.number}",), site.sheets[key].revision, site.job
            ),
        )


def recut_labels(
    job: Job, shop: ShopFiles, parts: Iterable[Part], cut: Iterable[tuple[CutSheet, SheetFile]]
) -> Iterator[Label]:
    """Yield the labels of parts that are cut again, with their sheets, in the order of work: which
    room they are for is not known, so that they say which units they serve.
    """
    by_number = {part.number: part for part in parts}
    work = _Work(
        job=job.name,
        revision=shop.revision,
        units=job.units,
        parts={number: _part_label(part, job.units) for number, part in by_number.items()},
        pictures=part_pictures(shop, by_number.values()),
        uses={},
    )
    for sheet, file in cut:
        for label in _sheet_labels(work, sheet, file):
            if label.kind is LabelKind.PART:
                notes = ", ".join(filter(None, ("cut again", label.notes)))
                units = "; ".join(by_number[label.number].units)
                yield replace(label, unit=units, notes=notes)
            elif label.kind is LabelKind.SHEET:
                yield replace(label, number=file.entry.stock)
            else:
                yield label


def _part_label(part: Part, units: Units) -> Label:
    second = Operation.SECOND in operations(part)
    return Label(
        kind=LabelKind.PART,
        number=part.number,
        name=part.description,
        size=cut_size(part.panel.length_mm, part.panel.width_mm, units),
        material=part.material.key,
        grain=part.material.grain.value,
        bands=bands_in_words(bands_of(part)),
        second_operation=part_name(part.number, Operation.SECOND) if second else "",
        notes=_GOOD_FACE[show_face_text(part)],
        record="",
    )


def _sheet_labels(work: _Work, sheet: CutSheet, file: SheetFile) -> Iterator[Label]:
    """Yield the labels of a sheet: its own, those of its parts as they are cut, and of offcuts."""
    layout, run, runs = file.name, str(sheet.run), str(sheet.layout.runs)
    of_sheet, material = (f"layout {layout}", f"run {run}"), sheet.nest.group.material
    placements = [placement for placement, _ in sheet.parts]
    length_mm, width_mm = file.entry.length_mm, file.entry.width_mm
    words = counted(len(placements), "part"), _LYING[sheet.nest.group.face_up]
    base = Label(
        kind=LabelKind.SHEET,
        number=f"Sheet {sheet.number}",
        name=material.description,
        size=shown_size(length_mm, width_mm, work.units),
        material=material.key,
        layout=layout,
        run=run,
        runs=runs,
        grain=material.grain.value,
        notes=", ".join(filter(None, words)),
        record=record_text(("sheet", *of_sheet), work.revision, work.job),
        picture=SheetPicture(
            length_mm=length_mm,
            width_mm=width_mm,
            boxes=placed_boxes(sheet.nest.instance, placements),
        ),
    )
    yield base
    for order, (placement, place) in enumerate(sheet.parts, start=1):
        at = (f"part {placement.piece}", *of_sheet, f"cut {order}")
        yield replace(
            _placed(work, placement, place),
            layout=layout,
            run=run,
            runs=runs,
            order=str(order),
            record=record_text(at, work.revision, work.job),
        )
    key, face_up = material.key, sheet.nest.group.face_up
    for at_place, left in enumerate(file.entry.offcuts, start=1):
        x, y, length, width = left.x_mm, left.y_mm, left.length_mm, left.width_mm
        box = Bounds(x, y, x + length, y + width)
        yield replace(
            base,
            kind=LabelKind.OFFCUT,
            number=f"Offcut {at_place}",
            size=shown_size(length, width, work.units),
            notes=f"keep; on the rack: {rack_label(key, face_up, sheet.number, at_place)}",
            record=record_text((f"offcut {at_place}", *of_sheet), work.revision, work.job),
            picture=SheetPicture(length_mm=length_mm, width_mm=width_mm, boxes=(box,)),
        )


def _placed(work: _Work, placement: Placement, place: Place | None) -> Label:
    """Return the label of a part for where it goes, without its sheet."""
    label, picture = work.parts[placement.piece], work.pictures[placement.piece]
    if place is None:
        return replace(label, unit="spare", picture=picture)
    if place.key is None:
        return replace(label, unit=place.part.unit, picture=picture)
    return replace(
        label,
        name=place.part.called,
        unit=place.part.unit,
        room=place.room,
        piece=place.part.piece,
        picture=replace(picture, top=top_of(work.uses[place.key, place.part.name])),
    )


def _bundles(work: _Work, bar: BarPart, wanted: Iterable[Place]) -> Iterator[Label]:
    """Yield a label for all bars of a number that the shop joins to pieces, and one for those that
    go to a room as they are.
    """
    own = [place for place in wanted if place.part.number == bar.number]
    joined = [place for place in own if place.part.piece]
    loose = Counter((place.room, place.part.unit) for place in own if not place.part.piece)
    base = Label(
        kind=LabelKind.BUNDLE,
        number=bar.number,
        name=bar.description,
        size=show_length(bar.length_mm, work.units),
        material=bar.material,
        notes=f"{bar.material_name}; {profile_shown(bar.profile, work.units)}",
        record="",
    )
    if joined:
        yield replace(
            base,
            quantity=len(joined),
            unit="; ".join(dict.fromkeys(place.part.unit for place in joined)),
            piece=", ".join(dict.fromkeys(place.part.piece for place in joined)),
            record=record_text((f"bundle {bar.number}", "shop"), work.revision, work.job),
        )
    for (room, unit), count in loose.items():
        where = f"room {room}" if room else unit
        yield replace(
            base,
            quantity=count,
            unit=unit,
            room=room,
            record=record_text((f"bundle {bar.number}", where), work.revision, work.job),
        )

"""What a build leaves for the engineer."""

from __future__ import annotations

from casewright.entries import (
    models,
    part_drawings,
    set_drawings,
)
from casewright.entries.entry import Entry, Form, files
from export.manifest import FileRole

ENGINEERING: tuple[Entry, ...] = (
    Entry(
        path="engineering/part-drawings.pdf",
        role=FileRole.PART_DRAWINGS,
        form=Form.PAPER,
        title="part drawings",
        readers="engineer, shop",
        holds="a page for each part with all that it takes to make it by hand: sizes and places of "
        "outline, notches, grooves and openings from one corner, holes by kind, both faces, bands, "
        "grain, material, mass",
        render=files(part_drawings.drawing_pages),
    ),
    Entry(
        path="engineering/drawings/*.dxf",
        role=FileRole.PART_DRAWING,
        form=Form.MODEL,
        title="part drawings for other programs",
        readers="engineer",
        holds="the same drawings, full size in millimetres, with dimensions that programs read; "
        "not for the router",
        render=files(part_drawings.drawing_files),
    ),
    Entry(
        path="engineering/set-*.pdf",
        role=FileRole.SET_DRAWINGS,
        form=Form.PAPER,
        title="set drawings",
        readers="engineer, installer",
        holds="for each set and hand: plan, front and side with sizes from corner and floor, the"
        " set with its part numbers, sections along and across each steel angle, each unit taken"
        " apart with the list of its parts",
        render=files(set_drawings.set_drawing_papers),
    ),
    Entry(
        path="engineering/*.step",
        role=FileRole.SOLIDS,
        form=Form.MODEL,
        title="solids",
        readers="engineer",
        holds="each set and hand as it stands; every board a solid, milled for its bands, named by "
        "part number; edge bands, cleats, steel as solids of their own",
        render=files(models.solids),
    ),
    Entry(
        path="engineering/*.glb",
        role=FileRole.VIEW,
        form=Form.MODEL,
        title="views",
        readers="engineer",
        holds="the same to look at",
        render=files(models.views),
    ),
)

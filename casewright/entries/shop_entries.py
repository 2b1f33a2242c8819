"""What a build leaves for the shop."""

from __future__ import annotations

from casewright.entries import (
    cut_files,
    estimate_files,
    labels,
    shop_papers,
    tables,
)
from casewright.entries.entry import Entry, Form, files, table
from export.file_paths import PART_FILES, SHEET_FILES
from export.manifest import FileRole

SHOP: tuple[Entry, ...] = (
    Entry(
        path=SHEET_FILES,
        role=FileRole.SHEET,
        form=Form.CUT_FILE,
        title="sheets to cut",
        readers="operator",
        holds="one file for each different layout, in a folder for each material; the summary and "
        "the manifest say how often to run it",
        render=files(cut_files.sheets),
    ),
    Entry(
        path=PART_FILES,
        role=FileRole.PART,
        form=Form.CUT_FILE,
        title="single parts to cut",
        readers="operator",
        holds="one file for each part; `P…-second.dxf` is the second operation of a two-sided part",
        render=files(cut_files.parts),
    ),
    Entry(
        path="shop/operator-*.pdf",
        role=FileRole.OPERATOR_PACK,
        form=Form.PAPER,
        title="operator's packs",
        readers="operator",
        holds="for each material, and apart for sheets lying good face up: what to set up and "
        "measure, a page for each layout with its map, bits, time and boxes to tick, second "
        "operations",
        render=files(shop_papers.operator_pages),
    ),
    Entry(
        path="shop/cutlist.csv",
        role=FileRole.CUT_LIST,
        form=Form.TABLE,
        title="cut list",
        readers="shop",
        holds="each part once: quantity, finished and cut size, bands, grain, hand, mass",
        render=table(tables.cut_list),
    ),
    Entry(
        path="shop/lists.pdf",
        role=FileRole.LISTS,
        form=Form.PAPER,
        title="lists of the shop",
        readers="shop",
        holds="cut list, banding list with the tape for each edge, cleats and angles, hardware, on"
        " paper",
        render=files(shop_papers.lists),
    ),
    Entry(
        path="shop/linear.csv",
        role=FileRole.LINEAR_LIST,
        form=Form.TABLE,
        title="linear cut list",
        readers="shop",
        holds="cleats and steel angles with their drill positions",
        render=table(tables.linear_list),
    ),
    Entry(
        path="shop/linear-holes.csv",
        role=FileRole.LINEAR_HOLES,
        form=Form.TABLE,
        title="holes of cleats and angles",
        readers="shop",
        holds="each hole of each cleat and angle: face, distance from the left end and across, "
        "what that is measured from",
        render=table(tables.linear_holes),
    ),
    Entry(
        path="shop/drilling.pdf",
        role=FileRole.DRILLING_DRAWINGS,
        form=Form.PAPER,
        title="drilling drawings",
        readers="shop",
        holds="each kind of cleat and angle drawn with its holes, all from the left end: how many "
        "to make, drills, which are mirror images or look alike",
        render=files(shop_papers.drilling_drawings),
    ),
    Entry(
        path="shop/bars.csv",
        role=FileRole.BAR_PLAN,
        form=Form.TABLE,
        title="cut plan of bars",
        readers="shop",
        holds="how the bars are cut: each pattern with its runs, the cuts in order, what is left "
        "and whether to keep it; only where a job has any",
        render=table(tables.bar_plan),
    ),
    Entry(
        path="shop/edge-bores.csv",
        role=FileRole.EDGE_BORES,
        form=Form.TABLE,
        title="holes in edges",
        readers="shop",
        holds="holes that no router drills flat; only where a job has any",
        render=table(tables.edge_bores),
    ),
    Entry(
        path="shop/panels.csv",
        role=FileRole.PANELS,
        form=Form.TABLE,
        title="panels drawn elsewhere",
        readers="shop",
        holds="which part is from which file of another program, its material and how that was "
        "found, thickness as drawn, bores with the tip of a drill; only where a job has any",
        render=table(tables.panels),
    ),
    Entry(
        path="shop/assembly.pdf",
        role=FileRole.ASSEMBLY_SHEETS,
        form=Form.PAPER,
        title="shop assembly sheets",
        readers="shop",
        holds="a page for each piece that is joined in the shop, a box after the boards with cleats"
        " that it is made of: its parts drawn apart with their screws, which cleats look alike,"
        " mass",
        render=files(shop_papers.assembly_sheets),
    ),
    Entry(
        path="shop/pieces.csv",
        role=FileRole.PIECES,
        form=Form.TABLE,
        title="pieces joined in the shop",
        readers="shop, store",
        holds="the same as a table: each piece with its parts, how many, mass, size over all",
        render=table(tables.pieces),
    ),
    Entry(
        path="shop/places.csv",
        role=FileRole.PLACES,
        form=Form.TABLE,
        title="where parts go",
        readers="shop, store",
        holds="each part of each set and hand: unit, name, part number, and the piece that the shop"
        " joins it to",
        render=table(tables.places),
    ),
    Entry(
        path="shop/hardware.csv",
        role=FileRole.SHOP_HARDWARE,
        form=Form.TABLE,
        title="hardware for the shop",
        readers="shop, store",
        holds="the screws, fittings and glue of what is joined in the shop, for all rooms",
        render=table(tables.shop_hardware),
    ),
    Entry(
        path="shop/labels/*.pdf",
        role=FileRole.PART_LABELS,
        form=Form.PAPER,
        title="labels of parts",
        readers="operator, shop",
        holds="for each material, in the order of cutting: a label for each sheet, each part cut "
        "from it with room, piece, outline, bands and a square code, each offcut kept",
        render=files(labels.of_parts),
    ),
    Entry(
        path="shop/labels-bars.pdf",
        role=FileRole.BAR_LABELS,
        form=Form.PAPER,
        title="labels of bundles",
        readers="shop",
        holds="a label for each bundle of cleats or angles: those that the shop joins, those of a "
        "room",
        render=files(labels.of_bars),
    ),
    Entry(
        path="shop/labels.csv",
        role=FileRole.LABEL_LIST,
        form=Form.TABLE,
        title="list of labels",
        readers="operator, shop",
        holds="a row for each label, boxes included, for label printers; `code` is the text of its "
        "square code",
        render=table(tables.labels),
    ),
    Entry(
        path="shop/sorting.pdf",
        role=FileRole.SORTING_PLAN,
        form=Form.PAPER,
        title="sorting plan",
        readers="operator, shop",
        holds="which part goes from the router on which cart (`sorting:` room, floor or unit),"
        " sheet by sheet, and how many rooms are begun at once",
        render=files(shop_papers.sorting_pages),
    ),
    Entry(
        path="shop/sorting.csv",
        role=FileRole.SORTING,
        form=Form.TABLE,
        title="sorting",
        readers="operator, shop",
        holds="the same as a table, part by part in the order of cutting",
        render=table(tables.sorting),
    ),
    Entry(
        path="shop/yield.csv",
        role=FileRole.YIELD,
        form=Form.TABLE,
        title="yield",
        readers="estimator",
        holds="sheets, yield, lower bound and cost for each material and stock",
        render=table(tables.yields),
    ),
    Entry(
        path="shop/offcuts.csv",
        role=FileRole.OFFCUTS,
        form=Form.TABLE,
        title="offcuts",
        readers="store",
        holds="what is left of each sheet and worth keeping, with its place, how often it falls "
        "and its rack label",
        render=table(tables.offcuts),
    ),
    Entry(
        path="shop/estimate.pdf",
        role=FileRole.ESTIMATE_PAPER,
        form=Form.PAPER,
        title="estimate",
        readers="estimator",
        holds="what the job costs: boards, bands, steel, hardware, hours of machine, bench and "
        "installers, overhead, markup; the price of a room of each set and hand; where sheets go; "
        "what is missing; the file that each figure is found in",
        render=files(estimate_files.estimate_paper),
    ),
    Entry(
        path="shop/estimate.xlsx",
        role=FileRole.ESTIMATE,
        form=Form.TABLE,
        title="estimate as a workbook",
        readers="estimator",
        holds="the same with live formulas: change a rate, a price or a quantity and all that rests"
        " on it follows; charts",
        render=files(estimate_files.estimate_workbook),
    ),
    Entry(
        path="shop/purchase.csv",
        role=FileRole.PURCHASE,
        form=Form.TABLE,
        title="purchase list",
        readers="estimator, store",
        holds="what is bought for all rooms, with spare: sheets, bars, rolls of band, packs, "
        "cartridges, all whole; price, cost, and the file that each need comes from",
        render=table(estimate_files.purchase_table),
    ),
    Entry(
        path="shop/purchase.pdf",
        role=FileRole.PURCHASE_PAPER,
        form=Form.PAPER,
        title="purchase list on paper",
        readers="estimator, store",
        holds="the same to order from and to tick off",
        render=files(estimate_files.purchase_paper),
    ),
    Entry(
        path="shop/router-times.csv",
        role=FileRole.ROUTER_TIMES,
        form=Form.TABLE,
        title="time on the router",
        readers="operator, estimator",
        holds="for each cut file and bit: layers, path, plunges, minutes; then changes of bits and "
        "handling; holes that no bit of the machine file drills have a line without minutes",
        render=table(tables.router_times),
    ),
)

"""What a build leaves for store and site."""

from __future__ import annotations

from casewright.entries import (
    labels,
    store_papers,
    tables,
)
from casewright.entries.entry import Entry, Form, files, papers, table
from casewright.entries.site_papers import (
    blocking_plans,
    installation_sheets,
    pick_sheet,
    room_pages,
)
from export.manifest import FileRole

SITE: tuple[Entry, ...] = (
    Entry(
        path="site/install-*.pdf",
        role=FileRole.INSTALLATION,
        form=Form.PAPER,
        title="installation sheets",
        readers="installer",
        holds="for each set and hand: the kit, screws and hours, what comes before, then a page "
        "for each step with its pictures, parts, screws by letter, what to do, mark, check and"
        " mind",
        render=papers(installation_sheets),
    ),
    Entry(
        path="site/blocking-*.pdf",
        role=FileRole.BLOCKING,
        form=Form.PAPER,
        title="blocking plans",
        readers="builder, installer",
        holds="for each set and hand, with its rooms: where the walls must hold screws, from floor "
        "and corner, all walls to one scale; size of each block or fixing and hole of each wall, "
        "and the load on a screw",
        render=papers(blocking_plans),
    ),
    Entry(
        path="site/rooms.pdf",
        role=FileRole.ROOM_PAGES,
        form=Form.PAPER,
        title="room pages",
        readers="installer",
        holds="a page for each room: what it asks for, its kit, a code with its record",
        render=papers(room_pages),
    ),
    Entry(
        path="site/pick-list.pdf",
        role=FileRole.PICK_SHEET,
        form=Form.PAPER,
        title="pick list for the store",
        readers="store",
        holds="what goes into each box and into all of them",
        render=papers(pick_sheet),
    ),
    Entry(
        path="site/labels-boxes.pdf",
        role=FileRole.BOX_LABELS,
        form=Form.PAPER,
        title="labels of boxes",
        readers="store",
        holds="a label for the box of each room",
        render=papers(labels.of_boxes),
    ),
    Entry(
        path="site/packing.pdf",
        role=FileRole.PACKING_LISTS,
        form=Form.PAPER,
        title="packing lists",
        readers="store, driver",
        holds="for each set and hand what a room gets, with its rooms to tick; then each trip with"
        " its rooms, pieces, mass and volume",
        render=files(store_papers.packing_lists),
    ),
    Entry(
        path="site/packing.csv",
        role=FileRole.PACKING,
        form=Form.TABLE,
        title="packing by room and trip",
        readers="store, driver",
        holds="the same as a table, room by room",
        render=table(tables.packing),
    ),
    Entry(
        path="site/measuring.pdf",
        role=FileRole.MEASURING_SHEETS,
        form=Form.PAPER,
        title="measuring sheets",
        readers="installer",
        holds="a sheet for each room: where each measure of the schedule is taken, what is known so"
        " far, and a blank",
        render=files(store_papers.measuring),
    ),
    Entry(
        path="site/measuring.csv",
        role=FileRole.MEASURING,
        form=Form.TABLE,
        title="schedule to fill in",
        readers="installer",
        holds="the schedule as it is known, with all its columns: filled in it is the next"
        " schedule",
        render=table(tables.measuring),
    ),
    Entry(
        path="site/sign-off.pdf",
        role=FileRole.SIGN_OFF,
        form=Form.PAPER,
        title="sign-off pages",
        readers="installer, client",
        holds="a page for each room: what must be right, snags, signatures",
        render=files(store_papers.sign_off),
    ),
    Entry(
        path="site/kits.csv",
        role=FileRole.KITS,
        form=Form.TABLE,
        title="kits",
        readers="installer, store",
        holds="what is packed for one room of each set and hand, counted from the joints: "
        "hardware, screws, caps, adhesive, shims; what is in the box and what lies loose; which"
        " parts use it",
        render=table(tables.kits),
    ),
    Entry(
        path="site/pick-list.csv",
        role=FileRole.PICK_LIST,
        form=Form.TABLE,
        title="pick list",
        readers="store",
        holds="the same for the whole job, article by article",
        render=table(tables.pick_list),
    ),
    Entry(
        path="site/rooms.csv",
        role=FileRole.ROOMS,
        form=Form.TABLE,
        title="measured rooms",
        readers="installer",
        holds="what each measured room asks for",
        render=table(tables.rooms),
    ),
    Entry(
        path="site/room-fixings.csv",
        role=FileRole.ROOM_FIXINGS,
        form=Form.TABLE,
        title="wall screws without wood",
        readers="installer",
        holds="wall screws that find no wood in a measured room",
        render=table(tables.room_fixings),
    ),
)

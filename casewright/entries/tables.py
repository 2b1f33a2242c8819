"""The tables: what each of them is made from."""

from __future__ import annotations

from casewright.entries.built import Built
from casewright.stages.models.piece_stage import part_places
from casewright.stages.shop.sheet_stage import reusable_size
from casewright.stages.store.measuring_stage import measuring_csv
from export.shop.sorting import sorting_csv
from export.tables.bar_plan_table import bar_plan_csv
from export.tables.cutlist_table import cutlist_csv
from export.tables.edge_bore_table import edge_bores_csv
from export.tables.findings_table import findings_csv
from export.tables.kit_table import kits_csv, pick_list_csv
from export.tables.label_table import labels_csv
from export.tables.linear_hole_table import linear_holes_csv
from export.tables.linear_table import linear_csv
from export.tables.offcut_table import offcuts_csv
from export.tables.packing_table import packing_csv
from export.tables.panel_table import panels_csv
from export.tables.piece_table import pieces_csv, shop_hardware_csv
from export.tables.place_table import places_csv
from export.tables.rooms_table import room_fixings_csv, rooms_csv
from export.tables.router_time_table import router_times_csv
from export.tables.yield_table import yield_csv
from parametric.kit.glue import whole_shop_list


def findings(built: Built) -> str:
    """Return every check, then what is not checked."""
    return findings_csv(built.told, built.sets.not_checked)


def cut_list(built: Built) -> str:
    """Return the parts from sheets."""
    return cutlist_csv(built.sets.cut_list, built.job.units)


def linear_list(built: Built) -> str:
    """Return the parts from bars."""
    return linear_csv(built.sets.cut_list, built.job.units)


def linear_holes(built: Built) -> str:
    """Return the holes of the parts from bars."""
    return linear_holes_csv(built.sets.cut_list, built.job.units)


def bar_plan(built: Built) -> str | None:
    """Return how bars are cut; None without any."""
    nests = built.nested.bar_nests
    return bar_plan_csv(nests, built.job.units) if nests else None


def edge_bores(built: Built) -> str | None:
    """Return the holes that no router drills flat; None without any."""
    return edge_bores_csv(built.sets.cut_list)


def panels(built: Built) -> str | None:
    """Return where the panels are from that other programs drew; None without any."""
    return panels_csv(built.sets.drawn) if built.sets.drawn else None


def yields(built: Built) -> str:
    """Return sheets, yield and cost of each material and stock."""
    return yield_csv(built.material_nests, built.nested.left_out)


def offcuts(built: Built) -> str:
    """Return what is left of the sheets and kept."""
    return offcuts_csv(built.material_nests, reusable_size(built.job.machine))


def router_times(built: Built) -> str | None:
    """Return how long the router works on each cut file; None without cut files."""
    return None if built.router is None else router_times_csv(built.router.files)


def pieces(built: Built) -> str | None:
    """Return what the shop joins; None where it joins nothing."""
    listed = built.pieces.pieces()
    return pieces_csv(listed) if listed else None


def places(built: Built) -> str:
    """Return where each part goes."""
    return places_csv(part_places(built.sets, built.pieces))


def shop_hardware(built: Built) -> str | None:
    """Return the hardware and glue of what the shop joins; None where it needs none."""
    hardware = whole_shop_list(built.kits, built.job.supplies)
    return shop_hardware_csv(hardware) if hardware.lines else None


def sorting(built: Built) -> str | None:
    """Return which part goes on which cart; None without cut files."""
    return None if built.shop is None else sorting_csv(built.sorting)


def labels(built: Built) -> str | None:
    """Return all labels; None without any."""
    listed = built.labels.book.labels
    return labels_csv(listed) if listed else None


def measuring(built: Built) -> str:
    """Return the schedule as it is known, to be filled in."""
    return measuring_csv(built.job.rooms, built.job.units)


def packing(built: Built) -> str:
    """Return what is packed for each room, and goes on which trip."""
    return packing_csv(built.packing)


def kits(built: Built) -> str:
    """Return what is packed for a room of each set and hand."""
    return kits_csv(built.kits)


def pick_list(built: Built) -> str:
    """Return what is packed for the whole job."""
    return pick_list_csv(built.kits)


def rooms(built: Built) -> str:
    """Return what each measured room asks for."""
    return rooms_csv(built.sets.fits, built.job.fitting, built.job.units)


def room_fixings(built: Built) -> str:
    """Return the wall screws that find no wood."""
    return room_fixings_csv(built.sets.fits, built.job.units)

"""From a table of panels that other programs drew to parts of the cut list."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from casewright.errors import Fault, InputErrors
from casewright.intake.document import Place, placed_fault
from casewright.intake.read_panels import face_word
from casewright.intake.text_file import FileSize, read_bytes
from casewright.job import DrawnPanel, PanelGrain
from casewright.progress import Progress
from casewright.stages.panels.drawn_panels import ReadPanel
from casewright.stages.panels.panel_lay import NotToldHow, lay, shown_faces
from casewright.stages.panels.panel_material import NoMaterial, in_words, material_for
from casewright.wording import counted
from export.tables.panel_table import PanelSource
from parametric.geometry.pose import Pose
from parametric.geometry.space import Axis, Box, Direction, Point
from parametric.lists.part_catalogue import ReadBoard
from parametric.shapes.board import Board
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.panel import FlatPanel
from parametric.solids.drawn_solid import DrawnSolid, drawn_solid
from parametric.solids.flatten import Reading
from parametric.solids.kernel_errors import NotFlat
from parametric.solids.read_step import NoSolids, Solid, step_solids
from parametric.stock.lengths import Units
from parametric.stock.materials import Grain, SheetMaterial

SIZE = FileSize(kind="a STEP file", most_bytes=100_000_000)
FLAT = "a flat panel of one thickness, its edges square to its faces"
AT_ORIGIN = Pose(Point(0.0, 0.0, 0.0), Point(1.0, 0.0, 0.0), Point(0.0, 0.0, 1.0))


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A solid of a row, and what it is called there."""

    row: DrawnPanel
    label: str
    name: str
    solid: DrawnSolid


class _Reader:
    """Reads rows of tables, and keeps the faults of all of them."""

    def __init__(
        self, materials: Sequence[SheetMaterial], units: Units, progress: Progress
    ) -> None:
        """Start without rows; `units` are those of messages."""
        self.faults: list[Fault] = []
        self._progress = progress
        self._last: tuple[Path, tuple[Solid, ...]] | None = None
        self._materials = materials
        self._units = units

    def panels(self, row: DrawnPanel) -> Iterator[ReadPanel]:
        """Yield the panels of a row; a solid that is none adds a fault."""
        for drawn in self._drawn(row):
            try:
                yield self._read(drawn)
            except NotFlat as error:
                self._fault(row, "file", f"{drawn.label}: {error.reason}", FLAT)
            except NoMaterial as error:
                size = f" ({drawn.solid.size})"
                self._fault(row, "material", f"{drawn.label}: {error.found}{size}", error.allowed)
            except NotToldHow as error:
                self._fault(row, error.column, f"{drawn.label}: {error.found}", error.allowed)

    def _drawn(self, row: DrawnPanel) -> Iterator[_Drawn]:
        """Yield the solids of a row that have the proportions of a board."""

        solids = self._solids(row)
        if not solids:
            return
        if row.solid is not None and row.solid > len(solids):
            found = f"{row.file.name}#{row.solid} of {counted(len(solids), 'solid')}"
            self._fault(row, "file", found, f"a number from 1 to {len(solids)}")
            return
        for number, solid in enumerate(solids, start=1):
            if row.solid in (None, number):
                several = len(solids) > 1
                label = f"{row.file.name}#{number}" if several else row.file.name
                name = f"{row.name}#{number}" if several and row.solid is None else row.name
                try:
                    yield _Drawn(row, label, name, drawn_solid(label, solid))
                except NotFlat as error:
                    stock = f"{FLAT}; in stock: {in_words(self._materials, self._units)}"
                    self._fault(row, "file", f"{label}: {error.reason}", stock)

    def _solids(self, row: DrawnPanel) -> tuple[Solid, ...]:
        """Return the solids of a row's file, none after telling what is wrong with it."""

        def blame(found: str, allowed: str) -> Fault:
            allowed = allowed.replace("a text file", "a STEP file")
            return self._made(row, "file", f"{row.file.name}, {found}", allowed)

        if self._last is not None and self._last[0] == row.file:
            return self._last[1]
        content = read_bytes(row.file, self.faults, SIZE, blame)
        if content is None:
            return ()
        try:
            held = step_solids(content)
        except NoSolids as error:
            self._fault(row, "file", f"{row.file.name}, {error}", "a STEP file with a flat panel")
            return ()
        if held.loose_surfaces:
            surfaces = counted(held.loose_surfaces, "surface")
            self._progress.tell(f"{row.file.name}: {surfaces} left out, as no solid has them.")
        self._last = row.file, held.solids
        return held.solids

    def _read(self, drawn: _Drawn) -> ReadPanel:
        """Return a solid as the panel that it is.

        Raises:
            NotFlat: a face of it cannot be read.
            NoMaterial: no material has its thickness.
            NotToldHow: its row says too little.
        """
        row, thickness_mm = drawn.row, drawn.solid.thickness_mm
        material = material_for(thickness_mm, row.material, self._materials, self._units)
        reading = drawn.solid.read()
        if row.grain is PanelGrain.NONE:
            material = replace(material, grain=Grain.NONE)
        refuse_cut_through(drawn.label, reading.laid.panel, material)
        laid = LaidPanel(lay(row, material, reading.laid).panel, AT_ORIGIN)
        board = _board(drawn, laid.panel, material)
        read = ReadBoard(board=board, laid=laid, volume_mm3=drawn.solid.volume_mm3)
        return ReadPanel(read, row.quantity, _source(drawn, material, reading))

    def _fault(self, row: DrawnPanel, column: str, found: str, allowed: str) -> None:
        self.faults.append(self._made(row, column, found, allowed))

    def _made(self, row: DrawnPanel, column: str, found: str, allowed: str) -> Fault:
        place = Place(row.line, None)
        return placed_fault(row.table, place, (column,), found=found, allowed=allowed)


def read_drawn_panels(
    rows: Sequence[DrawnPanel],
    materials: Sequence[SheetMaterial],
    units: Units,
    progress: Progress,
) -> tuple[ReadPanel, ...]:
    """Return all panels of the rows, in their order.

    Raises:
        InputErrors: some solid is no panel of a material; all of them are told.
    """
    progress.stage("panels drawn elsewhere", len(rows))
    reader = _Reader(materials, units, progress)
    found: list[ReadPanel] = []
    for row in rows:
        found += reader.panels(row)
        progress.step(row.file.name)
    if reader.faults:
        raise InputErrors(tuple(reader.faults))
    return tuple(found)


def refuse_cut_through(label: str, panel: FlatPanel, material: SheetMaterial) -> None:
    """Do nothing where all that is blind in the drawing is blind in the real board.

    Raises:
        NotFlat: something is deeper than the board is thick.
    """
    depths = [pocket.depth_mm for pocket in panel.pockets]
    depths += [bore.depth_mm for bore in panel.bores if bore.depth_mm is not None]
    deepest = max(depths, default=0.0)
    if deepest >= material.thickness_mm:
        thick = f"{material.key} is {material.thickness_mm:g} mm thick"
        raise NotFlat(label, f"something {deepest:g} mm deep would go right through: {thick}")


def files_of(rows: Sequence[DrawnPanel]) -> tuple[Path, ...]:
    """Return the STEP files, each once."""
    return tuple(dict.fromkeys(row.file for row in rows))


def _board(drawn: _Drawn, panel: FlatPanel, material: SheetMaterial) -> Board:
    corner = Point(panel.length_mm, panel.width_mm, panel.thickness_mm)
    return Board(
        name=drawn.label,
        unit=drawn.row.file.name,
        description=drawn.name,
        material=material,
        box=Box(low=Point(0.0, 0.0, 0.0), high=corner),
        grain=Axis.X,
        facing=Direction.Z_PLUS,
        show=shown_faces(drawn.row),
    )


def _source(drawn: _Drawn, material: SheetMaterial, reading: Reading) -> PanelSource:
    row = drawn.row
    return PanelSource(
        part="",
        file=drawn.label,
        name=drawn.name,
        quantity=row.quantity,
        material=material.key,
        matched_by="table" if row.material else "thickness",
        thickness_mm=material.thickness_mm,
        drawn_thickness_mm=reading.laid.panel.thickness_mm,
        grain=row.grain,
        show_face=face_word(row.good_face),
        tips=reading.tips,
    )

"""A job, read and checked: what is built, from what, on which machine, for which rooms."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path

from export.dxf_version import DxfVersion
from export.estimate.rates import Rates
from export.labels.stock import LabelStocks
from export.layer_names import LayerNames
from export.routing.machine_rates import Bit, HoldDown, Times
from export.store.content import Truck
from parametric.findings.access import Access
from parametric.geometry.hand import Hand
from parametric.geometry.space import Direction
from parametric.kit.supplies import Supplies
from parametric.rooms.fitting import Fitting
from parametric.rooms.measured import Measured
from parametric.sets.composition import SetSizes
from parametric.sets.room_walls import RoomWalls
from parametric.shapes.routing import Routing
from parametric.steps.bench_rates import BenchRates
from parametric.steps.site_rates import SiteRates
from parametric.stock.buying import Buying
from parametric.stock.construction import Construction
from parametric.stock.lengths import Units
from parametric.stock.materials import SheetMaterial
from parametric.stock.paper import Paper
from parametric.strength.loads import Loads


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """What the saw for bars takes: `kerf_mm` with each cut, `end_trim_mm` at each end of a bar, its
    own cut included. A rest of at least `reusable_mm` is kept.

    The defaults are common practice, no source.
    """

    kerf_mm: float = 3.2
    end_trim_mm: float = 5.0
    reusable_mm: float = 300.0


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeTrim:
    """What is left along single edges of a sheet where it is not what is left along the others.

    Left and right are the ends of the sheet's length, bottom and top the sides along it.
    """

    left_mm: float | None = None
    right_mm: float | None = None
    bottom_mm: float | None = None
    top_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutSize:
    """The least offcut that is kept, whichever way it lies (common practice, no source)."""

    length_mm: float = 600.0
    width_mm: float = 200.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallParts:
    """Parts that a vacuum may not hold: smaller than `area_cm2`, or longer than `aspect` times
    their width (common practice, no source). They are marked and cut last.

    Parts with no side longer than `rim_side_mm` stay `rim_mm` away from the trimmed edges, where
    the vacuum holds least; None: they may lie anywhere.
    """

    area_cm2: float = 500.0
    aspect: float = 10.0
    rim_side_mm: float | None = None
    rim_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """What the router imposes on sheets and cut files, and the saw on bars.

    `sheet_trim_mm` is left along every edge of a sheet unless `edge_trim` says otherwise, `gap_mm`
    between parts; holes larger than `largest_drill_mm` are routed. `bed_mm` is length and width of
    the table that the bit reaches, if it is known; no `bits` means that none are told.
    """

    name: str
    sheet_trim_mm: float
    gap_mm: float
    dxf_version: DxfVersion
    largest_drill_mm: float
    layer_names: LayerNames
    saw: Saw = Saw()
    edge_trim: EdgeTrim = EdgeTrim()
    offcut: OffcutSize = OffcutSize()
    small_parts: SmallParts = SmallParts()
    bed_mm: tuple[float, float] | None = None
    bits: tuple[Bit, ...] = ()
    times: Times = field(default_factory=Times)
    hold_down: HoldDown = field(default_factory=HoldDown)

    @property
    def edges_mm(self) -> tuple[float, float, float, float]:
        """Return what is left along the edges: left, right, bottom, top."""
        edges, even = self.edge_trim, self.sheet_trim_mm
        own = (edges.left_mm, edges.right_mm, edges.bottom_mm, edges.top_mm)
        left, right, bottom, top = (even if edge is None else edge for edge in own)
        return left, right, bottom, top

    @property
    def even_trim_mm(self) -> float:
        """Return a trim along every edge that leaves no more of a sheet in either direction."""
        left, right, bottom, top = self.edges_mm
        return max((left + right) / 2, (bottom + top) / 2)


class CartFor(StrEnum):
    """What a cart beside the router is for."""

    ROOM = "room"
    FLOOR = "floor"
    UNIT = "unit"


class CutInOrderOf(StrEnum):
    """What the order follows in which sheets are cut."""

    LAYOUTS = "layouts"
    ROOMS = "rooms"


class PanelGrain(StrEnum):
    """Which way the grain runs on a panel drawn elsewhere."""

    LENGTH = "length"
    WIDTH = "width"
    NONE = "none"  # either way will do


class GoodFace(StrEnum):
    """Which face of a panel drawn elsewhere is the good one, or which are seen."""

    MACHINED = "machined"  # the face that is worked, or worked more
    PLAIN = "plain"  # the other one
    BOTH = "both"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPanel:
    """A row of a table of panels that other programs drew; `table` and `line` say where it stands.

    `solid` is which solid of the file it is, counted from 1; None: each of them is one. Without a
    `material` the thickness tells it. A good face may be told by the way it looks in the file.
    """

    table: Path
    line: int
    file: Path
    solid: int | None
    name: str
    quantity: int
    material: str
    grain: PanelGrain
    good_face: GoodFace | Direction


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """One room of the schedule and the set it gets; `floor` is blank where nobody named one."""

    number: str
    set_name: str
    hand: Hand
    measured: Measured
    floor: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A whole job. Sets are in the order of the job file, rooms in that of the schedule.

    `paper` is what its papers are set for; None: letter with inches, A4 with millimetres. `sorting`
    is what a cart is for; None: a floor, where the schedule names any, else a room; what one holds
    nobody may have said. Sheets are `cut_in_order_of` layouts, the runs of each together, or of
    rooms. `labels` are printed on what it names, or on the usual sheets of that paper. `files` are
    those that it was read from. `panels` are drawn elsewhere, of any of `panel_materials`. `buying`
    says how what the libraries list is bought, sheets apart.
    """

    name: str
    units: Units
    currency: str
    sets: tuple[SetSizes, ...]
    construction: Construction
    routing: Routing
    machine: Machine
    rooms: tuple[Room, ...]
    supplies: Supplies = field(default_factory=Supplies)
    site_rates: SiteRates = field(default_factory=SiteRates)
    bench_rates: BenchRates = field(default_factory=BenchRates)
    rates: Rates = field(default_factory=Rates)
    fitting: Fitting = field(default_factory=Fitting)
    loads: Loads = field(default_factory=Loads)
    walls: RoomWalls = field(default_factory=RoomWalls)
    access: Access = field(default_factory=Access)
    truck: Truck = field(default_factory=Truck)
    sorting: CartFor | None = None
    cart_holds_kg: float | None = None
    cut_in_order_of: CutInOrderOf = CutInOrderOf.LAYOUTS
    formaldehyde: str | None = None
    paper: Paper | None = None
    labels: LabelStocks = field(default_factory=LabelStocks)
    panels: tuple[DrawnPanel, ...] = ()
    panel_materials: tuple[SheetMaterial, ...] = ()
    buying: tuple[Buying, ...] = ()
    files: tuple[Path, ...] = field(default=(), compare=False)

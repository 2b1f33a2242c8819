"""What is bought for all rooms: whole sheets, bars, rolls, packs, bottles, with spare."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from enum import StrEnum

from export.estimate.money import as_written, cents
from export.tables.profile_words import profile_shown
from export.tables.yield_table import MaterialNest, YieldRow, yield_rows
from nesting.linear.bar_nest import BarNest
from nesting.question.ticks import to_mm
from parametric.kit.glue import whole_glue
from parametric.kit.kit import KitLine
from parametric.kit.set_kit import SetKit, whole_kit, whole_shop_hardware
from parametric.kit.supplies import ADHESIVE, BY_ENGINEER, CARTRIDGE_ML, Supplies, cartridges_for
from parametric.lists.cut_list import BarPart, Part
from parametric.lists.left_out import LeftOut, StockForm
from parametric.shapes.panel import Edge
from parametric.stock.buying import Buying, Shelf, long_buying, packed_buying
from parametric.stock.lengths import Units, show_length
from parametric.stock.materials import EdgeBand

OVER_EACH_EDGE_MM = 50.0
"""Band that is cut off again at the ends of each edge (common practice, no source)."""
_METRE_MM = 1000.0
_LONG_UNIT = {Units.MM: ("m", _METRE_MM), Units.INCH: ("ft", 304.8)}
"""What long things are counted in, and its millimetres."""
_YIELD, _BARS, _CUT_LIST = "shop/yield.csv", "shop/bars.csv", "shop/cutlist.csv"
_PICK_LIST, _SHOP_HARDWARE = "site/pick-list.csv", "shop/hardware.csv"
_ALONG_LENGTH = (Edge.Y_LOW, Edge.Y_HIGH)


class Kind(StrEnum):
    """What is bought."""

    SHEETS = "sheets"
    BANDS = "edge bands"
    BARS = "bars"
    HARDWARE = "hardware and consumables"


@dataclass(frozen=True, slots=True, kw_only=True)
class PurchaseLine:
    """An article for all rooms. `needed`, `spare` and `on_hand` count the `unit`, `pack` how many
    of it are bought together and `pack_unit` what that is called. `price` is for a pack; None:
    nobody has said. `paper` is the file that the need comes from. Nothing is bought where `missed`
    says why.
    """

    kind: Kind
    article: str
    description: str
    unit: str
    needed: Decimal
    spare: Decimal = Decimal(0)
    on_hand: int = 0
    pack: Decimal = Decimal(1)
    pack_unit: str
    price: Decimal | None
    paper: str
    note: str = ""
    missed: str = ""

    @property
    def packs(self) -> int:
        """How many packs are bought, each of them whole."""
        if self.missed:
            return 0
        short = max(Decimal(0), self.needed + self.spare - self.on_hand)
        return int((short / self.pack).to_integral_value(ROUND_CEILING))

    @property
    def cost(self) -> Decimal | None:
        """What is paid for it; None without a price."""
        return None if self.price is None else cents(self.price * self.packs)


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """What a job needs, before it is bought; `buying` says how."""

    nests: Sequence[MaterialNest]
    bar_nests: Sequence[BarNest]
    parts: Sequence[Part]
    bars: Sequence[BarPart]
    kits: Sequence[SetKit]
    left_out: Sequence[LeftOut]
    supplies: Supplies
    buying: Sequence[Buying]
    units: Units


def purchase_list(demand: Demand) -> tuple[PurchaseLine, ...]:
    """Return all that is bought: sheets, edge bands, bars, then what kits and shop need."""
    return (
        *_sheets(demand),
        *_bands(demand),
        *_bars(demand),
        *_hardware(demand),
    )


def _sheets(demand: Demand) -> Iterator[PurchaseLine]:
    rows: dict[tuple[str, str], list[YieldRow]] = {}
    for row in yield_rows(demand.nests):
        rows.setdefault((row.material.key, row.stock.key), []).append(row)
    for same in rows.values():
        material, stock = same[0].material, same[0].stock
        size = " x ".join(show_length(mm, demand.units) for mm in (stock.length_mm, stock.width_mm))
        sheets = sum(row.sheets for row in same)
        yield PurchaseLine(
            kind=Kind.SHEETS,
            article=material.key,
            description=f"{material.description}, {size}",
            unit="sheet",
            needed=Decimal(sheets),
            on_hand=0 if stock.on_hand is None else min(stock.on_hand, sheets),
            pack_unit="sheet",
            price=as_written(stock.price),
            paper=_YIELD,
        )
    yield from _missed(demand.left_out, StockForm.SHEETS, Kind.SHEETS, _YIELD)


def _missed(
    left_out: Iterable[LeftOut], form: StockForm, kind: Kind, paper: str
) -> Iterator[PurchaseLine]:
    for each in left_out:
        if each.form is form:
            yield PurchaseLine(
                kind=kind,
                article=each.material,
                description="left out, its stock does not suffice",
                unit=form.value,
                needed=Decimal(0),
                pack_unit="",
                price=None,
                paper=paper,
                missed=each.why,
            )


def band_edges(part: Part) -> Iterator[tuple[EdgeBand, float]]:
    """Yield the bands of one part, each with the finished length of its edge in millimetres; an
    edge with round corners counts as if they were square.
    """
    for banding in part.banding:
        along = banding.edge in _ALONG_LENGTH
        yield banding.band, part.finished_length_mm if along else part.finished_width_mm


def _bands(demand: Demand) -> Iterator[PurchaseLine]:
    bands: dict[str, EdgeBand] = {}
    lengths: dict[str, list[float]] = {}
    for part in demand.parts:
        for band, length_mm in band_edges(part):
            bands.setdefault(band.key, band)
            lengths.setdefault(band.key, []).extend([length_mm] * part.quantity)
    unit, unit_mm = _LONG_UNIT[demand.units]
    for key, band in bands.items():
        buying = long_buying(demand.buying, Shelf.BANDS, key)
        edges = len(lengths[key])
        in_roll = as_written((buying.roll_mm or _METRE_MM) / unit_mm, 2)
        yield PurchaseLine(
            kind=Kind.BANDS,
            article=key,
            description=band.description,
            unit=unit,
            needed=as_written(math.fsum(lengths[key]) / unit_mm, 2),
            spare=as_written(edges * OVER_EACH_EDGE_MM / unit_mm, 2),
            pack=in_roll,
            pack_unit="metre" if buying.roll_mm is None else f"roll of {float(in_roll):g} {unit}",
            price=_price(buying),
            paper=_CUT_LIST,
            note=f"{edges} edges, {show_length(OVER_EACH_EDGE_MM, demand.units)} over on each",
        )


def _bars(demand: Demand) -> Iterator[PurchaseLine]:
    cut = {(b.material, b.profile, round(b.stock_length_mm, 3)): b for b in demand.bars}
    for nest in demand.bar_nests:
        (stock,) = nest.question.bars
        bar = cut[nest.material, nest.profile, round(to_mm(stock.length), 3)]
        # A cleat and an angle may have one name; their sections differ.
        shelf = Shelf.ANGLES if _is_angle(demand.kits, bar) else Shelf.BARS
        buying = long_buying(demand.buying, shelf, nest.material)
        yield PurchaseLine(
            kind=Kind.BARS,
            article=nest.material,
            description=buying.description or profile_shown(nest.profile, demand.units),
            unit="bar",
            needed=Decimal(nest.answer.bars),
            pack_unit=f"bar of {show_length(bar.stock_length_mm, demand.units)}",
            price=_price(buying),
            paper=_BARS,
        )
    yield from _missed(demand.left_out, StockForm.BARS, Kind.BARS, _BARS)


def _is_angle(kits: Iterable[SetKit], bar: BarPart) -> bool:
    sections = (angle.section for each in kits for angle in each.assembly.angles)
    return any(
        (section.key, section.leg_mm, section.thickness_mm) == (bar.material, *bar.section_mm)
        for section in sections
    )


def _hardware(demand: Demand) -> Iterator[PurchaseLine]:
    """Yield what comes in boxes: site and shop together, steel angles apart, which are bars."""
    angles = {
        (angle.section.key, angle.section.description)
        for each in demand.kits
        for angle in each.assembly.angles
    }
    site, shop = whole_kit(demand.kits).lines, whole_shop_hardware(demand.kits).lines
    together: dict[tuple[str, str], list[tuple[KitLine, float, str]]] = {}
    for line in site:
        together.setdefault((line.key, line.description), []).append((line, line.spare, _PICK_LIST))
    for line in shop:
        spare = _shop_spare(demand, line)
        together.setdefault((line.key, line.description), []).append((line, spare, _SHOP_HARDWARE))
    for (key, description), lines in together.items():
        if any(key == of and description.startswith(f"{words}, ") for of, words in angles):
            continue
        if key == ADHESIVE:
            yield _adhesive(demand, lines[0][0])
        else:
            yield _pieces(demand, lines)
    glue = whole_glue(demand.kits, demand.supplies)
    if glue is not None:
        yield _glue(demand, glue)


def _shop_spare(demand: Demand, line: KitLine) -> float:
    """Return what the shop drops: as many of a hundred screws and caps as the kits hold spare."""
    shelf = packed_buying(demand.buying, line.key, line.description).shelf
    shares = {Shelf.SCREWS: demand.supplies.spare_screws, Shelf.CAPS: demand.supplies.spare_caps}
    return math.ceil(line.needed * shares.get(shelf, 0.0) - 1e-9)


def _pieces(demand: Demand, lines: Sequence[tuple[KitLine, float, str]]) -> PurchaseLine:
    first = lines[0][0]
    buying = packed_buying(demand.buying, first.key, first.description)
    missed = "" if first.supplied else "somebody else brings it"
    if first.key == BY_ENGINEER:
        missed = "an engineer specifies it"
    return PurchaseLine(
        kind=Kind.HARDWARE,
        article=first.key,
        description=first.description,
        unit="piece",
        needed=Decimal(round(math.fsum(line.needed for line, _, _ in lines))),
        spare=Decimal(round(math.fsum(spare for _, spare, _ in lines))),
        pack=Decimal(buying.pack or 1),
        pack_unit="piece" if buying.pack is None else f"pack of {buying.pack}",
        price=_price(buying),
        paper=" and ".join(dict.fromkeys(paper for _, _, paper in lines)),
        missed=missed,
    )


def _adhesive(demand: Demand, line: KitLine) -> PurchaseLine:
    """Return the cartridges of all boxes, each of which holds whole ones."""
    boxes = [
        (cartridges_for(each.packed), kit.rooms)
        for kit in demand.kits
        for each in kit.kit.lines
        if each.key == ADHESIVE
    ]
    buying = packed_buying(demand.buying, ADHESIVE, line.description)
    carton = buying.pack
    return PurchaseLine(
        kind=Kind.HARDWARE,
        article=ADHESIVE,
        description=f"{line.description}, cartridges of {CARTRIDGE_ML:.0f} ml",
        unit="cartridge",
        needed=Decimal(sum(count * rooms for count, rooms in boxes)),
        pack=Decimal(carton or 1),
        pack_unit="cartridge" if carton is None else f"carton of {carton}",
        price=_price(buying),
        paper=_PICK_LIST,
        note="whole cartridges in each box, spare included",
        missed="" if line.supplied else "somebody else brings it",
    )


def _glue(demand: Demand, line: KitLine) -> PurchaseLine:
    """Return the glue of the shop, in whole bottles."""
    bottle = demand.supplies.glue_bottle_ml
    buying = packed_buying(demand.buying, line.key, line.description)
    carton = buying.pack
    return PurchaseLine(
        kind=Kind.HARDWARE,
        article=line.key,
        description=line.description,
        unit=line.unit.value,
        needed=as_written(line.needed, 0),
        spare=as_written(line.spare, 0),
        pack=as_written(bottle) * (carton or 1),
        pack_unit=f"bottle of {bottle:g} ml" if carton is None else f"carton of {carton} bottles",
        price=_price(buying),
        paper=_SHOP_HARDWARE,
        note=f"{demand.supplies.glue_ml_m2:g} ml on a square metre of cleats and grooves",
        missed="" if line.supplied else "somebody else brings it",
    )


def _price(buying: Buying) -> Decimal | None:
    return None if buying.price is None else as_written(buying.price)

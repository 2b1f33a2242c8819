"""The manifest: what an output folder holds, for programs that read it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from enum import StrEnum
from itertools import pairwise
from typing import Any

from export.drawing.panel_drawing import REGISTRATION_EDGE, TURNED_OVER
from export.layer_table import Layer, LayerTable
from export.seal import sealed_json, unsealed
from parametric.geometry.hand import Hand
from parametric.lists.cut_list import Part
from parametric.lists.face_up import FaceUp
from parametric.lists.left_out import LeftOut
from parametric.lists.operations import Operation
from parametric.stock.lengths import Units

DEEPEST = 32
"""No file of ours stands in more folders than that."""


class FileRole(StrEnum):
    """What a file is for."""

    SHEET = "sheet"
    PART = "part"
    CUT_LIST = "cut-list"
    LINEAR_LIST = "linear-list"
    LINEAR_HOLES = "linear-holes"
    BAR_PLAN = "bar-plan"
    ASSEMBLY_SHEETS = "assembly-sheets"
    PIECES = "pieces"
    PLACES = "places"
    SHOP_HARDWARE = "shop-hardware"
    YIELD = "yield"
    OFFCUTS = "offcuts"
    ROUTER_TIMES = "router-times"
    OPERATOR_PACK = "operator-pack"
    DRILLING_DRAWINGS = "drilling-drawings"
    EDGE_BORES = "edge-bores"
    SOLIDS = "solids"  # every board a solid (STEP)
    VIEW = "view"  # the same to look at (GLB)
    PART_DRAWINGS = "part-drawings"  # to make parts by hand (PDF)
    SET_DRAWINGS = "set-drawings"  # a set in one hand, its sections, its units taken apart (PDF)
    PART_DRAWING = "part-drawing"  # one of them for other programs (DXF)
    SUMMARY = "summary"
    FINDINGS = "findings"
    NEST = "nest"
    PLACEMENTS = "placements"
    SHEET_MAP = "sheet-map"
    SAW_CUTS = "saw-cuts"
    SAW_BOOKS = "saw-books"
    KITS = "kits"
    PICK_LIST = "pick-list"
    INSTALLATION = "installation-sheets"
    BLOCKING = "blocking-plan"
    ROOM_PAGES = "room-pages"
    PICK_SHEET = "pick-sheet"
    MEASURING = "measuring"
    MEASURING_SHEETS = "measuring-sheets"
    SIGN_OFF = "sign-off"
    PACKING = "packing"
    PACKING_LISTS = "packing-lists"
    ROOMS = "rooms"
    ROOM_FIXINGS = "room-fixings"
    OPENING_SIZES = "opening-sizes"
    PANELS = "panels"
    CHANGES = "changes"
    CHANGES_PAPER = "changes-paper"
    LISTS = "lists"
    LISTS_WORKBOOK = "lists-workbook"
    SORTING = "sorting"
    SORTING_PLAN = "sorting-plan"
    PART_LABELS = "part-labels"
    BAR_LABELS = "bar-labels"
    BOX_LABELS = "box-labels"
    LABEL_LIST = "label-list"
    PURCHASE = "purchase"
    PURCHASE_PAPER = "purchase-paper"
    ESTIMATE = "estimate"
    ESTIMATE_PAPER = "estimate-paper"
    RECUT = "recut"
    RECUT_PAPER = "recut-paper"


@dataclass(frozen=True, slots=True, kw_only=True)
class PartCount:
    """Distinct parts on the cut list, and the pieces of all rooms."""

    distinct: int
    total: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BandEntry:
    """An edge band that parts of the job carry, by its key in the library."""

    band: str
    thickness_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingCount:
    """Findings by severity."""

    ok: int
    warn: int
    fail: int


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutEntry:
    """A reusable rectangle left of each sheet: lower-left corner and sides along x and y."""

    x_mm: float
    y_mm: float
    length_mm: float
    width_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimEntry:
    """What is lost along each edge of a sheet, millimetres; left and right end its length."""

    left: float
    right: float
    bottom: float
    top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutEntry:
    """One layout: its file, its sheet, and how often it is cut.

    The yield is the share (0 to 1) that becomes parts, without their notches and openings.
    """

    file: str
    stock: str
    length_mm: float
    width_mm: float
    trim_mm: TrimEntry
    gap_mm: float
    runs: int
    share_used: float
    offcuts: tuple[OffcutEntry, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NestEntry:
    """The nest of one material.

    No answer has fewer sheets than `lower_bound`, which rests on `bound_kind`, or costs less than
    `price_bound`; `gap` is the share (0 to 1) of the price that a better answer could save at most.
    Seed and effort give the same answer again, unless a person (see `stop`) or a clock ended the
    search: then `extra_seconds`. `rounded_mm` is the most by which a length was rounded that is
    neither whole 0.01 mm nor whole 1/64 in.
    """

    material: str
    thickness_mm: float
    sheets: int
    lower_bound: int
    bound_kind: str
    price: float
    price_bound: float
    gap: float
    seed: int
    effort: str
    extra_seconds: float
    stop: str
    face_up: FaceUp
    rounded_mm: float
    layouts: tuple[LayoutEntry, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RouterEntry:
    """What one run of a cut file asks of the router: all that is cut along lines and in lanes, and
    seconds of all work, with changes of bits and handling. `not_counted` are layers that no bit of
    the machine can cut.
    """

    file: str
    runs: int
    path_mm: float
    plunges: int
    tool_changes: int
    seconds: float
    not_counted: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BarEntry:
    """The bars of one material and length: how many are cut, and at least needed, in how many ways.

    The kerf is lost with each cut, the trim at each end. The yield is a share (0 to 1).
    """

    material: str
    profile: str
    length_mm: float
    kerf_mm: float
    end_trim_mm: float
    bars: int
    lower_bound: int
    patterns: int
    share_used: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FileEntry:
    """One file: its path in the folder, its role, its SHA-256, and what it is about.

    `part` and `operation` are given for part files, `set_name` and `hand` for models.
    """

    path: str
    role: FileRole
    sha256: str
    part: str | None = None
    operation: Operation | None = None
    set_name: str | None = None
    hand: Hand | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """All that `manifest.json` says. `pre_mill_mm` is milled off each edge before it is banded.

    With anything in `left_out` the nests are not those of the whole job.
    """

    job: str
    units: Units
    rooms: int
    parts: PartCount
    edge_bands: tuple[BandEntry, ...]
    pre_mill_mm: float
    findings: FindingCount
    nests: tuple[NestEntry, ...]
    layers: LayerTable
    files: tuple[FileEntry, ...]
    bars: tuple[BarEntry, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    router: tuple[RouterEntry, ...] = ()


def manifest_json(manifest: Manifest) -> str:
    """Return the manifest as sealed JSON (see `export.seal`), files by path.

    Raises:
        ValueError: two files have one path, or a number is not finite.
    """
    content = {
        "job": manifest.job,
        "units": manifest.units,
        "rooms": manifest.rooms,
        "parts": asdict(manifest.parts),
        "edge_bands": [asdict(entry) for entry in manifest.edge_bands],
        "pre_mill_mm": manifest.pre_mill_mm,
        "findings": asdict(manifest.findings),
        "nests": [_nest(entry) for entry in manifest.nests],
        "bars": [_shares_as_yield(asdict(entry)) for entry in manifest.bars],
        "router": [asdict(entry) for entry in manifest.router],
        "left_out": [asdict(entry) for entry in manifest.left_out],
        "layers": _layers(manifest.layers.layers),
        "files": _files(manifest.files),
    }
    return sealed_json(content)


def file_list_json(files: Iterable[FileEntry]) -> str:
    """Return a manifest of nothing but files as JSON, in the same form.

    Raises:
        ValueError: two files have one path.
    """
    return sealed_json({"files": _files(files)})


def listed_files(manifest: bytes) -> dict[str, str] | None:
    """Return the SHA-256 of each file that a manifest of ours lists; None for any other text."""
    match unsealed(manifest):
        case {"files": [*entries]}:
            listed = dict(filter(None, map(_listed, entries)))
            return listed if len(listed) == len(entries) else None
    return None


def _listed(entry: object) -> tuple[str, str] | None:
    match entry:
        case {"path": str(path), "sha256": str(sha256)} if path.count("/") < DEEPEST:
            return path, sha256
    return None


def bands_used(parts: Iterable[Part]) -> tuple[BandEntry, ...]:
    """Return the bands of the parts, each once, by key."""
    used = {banding.band.key: banding.band for part in parts for banding in part.banding}
    return tuple(BandEntry(band=key, thickness_mm=used[key].thickness_mm) for key in sorted(used))


def sha256_of(content: bytes) -> str:
    """Return the SHA-256 of a file's bytes, in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def _nest(entry: NestEntry) -> dict[str, Any]:
    return asdict(entry) | {"layouts": [_layout(layout) for layout in entry.layouts]}


def _layout(entry: LayoutEntry) -> dict[str, Any]:
    return _shares_as_yield(asdict(entry))


def _shares_as_yield(content: dict[str, Any]) -> dict[str, Any]:
    content["yield"] = content.pop("share_used")  # the word is taken in Python
    return content


def _layers(layers: Sequence[Layer]) -> list[dict[str, Any]]:
    return [asdict(layer) for layer in layers]


def _files(files: Iterable[FileEntry]) -> list[dict[str, Any]]:
    entries = sorted(files, key=lambda entry: entry.path)
    if any(a.path == b.path for a, b in pairwise(entries)):
        raise ValueError("a path stands twice in the manifest")
    return [_file(entry) for entry in entries]


def _file(entry: FileEntry) -> dict[str, Any]:
    content = {"path": entry.path, "role": entry.role, "sha256": entry.sha256}
    about = {
        "part": entry.part,
        "operation": entry.operation,
        "set": entry.set_name,
        "hand": entry.hand,
    }
    if entry.operation is Operation.SECOND:
        about |= {"turned_over": TURNED_OVER, "registration_edge": REGISTRATION_EDGE}
    return content | {key: value for key, value in about.items() if value is not None}

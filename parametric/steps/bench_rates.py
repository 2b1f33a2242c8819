"""How long work at the bench of the shop takes."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchRates:
    """Minutes of work in the shop beside the machine; the defaults are common practice, no source.

    `shop_screw_minutes` are to drive a screw, glue included, `shop_piece_minutes` to lay out, clamp
    and clean a piece that is joined, `shop_edge_minutes` to band and trim an edge.
    """

    shop_screw_minutes: float = 0.5
    shop_piece_minutes: float = 6.0
    shop_edge_minutes: float = 1.0

"""Screws in particleboard and fibreboard: one tested figure carried over to other screws.

Eckelman 1975, Screwholding performance in hardwoods and particleboard, Forest Products Journal 25:
withdrawal from a face grows with the root of the diameter and with (bite - a third of the diameter)
to the power of 5/4 (from memory). What a test of one screw gave is scaled by that, so that neither
the density nor a constant of the formula is needed.
"""

from __future__ import annotations

import math

from parametric.stock.materials import PulledHead, PulledScrew

ECKELMAN = "carried over by Eckelman 1975: sqrt(D) (L - D/3)^1.25 (from memory)"
PULL_THROUGH = "carried over in proportion to head and board under it, as NDS 2018 12.2.5 does for"
PULL_THROUGH += " solid wood (from memory)"
FULL_BOARD = 2.5  # heads: more board than this under one no longer counts, NDS 2018 12.2.5


def withdrawal_n(tested: PulledScrew, diameter_mm: float, bite_mm: float) -> float:
    """Return what pulls a screw out of a face that is so deep in it, by the test of another one."""
    return tested.pull_n * _pull(diameter_mm, bite_mm) / _pull(tested.diameter_mm, tested.bite_mm)


def pull_through_n(tested: PulledHead, diameter_mm: float, board_mm: float) -> float:
    """Return what pulls a head through so much board under it, by the test of another one."""
    shear = _sheared(diameter_mm, board_mm) / _sheared(tested.diameter_mm, tested.board_mm)
    return tested.pull_n * shear


def _pull(diameter_mm: float, bite_mm: float) -> float:
    held_mm = max(0.0, bite_mm - diameter_mm / 3)
    return float(math.sqrt(diameter_mm) * held_mm**1.25)


def _sheared(diameter_mm: float, board_mm: float) -> float:
    return diameter_mm * min(board_mm, FULL_BOARD * diameter_mm)

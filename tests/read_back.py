"""A board as it is read back from its solid, for tests that make solids of their own."""

import cadquery as cq

from parametric.lists.part_catalogue import ReadBoard
from parametric.shapes.board import Board
from parametric.solids.shape_solids import laid_board


def read_board(board: Board, solid: cq.Solid) -> ReadBoard:
    return ReadBoard(board=board, laid=laid_board(board, solid), volume_mm3=solid.Volume())

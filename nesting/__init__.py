"""Rectangles on sheets: pieces, stock, packing, bounds and independent verification.

Part of casewright.
"""

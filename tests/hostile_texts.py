"""Random texts of the kind that breaks displays and tables."""

from hypothesis import strategies as st

_PIECES = (
    "[/red]", "[rev a]", "[bold]", ":smile:", "=1+1", "+", "-2", "@", "\uff1d", "'", "''", "\t",
    "\r", "\n", " ", "\x1b[31m", "\x9b", "\x7f", "\x85", "\u202e", "\u2066", "\u200b", "\u2028",
    "\ufeff", "\U000e0001", "\ud800", "\\", "\\u202e", "\\u005c", "\\U000e0001", "\\Uffffffff",
    "u202e", '"', ",", ";", "&", "<b>", "]]>", "#", "$", "日本", "é", "שלום",
)  # fmt: skip

HOSTILE = st.lists(st.sampled_from(_PIECES) | st.characters(codec=None), max_size=12).map("".join)
"""Texts of pieces that a terminal, a spreadsheet, markup or our own escapes would read as more."""

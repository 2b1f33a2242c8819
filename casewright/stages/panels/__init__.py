"""Panels that other programs drew, read and joined to the cut list."""

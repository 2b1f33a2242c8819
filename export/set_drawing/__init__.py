"""Drawings of a set in one hand: views with sizes from the corner, sections, units taken apart."""

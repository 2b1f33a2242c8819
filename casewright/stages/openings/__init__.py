"""Sizes that openings leave free, and what each costs."""

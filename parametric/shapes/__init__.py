"""A part without a place: board or member, its features, panel, mass and identity."""

"""Lengths read from solids without the kernel's noise."""

# Coordinates are snapped to 1e-6 mm with a small shift, so that the kernel's noise (1e-9 mm) never
# decides on which side of a rounding step a length in whole microns or 1/128 inches falls.
SNAP_DIGITS = 6
SNAP_SHIFT = 3.3e-7


def snap(value: float) -> float:
    """Return the value on the snapping grid, never -0.0."""
    return round(value + SNAP_SHIFT, SNAP_DIGITS) + 0.0

"""Cautions that several papers give."""

from __future__ import annotations

DEFERS = (
    "Local codes, and the people licensed to apply them, decide what is safe in this building;"
    " where they differ from this paper, those rules govern."
)
NO_CERTIFICATE = (
    "Loads and fixings here are an aid, no certificate: a licensed engineer decides what is safe."
)
WALLS = (
    "Find studs, blocking, pipes and cables before drilling or cutting. Leave wiring and pipes to"
    " licensed people."
)

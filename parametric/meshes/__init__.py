"""Triangles of parts, straight from their features, for screens and pictures; no CAD kernel."""

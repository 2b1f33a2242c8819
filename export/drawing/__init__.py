"""Neutral drawings: closed paths, circles and labels on named layers, before any file format."""

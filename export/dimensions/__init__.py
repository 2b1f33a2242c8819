"""Sizes in drawings of parts and of sets: scales, texts, running distances, what has room."""

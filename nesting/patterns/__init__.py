"""Layouts that repeat: column generation, exact rounding, and fewer layouts for little."""

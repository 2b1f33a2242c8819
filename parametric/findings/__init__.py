"""Checks of a set, as data: code, severity, where, measured, limit, unit, source, advice."""

"""Linear and whole-number programs, and the only door to their solver."""

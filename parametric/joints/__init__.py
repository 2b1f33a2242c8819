"""What holds what, stated once in the room, and the machining that follows from it."""

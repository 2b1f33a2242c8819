"""What all papers share: one content model, one look, and the door to the typesetter."""

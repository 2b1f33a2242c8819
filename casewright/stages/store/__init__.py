"""From rooms to what is packed, carried and measured."""

"""Boards and members in recurring arrangements, shared by the unit families."""

"""Steps: the order in which a set goes into its room, from the joints."""

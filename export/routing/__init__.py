"""What cutting a sheet takes, told from the file that the router gets: bits, paths, time."""

"""What is found: layouts and bounds, and checks that share nothing with the search."""

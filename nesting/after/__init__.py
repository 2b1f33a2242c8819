"""What is done with a nest once it is found: offcuts, grouping, order of cutting, risks."""

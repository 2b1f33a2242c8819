"""From nests, times and kits to what a job costs."""

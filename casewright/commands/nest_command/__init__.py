"""The command that nests any list of rectangles, without a job."""

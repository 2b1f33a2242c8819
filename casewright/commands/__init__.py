"""What the single commands do beyond the way of a job."""

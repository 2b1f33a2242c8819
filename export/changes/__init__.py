"""What differs between two outputs of a job, by what it means to those who work from them."""

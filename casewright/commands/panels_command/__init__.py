"""The command that takes flat panels drawn in other programs, without a job."""

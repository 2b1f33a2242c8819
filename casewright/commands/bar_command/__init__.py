"""The command that cuts bars from a list, without a job."""

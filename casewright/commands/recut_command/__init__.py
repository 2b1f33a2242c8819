"""The command that cuts single parts of a job again, on the offcuts at hand."""

"""The way of a job, stage by stage: from sets to the files of its output folder, in memory."""

"""The job: files in, pipeline, output folder, command line."""

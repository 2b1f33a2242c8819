"""Reading a job: its files, located and checked, into the types of the domain."""

"""A function run in child processes, with a time and a memory limit for each job."""

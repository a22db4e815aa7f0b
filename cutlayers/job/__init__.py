"""The job file: read, checked, written."""

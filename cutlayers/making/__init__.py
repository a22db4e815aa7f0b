"""The whole way from a job to its files."""

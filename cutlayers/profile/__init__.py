"""Machine profiles: found, read, checked, edited, carried."""

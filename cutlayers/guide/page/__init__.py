"""The guide as a page: what stands on it, as plain values, and the templates that set it."""

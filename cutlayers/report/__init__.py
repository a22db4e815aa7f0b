"""What was made, as plain values."""

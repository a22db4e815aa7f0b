"""What both user files are read with: values, TOML, messages."""

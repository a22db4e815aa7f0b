"""The box styles, one a file. Each module defines STYLE and is found by its being here."""

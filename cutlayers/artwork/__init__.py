"""Art for the faces of a box: where it comes from, and how it lies on a panel."""

"""Pictures as people see them: sheets as they lie, boxes as they fold, the gallery of styles."""

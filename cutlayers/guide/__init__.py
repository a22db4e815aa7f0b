"""The guide: one page to print and follow, made from the nets and never written per box."""

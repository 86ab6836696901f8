"""Parts: a list of the user's own read from CSV, held against a case point by point; order sheets. Pure."""

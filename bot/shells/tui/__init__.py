"""The conversation on a terminal screen. Thin: nothing here knows the subject; words come from the core."""

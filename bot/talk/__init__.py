"""The conversation: pure. One line in, a new state and replies out."""

"""Causes, findings, chances, the next check: pure, and exact over one cause at a time plus "something else"."""

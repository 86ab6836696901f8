"""Everything that touches keyboard, screen, clock and disk."""

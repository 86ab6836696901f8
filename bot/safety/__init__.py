"""Hazards, the holds derived from them, what supports the nose, and emergencies: pure."""

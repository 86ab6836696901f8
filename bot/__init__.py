"""Legline: troubleshooting for the front legs of fifth-wheel trailers, in a terminal, without a network."""

__version__ = "0.1.0"

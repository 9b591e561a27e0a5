"""Spares: an offline parts and spares inventory for people who run their own vessel."""

__version__ = "0.1.0"

"""Websites of instructions for robotic welding cells: from work orders and approved tables, one for each order."""

__version__ = "0.3.0"

"""Disk to records and back: reading, checking, building, safe writing."""

"""The derived index: building it from entries and asking it; nothing in here is the only copy of anything."""

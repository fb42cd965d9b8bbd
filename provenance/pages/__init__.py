"""An original opened a page at a time: what it is, its text layer, its picture."""

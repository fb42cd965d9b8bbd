"""Records and verdicts made into finished values, and these into JSON answers and plain pages."""

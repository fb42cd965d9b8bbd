"""Open standards in and out: records in the forms that other programs read."""

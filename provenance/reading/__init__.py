"""A page to words with places: by its text layer, by recognition, or as plain text."""

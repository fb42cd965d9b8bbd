"""The pages of an archive in a browser: thin; what they show is what the commands answer."""

"""One module for each thing that a team member does; values in, values out, never a print or a prompt."""

"""What the trade talks about: frozen values, the standard library only."""

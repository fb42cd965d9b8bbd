"""The generator of the sample archive's originals: run by a developer, never by the demo or the tests."""

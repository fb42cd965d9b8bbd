"""Judgement: pure functions on records, no disk, no clock, no settings but those handed in."""

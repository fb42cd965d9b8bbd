"""Leads made for tests, with defaults, so that only what matters shows."""

from typing import Any

from builders import BY, FEATURE, TODAY

from provenance.records.decisions import Lead


def a_lead(lead_id: str = "works-albums", *hoped_for: str, **fields: Any) -> Lead:
    """An open lead of small effort that hopes for the headlamp's type unless features are given."""
    return Lead(
        id=lead_id,
        what=fields.pop("what", lead_id.replace("-", " ").capitalize()),
        by=BY,
        date=TODAY,
        hoped_for=hoped_for or (FEATURE,),
        effort=fields.pop("effort", "small"),
        **fields,
    )

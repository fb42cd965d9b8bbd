"""A feature by what people call it."""

from provenance.records.archive import Archive


def feature_name(about: str, archive: Archive) -> str:
    """A feature by the name of its component and its own, such as `Head lamp: Bore`.

    Args:
        about: `component/feature`.
        archive: where the names are.

    Returns:
        What was given, where there is no such feature.
    """
    if about not in archive.features:
        return about
    return f"{archive.components[about.partition('/')[0]].name}: {archive.features[about].name}"

"""What is a recording, and what writes down what is said on one, by media type."""

WEBVTT = "text/vtt"
"""WebVTT: The Web Video Text Tracks Format (W3C); registered with IANA."""

SUBRIP = "application/x-subrip"
"""SubRip: no standard and no registered type; both are common practice."""

TIMED_TYPES = frozenset({WEBVTT, SUBRIP})
"""Texts whose words have times."""

_RECORDED = ("audio/", "video/")
_OGG = "application/ogg"


def is_recording(media_type: str) -> bool:
    """Whether a file is sound or moving pictures: kept as it is, without pages, cited by `time`.

    Ogg is a container of sound or film, and is one of them whatever it holds (RFC 5334).
    """
    return media_type.startswith(_RECORDED) or media_type == _OGG

import pytest

from provenance.records.recordings import SUBRIP, WEBVTT, is_recording


@pytest.mark.parametrize("media_type", ["audio/mpeg", "audio/vnd.wave", "video/quicktime", "application/ogg"])
def test_sound_and_film_are_recordings(media_type: str) -> None:
    assert is_recording(media_type)


@pytest.mark.parametrize(
    "media_type", ["application/pdf", "image/png", "text/plain", WEBVTT, SUBRIP, "application/zip"]
)
def test_what_is_written_or_drawn_is_none(media_type: str) -> None:
    assert not is_recording(media_type)

import pytest

from provenance.errors import ToolMissingError
from provenance.reading.languages import data_names

INSTALLED = ("chi_tra", "deu", "eng", "frk", "osd", "xyz")


@pytest.mark.parametrize(
    ("languages", "names"),
    [
        ((), ("eng",)),
        (("en",), ("eng",)),
        (("en-GB",), ("eng",)),
        (("EN-gb", "de-AT"), ("eng", "deu")),
        (("de", "en"), ("deu", "eng")),
        (("de-Latf",), ("frk",)),
        (("de-Latf-DE",), ("frk",)),
        (("zh-Hant-TW",), ("chi_tra",)),
        (("en", "en-US"), ("eng",)),
        (("xyz",), ("xyz",)),
    ],
)
def test_tags_of_languages_name_the_recognisers_data(languages: tuple[str, ...], names: tuple[str, ...]) -> None:
    assert data_names(languages, INSTALLED) == names


def test_a_language_whose_data_are_not_installed_names_what_to_install() -> None:
    with pytest.raises(ToolMissingError) as caught:
        data_names(("zh-Hans",), INSTALLED)

    assert "`zh-Hans` are not installed" in caught.value.what
    assert "apt-get install tesseract-ocr-chi-sim;" in caught.value.mend
    assert "brew install" in caught.value.mend


def test_a_tag_that_is_no_language_shows_how_to_write_one() -> None:
    with pytest.raises(ToolMissingError, match="no data are known to recognise the language `english`") as caught:
        data_names(("english",), INSTALLED)

    assert "such as `en` or `de`" in caught.value.mend
    assert "chi_tra, deu, eng" in caught.value.mend

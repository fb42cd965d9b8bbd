"""Languages: from BCP 47 tags, which records carry, to the names of Tesseract's data."""

from provenance.errors import ToolMissingError

DEFAULT_LANGUAGES = ("en",)
"""What the recogniser is told when nobody says anything."""

_DATA_NAMES = {
    "af": "afr", "ar": "ara", "be": "bel", "bg": "bul", "br": "bre", "bs": "bos", "ca": "cat", "cs": "ces",
    "cy": "cym", "da": "dan", "de": "deu", "de-latf": "frk", "el": "ell", "en": "eng", "eo": "epo", "es": "spa",
    "et": "est", "eu": "eus", "fa": "fas", "fi": "fin", "fr": "fra", "ga": "gle", "gd": "gla", "gl": "glg",
    "he": "heb", "hi": "hin", "hr": "hrv", "hu": "hun", "hy": "hye", "id": "ind", "is": "isl", "it": "ita",
    "ja": "jpn", "ka": "kat", "ko": "kor", "la": "lat", "lb": "ltz", "lt": "lit", "lv": "lav", "mk": "mkd",
    "mt": "mlt", "nb": "nor", "nl": "nld", "nn": "nor", "no": "nor", "pl": "pol", "pt": "por", "ro": "ron",
    "ru": "rus", "sk": "slk", "sl": "slv", "sq": "sqi", "sr": "srp", "sr-latn": "srp_latn", "sv": "swe",
    "th": "tha", "tr": "tur", "uk": "ukr", "vi": "vie", "yi": "yid", "zh": "chi_sim", "zh-hans": "chi_sim",
    "zh-hant": "chi_tra",
}  # fmt: skip  # one line a language would be sixty lines


def data_names(languages: tuple[str, ...], installed: tuple[str, ...]) -> tuple[str, ...]:
    """Name the recogniser's data for languages, in their order.

    A tag is looked up whole, then without its last parts (`en-GB` is `en`); a three-letter tag that names installed
    data stands for itself.

    Args:
        languages: BCP 47 tags; empty for `DEFAULT_LANGUAGES`.
        installed: the data that this machine has.

    Raises:
        ToolMissingError: a language that is unknown, or whose data are not installed.
    """
    names = [_data_name(tag, installed) for tag in languages or DEFAULT_LANGUAGES]
    return tuple(dict.fromkeys(names))


def _data_name(tag: str, installed: tuple[str, ...]) -> str:
    parts = tag.lower().split("-")
    shorter = ("-".join(parts[:length]) for length in range(len(parts), 0, -1))
    name = next((_DATA_NAMES[known] for known in shorter if known in _DATA_NAMES), parts[0])
    if name in installed:
        return name
    if name == parts[0]:
        raise ToolMissingError(
            f"no data are known to recognise the language `{tag}`",
            f"write a BCP 47 tag such as `en` or `de`; installed: {', '.join(installed) or 'none'}",
        )
    packaged = name.replace("_", "-")
    raise ToolMissingError(
        f"the recogniser's data for the language `{tag}` are not installed",
        f"Debian, Ubuntu: apt-get install tesseract-ocr-{packaged}; Fedora: dnf install tesseract-langpack-{name}; "
        "macOS: brew install tesseract-lang",
    )

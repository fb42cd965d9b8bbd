import pytest

from provenance.pages.layer_health import covers_page, is_healthy
from provenance.records.readings import Box, Word

SOUND = (
    "The lamp bracket is bolted to the headstock with four studs of 10 mm, as drawing H-204 of the works shows it. "
    "Each stud was painted black before it left the shop, and the nuts were drilled for a split pin."
)


def words_of(text: str, y: float = 50) -> list[Word]:
    return [Word(word, 1, Box(10, y, 5, 2)) for word in text.split()]


@pytest.mark.parametrize(
    "text",
    [
        SOUND,
        "Der Lampenträger ist mit vier Stiftschrauben am Kopfstück befestigt, wie Zeichnung 204 zeigt; Größe 10 mm.",
        "Le support du fanal est fixé à la traverse par quatre goujons de 10 mm, comme le montre le dessin 204.",
        "Y mae braced y lamp wedi ei folltio i'r trawst gyda phedair styden 10 mm, fel y dengys llun rhif 204.",
        "Lyhdyn kannatin on pultattu puskinpalkkiin neljällä 10 mm pinnapultilla, kuten piirustus 204 osoittaa.",
        "Wspornik latarni jest przykręcony do czołownicy czterema śrubami 10 mm, jak pokazuje rysunek nr 204.",
        "Кронштейн фонаря крепится к буферному брусу четырьмя шпильками диаметром 10 мм по чертежу завода номер 204.",  # noqa: RUF001  # Cyrillic is meant
        "Ο βραχίονας του φανού είναι βιδωμένος στη δοκό με τέσσερις κοχλίες των 10 χιλιοστών όπως στο σχέδιο.",  # noqa: RUF001  # Greek is meant
        "H-204 1 H-205/2 12 3'-4½\" 16 SWG 2 BA 1/4 BSF Ø10 4.490 30921 B.S.F. M.S. C.I. 1:8 No. 4 2x ±0.5 45°",
        "Item Qty Drg. No. Material 1 4 H-204 M.S. 2 8 H-205 C.I. 3 1 H-210 ash 4 2 H-211 oak 5 16 H-300 brass",
        "Contents 1 The frame .............................. 3 2 The lamps . . . . . . . . . . 17 Index ___________ 40",
        "DRG. H-204",
        "7",
    ],
)
def test_language_and_numbers_are_a_sound_layer(text: str) -> None:
    assert is_healthy(words_of(text))


@pytest.mark.parametrize(
    "text",
    [
        "",
        "........ ___",
        "(cid:36)(cid:81) (cid:82)(cid:79)(cid:71)",
        SOUND.replace("e", "\ufffd"),
        "".join(chr(0xE000 + ord(letter)) if letter.isalpha() else letter for letter in SOUND),
        "".join(chr(ord(letter) + 3) if letter.isalpha() else letter for letter in SOUND.lower()),
        "".join(chr(ord(letter) - 29) if letter.isalpha() else letter for letter in SOUND),
        "~;:.. ,_-' ^^ «» ;;.. || '`~ ..,, ^* =- __ ;; .. :: '' ,, ~~ !! ?? ..",
        "t~e l^mp br@ck<t i$ b0|t{d t¢ th} he#dst*ck w]th f©ur st¬ds o% t&n a\\d dr/w>ng n+mb=r",
    ],
)
def test_rubbish_is_no_sound_layer(text: str) -> None:
    assert not is_healthy(words_of(text))


def test_a_stamp_on_a_scanned_page_does_not_say_what_the_page_says() -> None:
    footer = words_of(
        "Scanned at the county record office on 3 March 2021, reference RO/44/7, page 12 of 400, " * 3, y=97
    )
    stamp = words_of("COPY FOR RESEARCH ONLY")

    assert not covers_page([*stamp, *footer], picture_share=1.0)


def test_a_searchable_scan_says_what_the_page_says() -> None:
    assert covers_page(words_of(SOUND), picture_share=1.0)


def test_a_heading_on_a_page_without_pictures_is_the_page() -> None:
    assert covers_page(words_of("Part II"), picture_share=0.0)


def test_a_page_of_text_with_a_small_plate_is_read_by_its_text() -> None:
    assert covers_page(words_of("Plate 4. The lamp bracket."), picture_share=0.49)

from pathlib import Path

from pages.made_originals import LINES, canvas, write_lines

from provenance.pages.text_layer import text_layer


def words(path: Path) -> list[str]:
    return [word.text for word in text_layer(path, 1)]


def test_letters_printed_twice_to_look_bold_are_read_once(tmp_path: Path) -> None:
    path = tmp_path / "bold.pdf"
    sheet = canvas(path)
    write_lines(sheet, left=60)
    write_lines(sheet, left=60.4)
    sheet.save()

    assert words(path) == " ".join(LINES).split()


def test_small_print_whose_spaces_are_only_gaps_is_still_parted_into_words(tmp_path: Path) -> None:
    path = tmp_path / "small.pdf"
    sheet = canvas(path)
    sheet.setFont("Helvetica", 6)
    place = 60.0
    for word in LINES[0].split():
        sheet.drawString(place, 700, word)
        place += sheet.stringWidth(word, "Helvetica", 6) + 1.6  # about the width of a space in 6 points
    sheet.save()

    assert words(path) == LINES[0].split()


def test_a_double_letter_of_narrow_type_stays_double(tmp_path: Path) -> None:
    path = tmp_path / "narrow.pdf"
    sheet = canvas(path)
    sheet.setFont("Helvetica", 4)
    sheet.drawString(60, 700, "bulb till illness")
    sheet.save()

    assert words(path) == ["bulb", "till", "illness"]


def test_text_within_a_form_is_text_of_the_page(tmp_path: Path) -> None:
    path = tmp_path / "form.pdf"
    sheet = canvas(path)
    sheet.beginForm("block")
    sheet.drawString(0, 0, "Drawing H-204")
    sheet.endForm()
    sheet.translate(100, 200)
    sheet.doForm("block")
    sheet.save()

    read = text_layer(path, 1)

    assert [word.text for word in read] == ["Drawing", "H-204"]
    assert read[0].box is not None
    assert abs(read[0].box.x - 100 / 5.95) < 0.1

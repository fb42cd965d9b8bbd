from builders import FEATURE, a_claim, an_archive

from provenance.rules.grades import Category
from provenance.rules.judging import judge_feature


def test_every_category_has_the_words_that_people_read() -> None:
    assert [category.words for category in Category] == [
        "this machine",
        "said of a group with it",
        "a sister of its batch",
        "another of the type",
        "a related type",
        "another time",
        "not known which machine",
    ]


def test_an_item_says_in_one_line_what_was_made_of_it() -> None:
    verdict = judge_feature(an_archive(a_claim("acetylene", "drawing")), FEATURE)

    item = verdict.candidates[0].items[0]
    assert (item.why, item.quote, item.at.page) == ("Speaks of this machine alone.", None, None)

import pickle

from provenance.records.dates import EdtfError
from provenance.records.wording import WordingError, fold_wording, quote


def test_a_quoted_text_stays_on_one_line() -> None:
    assert quote("1934\n\x1b[31m") == "`1934\\n\\x1b[31m`"


def test_the_end_of_a_long_text_is_left_out() -> None:
    assert quote("9" * 60) == "`" + "9" * 60 + "`"
    assert quote("9" * 61) == "`" + "9" * 60 + "…`"


def test_a_fault_in_wording_goes_between_processes_with_its_mend() -> None:
    fault = EdtfError("`x` is no date", "write `1934`")

    arrived = pickle.loads(pickle.dumps(fault))

    assert isinstance(arrived, WordingError)
    assert (str(arrived), arrived.what, arrived.mend) == ("`x` is no date", "`x` is no date", "write `1934`")


def test_wordings_that_differ_in_case_space_and_unicode_form_are_one() -> None:
    # U+FB02 is the ligature fl, which NFKC takes apart (Unicode Standard Annex 15; from memory)
    assert fold_wording("  Mild\u00a0 STEEL,\n\ufb02at ") == "mild steel, flat"
    assert fold_wording("mild steel") != fold_wording("mild-steel")

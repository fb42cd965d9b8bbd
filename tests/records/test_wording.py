import pickle

from provenance.records.dates import EdtfError
from provenance.records.wording import WordingError, quote


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

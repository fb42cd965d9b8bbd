from provenance.rules.findings import Findings


def test_what_was_not_looked_for_is_said() -> None:
    assert Findings().not_looked_for == (
        "Pages that could not be read were not looked for.",
        "Recordings without a transcript were not looked for.",
        "Words read doubtfully were not looked for.",
        "Files that are not as they were received were not looked for.",
    )


def test_what_was_looked_for_and_not_found_is_not_said_to_be_missing() -> None:
    assert Findings(unread=(), untranscribed=(), doubtful=(), fixity=()).not_looked_for == ()

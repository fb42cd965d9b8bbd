"""The answer of `signs`: what to look for in a picture, to tell the options of a choice apart."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from provenance.records.kinds import Expected, SignSeen
from provenance.reports.cautioned import caution_lines, cautions_json
from provenance.reports.evidence_json import place_json
from provenance.reports.evidence_text import place_words
from provenance.reports.layout import counted, paragraph
from provenance.reports.standing import Standing
from provenance.rules.cautions import StandingCaution
from provenance.rules.looking_list import Expectation, LookingList, Outcome, Report, SignToLookFor
from provenance.rules.pictures_to_look_at import PictureToLookAt
from provenance.rules.sentences import chance_in_words

_MARGIN = "  "
_SHOWN = 20
_SEEN_WORDS = {
    SignSeen.SEEN: "it is seen",
    SignSeen.NOT_SEEN: "its place is in view and it is not there",
    SignSeen.OUT_OF_VIEW: "its place is out of view",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SignsAnswer:
    """What to look for, and in which pictures.

    Attributes:
        looking: the looking list.
        titles: of the sources named in it, by id.
        no_signs: what to do first where no option lists a sign; else empty.
        cautions: of the component.
    """

    standing: Standing
    looking: LookingList
    titles: Mapping[str, str]
    no_signs: str = ""
    cautions: tuple[StandingCaution, ...] = ()


def signs_json(answer: SignsAnswer) -> dict[str, object]:
    """The JSON answer `signs`."""
    looking = answer.looking
    decides = looking.decides_most
    return {
        **answer.standing.as_json("signs"),
        "cautions": cautions_json(answer.cautions),
        "feature": looking.feature,
        "name": looking.asked.name,
        "options": [{"option": option.id, "name": option.name, "chance": chance} for option, chance in looking.chances],
        "chances_known": looking.is_known,
        "signs": [_sign_json(sign) for sign in looking.signs],
        "decides_most": decides.id if decides else None,
        "pictures": [
            {
                "source": each.source,
                "title": each.title,
                "applies": each.nearness.value,
                "shows": each.shows,
                "tagged": each.is_tagged,
            }
            for each in looking.pictures
        ],
        "said": answer.no_signs,
    }


def _sign_json(sign: SignToLookFor) -> dict[str, object]:
    return {
        "sign": sign.id,
        "name": sign.name,
        "bits": sign.bits,
        "options": [
            {
                "option": each.option.id,
                "expect": (each.expect or Expected.SOMETIMES).value,
                "listed": each.expect is not None,
                "sources": list(each.sources),
            }
            for each in sign.speaks
        ],
        "if_seen": _outcome_json(sign.if_seen),
        "if_not_seen": _outcome_json(sign.if_not_seen),
        "reported": [
            {
                "claim": each.claim,
                "feature": each.about,
                "source": each.source,
                "at": place_json(each.at),
                "seen": each.seen.value,
            }
            for each in sign.reports
        ],
    }


def _outcome_json(outcome: Outcome) -> dict[str, object]:
    return {
        "chance": outcome.chance,
        "option": outcome.leads.id if outcome.leads else None,
        "posterior": outcome.leads_with,
    }


def signs_text(answer: SignsAnswer, width: int) -> str:
    """The page that people read: a list to hold beside a photograph."""
    looking = answer.looking
    lines = [*answer.standing.as_lines(width), *caution_lines(answer.cautions, width)]
    lines += paragraph(f"{looking.asked.name} ({looking.feature})", width)
    if answer.no_signs:
        return "\n".join([*lines, *paragraph(answer.no_signs, width)])
    lines += [*paragraph(as_it_stands(looking), width), ""]
    for number, sign in enumerate(looking.signs, 1):
        lines += [*_sign_lines(answer, number, sign, width), ""]
    for sentence in _in_the_end(looking):
        lines += paragraph(sentence, width)
    return "\n".join([*lines, "", *_picture_lines(looking.pictures, width)])


def as_it_stands(looking: LookingList) -> str:
    """The chances of the options at present, in a sentence."""
    if not looking.is_known:
        names = ", ".join(option.name for option, _ in looking.chances)
        return f"Nothing that we hold speaks for any option yet, so all count as equally likely: {names}."
    chances = "; ".join(f"{option.name}, {chance_in_words(chance)}" for option, chance in looking.chances)
    return f"As it stands: {chances}."


def _sign_lines(answer: SignsAnswer, number: int, sign: SignToLookFor, width: int) -> Iterator[str]:
    yield from paragraph(f"{number}. {sign.name} ({sign.id}): would tell {sign.bits:.2f} bits", width, hang="   ")
    for text in sign_texts(answer, sign):
        yield from paragraph(text, width, indent="   ", hang="     ")


def sign_texts(answer: SignsAnswer, sign: SignToLookFor) -> tuple[str, ...]:
    """What is to be known of a sign: what each option shows, what either answer would mean, what was reported."""
    return (
        *(_expectation(answer, each) for each in sign.speaks),
        f"if it is seen: {_then(sign.if_seen)}",
        f"if its place is in view and it is not there: {_then(sign.if_not_seen)}",
        *(_reported(answer, each) for each in sign.reports),
    )


def _expectation(answer: SignsAnswer, each: Expectation) -> str:
    if each.expect is None:
        return f"{each.option.name}: sometimes, since nothing is written down"
    by = " and ".join(f"“{answer.titles[source]}” ({source})" for source in each.sources)
    return f"{each.option.name}: {each.expect}, {f'by {by}' if by else 'and nobody is named who says so'}"


def _then(outcome: Outcome) -> str:
    chance = chance_in_words(outcome.leads_with)
    return f"{outcome.leads.name} leads, with {chance}" if outcome.leads else f"no option leads alone ({chance} each)"


def _reported(answer: SignsAnswer, report: Report) -> str:
    place = place_words(report.at)
    where = f"in “{answer.titles[report.source]}” ({report.source}{f', {place}' if place else ''})"
    elsewhere = (
        "" if report.about == answer.looking.feature else f"; entered for {report.about}, so it counts only there"
    )
    return f"looked for already: {where} {_SEEN_WORDS[report.seen]} (claim {report.claim}{elsewhere})"


def _in_the_end(looking: LookingList) -> Iterator[str]:
    first = looking.decides_most
    if first is None:
        yield "None of these signs would change what is thought now."
    elif len(looking.signs) > 1:
        yield f"The one that would decide most is {first.name} ({first.id})."
    yield (
        "A bit is a measure of doubt: one bit halves it, as the answer to one question between two equally likely "
        "options does; none tells nothing. It is reckoned for a clear picture of this very machine; one of another "
        "machine tells less."
    )
    sign = looking.signs[0].id
    yield (
        f"Enter what you see with `provenance claim {looking.feature} VALUE --source ID --sign {sign}=seen` (or "
        "`=not-seen` where its place is in view, `=out-of-view` where it is not); VALUE is what the picture speaks for."
    )


def _picture_lines(pictures: tuple[PictureToLookAt, ...], width: int) -> Iterator[str]:
    if not pictures:
        yield from paragraph(
            "No photograph or film is left in which to look: in each that is tagged for this part, or shows a machine, "
            "some sign has been reported.",
            width,
        )
        return
    many = counted(len(pictures), "photograph or film", "photographs and films").capitalize()
    yield from paragraph(f"{many} in which nobody has looked for these signs yet:", width)
    for each in pictures[:_SHOWN]:
        known = [text for text in (each.shows, "tagged for this part" if each.is_tagged else "") if text]
        yield from paragraph(f"“{each.title}” ({each.source}): {'; '.join(known)}", width, indent=_MARGIN, hang="    ")
    if len(pictures) > _SHOWN:
        yield from paragraph(f"and {len(pictures) - _SHOWN} more (`--json` names them all)", width, indent=_MARGIN)

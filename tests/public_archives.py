"""An archive that holds something back: canary words stand in every field of what is withheld."""

from dataclasses import fields, is_dataclass, replace
from typing import Any

from builders import BY, a_claim, a_component, a_date, a_feature, a_source, an_archive, an_item, seen_on

from provenance.records.archive import Archive, Caution, Event, RelatedType, Subject
from provenance.records.claims import At
from provenance.records.components import Sign
from provenance.records.dates import Day
from provenance.records.decisions import Decision, MadeDrawing, ModernChange, Panel, SetAside, Statement
from provenance.records.kinds import Access, Publish
from provenance.records.sources import Acquired, Loan, OriginalFile, Permission, Rights, Source

DAY = Day(2026, 11, 25)
CLEARED = Rights(statement="CNE", credit="Orrin Library", publish=Publish.ALLOWED)

TEAM, CLOSED = "zzteam", "zzclosed"


def canary(kind: str, field: str) -> str:
    """A word that stands in one field alone, and nowhere in any language."""
    return f"{kind}{field}qx"


def an_open_source(source_id: str, kind: str | None = "photograph", **changed: Any) -> Source:
    """A source that may be shown and is cleared."""
    return a_source(source_id, kind, **{"access": Access.OPEN, "rights": CLEARED, **changed})


def a_withheld_source(kind: str, access: Access) -> Source:
    """A source with a canary in every field that holds text."""

    def word(field: str) -> str:
        return canary(kind, field)

    file = OriginalFile(
        path=f"originals/{kind}-id/{word('file')}.jpg",
        received_as=f"{word('received')}.jpg",
        sha256="0" * 64,
        size=1,
        media_type="image/jpeg",
    )
    rights = Rights(
        holder=word("rightsholder"),
        credit=word("credit"),
        publish=Publish.ALLOWED,
        permission=Permission(giver=word("permitter"), scope=("panel",), file=word("permit")),
    )
    return a_source(
        f"{kind}-id",
        "photograph",
        title=f"{word('title')} leaf",
        creator=word("creator"),
        holder=word("holder"),
        place=word("place"),
        reference=word("reference"),
        occasion=word("occasion"),
        files=(file,),
        acquired=(Acquired(giver=word("donor"), note=word("acquirednote"), received_as=f"{word('as')}.jpg"),),
        loan=Loan(owner=word("owner")),
        reliability_why=word("why"),
        rights=rights,
        access=access,
        note=word("note"),
    )


def an_archive_that_holds_back(**changed: Any) -> Archive:
    """The head lamp is seen on No. 9 in an open photograph, in one of the team's, and in a closed one.

    Free texts of the team (a decision's reason, a note, the panel's neighbour) speak of what is withheld.
    """
    given = Acquired(giver="opendonorqx", note="opengivennoteqx")
    open_photo = an_open_source("open-photo", created="1934-05", acquired=(given,), note="opennoteqx")
    team, closed = a_withheld_source(TEAM, Access.TEAM), a_withheld_source(CLOSED, Access.CLOSED)
    told = {
        each: an_item(
            f"{each}-id",
            "shows",
            seen=replace(seen_on("9", "1934-05"), why=canary(each, "seenwhy")),
            at=At(page=1, page_label=canary(each, "label"), who=canary(each, "speaker")),
            quote=canary(each, "quote"),
            note=canary(each, "itemnote"),
        )
        for each in (TEAM, CLOSED)
    }
    shown = an_item(
        "open-photo",
        "shows",
        seen=replace(seen_on("9", "1934-05"), why="openseenwhyqx"),
        page=1,
        quote=f"From {canary(TEAM, 'title')} leaf.",
        note="openitemnoteqx",
    )
    electric = replace(
        a_claim("electric", shown, told[TEAM], told[CLOSED]),
        reasoning=f"{canary(TEAM, 'reasoning')} and {canary(CLOSED, 'reasoning')}",
        note=canary(TEAM, "claimnote"),
    )
    finish = "headlamp/finish"
    own_values = [a_claim(canary(each, "value"), told[each], about=finish) for each in (TEAM, CLOSED)]
    decision = Decision(
        id="build-it",
        about="headlamp/type",
        status="released",
        build="electric",
        by=BY,
        date=a_date("2026-01-05"),
        basis=tuple(claim.id for claim in (electric, *own_values)),
        why=f"As {canary(TEAM, 'title')} leaf and {canary(CLOSED, 'creator')} show, in zzteam-id.",
        note=canary(CLOSED, "decisionnote"),
    )
    panel = Panel(
        id="lamp",
        title="How it was lit",
        by=BY,
        date=a_date("2026-01-05"),
        statements=(
            Statement(text="No. 9 had electric lamps.", features=("headlamp/type",)),
            Statement(text="They were finished so.", features=(finish,)),
        ),
        components=("headlamp",),
        note=canary(TEAM, "panelnote"),
    )
    parts = a_component(
        "headlamp", a_feature(), a_feature("finish", "text", "finish", name="Finish", note="featurenoteqx")
    )
    archive = an_archive(open_photo, team, closed, electric, *own_values, replace(parts, note="teamnoteqx"))
    return replace(
        archive,
        subject=Subject(name="Velling petrol railcar", claims_to_be="reproduction"),
        decisions={decision.id: decision},
        panels={panel.id: panel},
        **changed,
    )


def with_names_that_tell(archive: Archive, told: str) -> Archive:
    """The same archive with a word in every name and every free text that the team gave to its machine and parts."""
    part = archive.components["headlamp"]
    kind, *others = (
        replace(each, name=f"{each.name} {told}", datum=f"edge of {told}", note=None) for each in part.features
    )
    options = tuple(replace(each, name=f"{each.name} {told}", also=(f"lamp of {told}",)) for each in kind.options)
    part = replace(
        part,
        name=f"Lamp of {told}",
        references=(f"{told} 12",),
        also_called=(f"{told}'s lamp",),
        signs=(Sign(id="glow", name=f"glow as {told} saw it"),),
        features=(replace(kind, options=options), *others),
    )
    (decision,) = archive.decisions.values()
    decision = replace(
        decision,
        build=f"electric {told}",
        set_aside=(SetAside(claim=decision.basis[0], why=f"{told} erred"),),
        tolerance=f"as {told} says",
        drawings=(MadeDrawing(number=f"{told} 4", issue=f"of {told}"),),
        stamp=f"{told} 9",
        modern_change=ModernChange(reason="safety", note=f"{told} asked"),
    )
    panels = {
        each: replace(
            panel, title=f"{panel.title}, by {told}", statements=(*panel.statements, Statement(text=f"So says {told}."))
        )
        for each, panel in archive.panels.items()
    }
    photo = replace(
        archive.sources["open-photo"],
        title=f"Lamp of {told}",
        occasion=f"visit of {told}",
        holder=f"Library of {told}",
        reference=f"{told} 7",
        rights=replace(CLEARED, credit=f"gift of {told}"),
    )
    target = archive.target and replace(archive.target, why=f"{told} shows it")
    return replace(
        archive,
        title=f"Gift of {told}",
        target=target,
        sources={**archive.sources, photo.id: photo},
        subject=Subject(name=f"Car of {told}", kind=f"{told}'s kind", claims_to_be="reproduction"),
        related=(RelatedType(name=f"Trailer of {told}"),),
        events=(Event(example="9", date=a_date("1933"), what=f"seen by {told}"),),
        cautions=(Caution(hazard="gas", text=f"{told} was hurt", consult=f"{told}", jurisdiction=f"land of {told}"),),
        components={part.id: part},
        decisions={decision.id: decision},
        panels=panels,
    )


_FIELDS = (
    "title creator holder place reference occasion file received rightsholder credit permitter permit donor "
    "acquirednote as owner why note seenwhy label speaker quote itemnote reasoning value"
)
CANARIES = frozenset(
    {canary(kind, field) for kind in (TEAM, CLOSED) for field in _FIELDS.split()}
    | {"zzteam-id", "zzclosed-id", "zzteamclaimnoteqx", "zzteampanelnoteqx", "zzcloseddecisionnoteqx"}
    | {"opendonorqx", "opengivennoteqx", "opennoteqx", "openseenwhyqx", "openitemnoteqx", "featurenoteqx", "teamnoteqx"}
)
"""Every word that must never be seen outside the team."""


def texts_in(value: object) -> set[str]:
    """Every text in a value, however deep it stands."""
    if isinstance(value, str):
        return {value}
    if isinstance(value, dict):
        return {text for pair in value.items() for each in pair for text in texts_in(each)}
    if isinstance(value, (tuple, list, set, frozenset)):
        return {text for each in value for text in texts_in(each)}
    if is_dataclass(value):
        return {text for field in fields(value) for text in texts_in(getattr(value, field.name))}
    return set()


def leaked(texts: set[str]) -> set[str]:
    """The canaries that stand in some texts, whatever their case."""
    whole = "\n".join(texts).casefold()
    return {word for word in CANARIES if word.casefold() in whole}

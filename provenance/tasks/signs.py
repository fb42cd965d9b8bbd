"""What is to be looked for in a picture, to tell the options of a feature apart?"""

from provenance.errors import UsageRefusedError
from provenance.records.components import Component
from provenance.records.kinds import FeatureKind
from provenance.reports.signs import SignsAnswer
from provenance.rules.cautions import cautions_for
from provenance.rules.judging import judge_feature
from provenance.rules.looking_list import looking_list
from provenance.rules.verdicts import Verdict
from provenance.tasks.evidence import features_at
from provenance.tasks.opening import Opened


def signs_for(opened: Opened, feature: str) -> SignsAnswer:
    """Make the list of signs to look for in a picture, and of the pictures in which nobody has looked yet.

    Args:
        opened: the archive.
        feature: `component/feature`.

    Raises:
        UnknownRecordError: no such component or feature.
        UsageRefusedError: a component was named alone, or the feature is no choice between options.
    """
    archive = opened.archive
    own = features_at(archive, feature)
    if "/" not in feature:
        choices = [each for each in own if archive.features[each].kind is FeatureKind.CHOICE]
        raise UsageRefusedError(
            f"`{feature}` is a component, and signs tell the options of one feature apart",
            f"name one of its choices: {', '.join(choices)}" if choices else "it has no feature of the kind choice yet",
        )
    asked = archive.features[feature]
    if asked.kind is not FeatureKind.CHOICE:
        raise UsageRefusedError(
            f"`{feature}` is a {asked.kind}, and only the options of a choice are told apart by signs",
            f"see what it rests on with `provenance evidence {feature}`",
        )
    return signs_by(opened, judge_feature(archive, feature))


def signs_by(opened: Opened, verdict: Verdict) -> SignsAnswer:
    """Make the list by a verdict that is at hand.

    Args:
        opened: the archive.
        verdict: on a choice of it.
    """
    archive, feature = opened.archive, verdict.feature
    looking = looking_list(archive, verdict)
    component = archive.components[verdict.component]
    named = {
        *(each.source for sign in looking.signs for each in sign.reports),
        *(source for sign in looking.signs for each in sign.speaks for source in each.sources),
    }
    return SignsAnswer(
        standing=opened.standing,
        looking=looking,
        titles={each: archive.sources[each].title for each in sorted(named)},
        no_signs="" if looking.signs else _how_to_add(component, feature),
        cautions=cautions_for(archive, component.hazards),
    )


def _how_to_add(component: Component, feature: str) -> str:
    file = f"components/{component.id}.yaml"
    defined = ", ".join(sign.id for sign in component.signs)
    if defined:
        first = f"The signs of {component.id} are {defined}"
    else:
        first = f"Define one in {file}, such as `signs: [{{id: conduit, name: a conduit along the cantrail}}]`"
    return (
        f"No option of {feature} says which signs it shows, so there is nothing to look for yet. {first}; under each "
        f"option of the feature in {file} write how often it shows it, and who says so, such as `signs: "
        f"[{{sign: {component.signs[0].id if defined else 'conduit'}, expect: always, source: ID}}]` (or `never`, or "
        "`sometimes`)."
    )

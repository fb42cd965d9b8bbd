"""Cases of judgement worked by hand, with the rules of judgement that each file holds.

What an item says about the machine represented
    test_sightings: by number, caption, likeness; sisters, other batches, related types; five years; events in between;
        told by a sign of the very feature; what the source's own entry says; the period of a claim beside a sighting;
        groups of machines.
    test_issues: periods that exclude the day, and that only possibly do; the day of building and the day represented;
        replaced issues, their copies, and what only cites them; an item that covers other machines than its claim.
    test_parts: the part itself; interchangeable parts, with the source that says so, for pieces and for statements.
The weight of an item
    test_ladder: points by kind; sources that nobody has tagged.
    test_parts: reliability. test_memory: late memory, legibility, implied, analogy, recollected dimensions.
    test_designs: unbuilt designs. test_sightings: what a source cannot show; five photographs of other batches.
    test_published: decibans and total probability against published examples.
Independence
    test_copies: unnamed origins, one lost ledger, citations, translations, albums, occasions, one author, open and
        ruled pairs, `via`, the weightiest set (exact, by worth to this machine, the larger of equals), points added by
        category, no common source, withdrawal and leaving out.
    test_memory: one man's letter and tape; who speaks at the place.
Value and grade
    test_ladder: no evidence, rivals, comparison. test_designs: probable as designed, established when seen as built.
    test_memory: possible. test_parts: contested, settled by a decision; the part itself on one line.
    test_presence_and_wording: presence, choices, texts, broken readings, items against, equal chances.
    test_own_weights: every threshold and factor that a team may change.
Changes
    test_change_cases: over the order of production, and in service by days; when none is computed; values that never
        stood together.
Signs
    test_signs_cases: one, two and three signs; two and three options; ties; at most the picture's own weight; descent.
Figures
    test_measure_cases: nominal and measured, unsound pieces, means, disagreement, clusters, how closely needed.
Flags
    single-source, no-evidence, contested, inferred-only, other-example-only, circular-identification, no-datum,
    measurements-disagree, not-known-closely-enough, never-coexisted: with the cases above. test_decided:
    conjecture-undeclared, built-on-thin-evidence, decision-overtaken. The other flags are no matter of judgement.
"""

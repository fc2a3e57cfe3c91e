"""All that a dossier says about time, as one network and the statements it is made of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from guardbook.binding.dossier import Dossier
from guardbook.evidence.dates_told import dates_told
from guardbook.evidence.dating_rules import DatingRule, dating_rules
from guardbook.evidence.meetings import meetings
from guardbook.evidence.network import Bound, Network
from guardbook.evidence.situations import Gathered, Situation
from guardbook.evidence.statements import Statement
from guardbook.wording import _


@dataclass(frozen=True)
class Said:
    """A network of times and its statements by their keys.

    `laws` are the statements that cannot be otherwise; `as_a_rule` are bounds that hold as a rule only, and
    are not in the network.
    """

    network: Network
    statements: Mapping[str, Statement]
    gathered: Gathered
    laws: frozenset[str] = frozenset()
    as_a_rule: tuple[Bound, ...] = ()


def said_in(dossier: Dossier, original: dict[str, bool] | None = None) -> Said:
    """Gather what a dossier says about time.

    `original` answers, by the IRI of a placing, whether its piece is original to the assembly where the
    record leaves that open.
    """
    gathered = Gathered(dossier, original)
    statements: dict[str, Statement] = {}
    bounds: list[Bound] = []
    for told in dates_told(gathered):
        statements.setdefault(told.statement.key, told.statement)
        bounds += told.bounds()
    ruled = [
        found for situation in (*gathered.situations(), *meetings(gathered)) for found in _by_rules(situation)
    ]
    statements.update((statement.key, statement) for _rule, _bound, statement in ruled)
    return Said(
        Network.of((*bounds, *(bound for rule, bound, _statement in ruled if not rule.as_a_rule))),
        statements,
        gathered,
        frozenset(bound.statement for rule, bound, _statement in ruled if rule.law),
        tuple(bound for rule, bound, _statement in ruled if rule.as_a_rule),
    )


def _by_rules(situation: Situation) -> Iterator[tuple[DatingRule, Bound, Statement]]:
    for rule in _applying(dating_rules().get(situation.of, ()), situation):
        statement = Statement(
            key=f"{rule.id} {' '.join(situation.times[role] for role in (rule.before, rule.after))}",
            record=situation.record,
            words=_(rule.words).format_map(situation.names),
            rule=rule.id,
            reason=f"{_(rule.reason)} {_(rule.unless_words) if rule.unless_words else ''}".strip(),
            silent=rule.silent,
            says_little=rule.says_little,
        )
        yield rule, _bound(rule, situation, statement.key), statement


def _applying(rules: Iterable[DatingRule], situation: Situation) -> Iterator[DatingRule]:
    for rule in rules:
        if {rule.before, rule.after} <= situation.times.keys() and rule.applies(situation.facts):
            yield rule


def _bound(rule: DatingRule, situation: Situation, key: str) -> Bound:
    return Bound(situation.times[rule.before], situation.times[rule.after], int(rule.strict), key)

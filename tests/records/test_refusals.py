"""What is wrong with a record is told in the language of whoever reads it."""

from __future__ import annotations

import pytest

from guardbook.errors import Fault, InvalidRecord
from guardbook.records.documents import from_document
from guardbook.records.mapping import from_quads
from tests.wording.marked import marking

WRONG = {
    "less than nothing": {"type": "Fragment", "height": -4},
    "a comma": {"type": "Fragment", "height": "4,5"},
    "no number": {"type": "Fragment", "height": [4]},
    "too many digits": {"type": "Fragment", "height": "1" * 31},
    "no such field": {"type": "Fragment", "hight": 4},
    "a near term": {"type": "Fragment", "material": "parchement"},
    "no near term": {"type": "Fragment", "material": "qqq"},
    "backwards": {"type": "Fragment", "dateMade": "1510/1505"},
    "about a year": {"type": "Fragment", "dateMade": "circa 1560"},
    "no month": {"type": "Fragment", "dateMade": "1560-00-1X"},
    "a wrong check symbol": {"type": "Fragment", "id": "fragment/7K3QM2-D"},
    "too short": {"type": "Fragment", "id": "fragment/7K3"},
    "elsewhere": {"type": "Fragment", "id": "https://elsewhere.example/fragment/7K3QM2-J"},
    "another kind": {"type": "Placing", "piece": "host/7K3QM2-J", "host": "host/7K3QM2-J"},
    "missing": {"type": "Placing", "host": "host/7K3QM2-J"},
    "no kind": {"type": "Fragmment"},
    "a sign that is not seen": {"type": "Fragment", "note": "a\x00b"},
    "empty": {"type": "Fragment", "note": " "},
    "no outline": {"type": "Fragment", "outline": "POLYGON ((0 0, 1 1))"},
    "twice": {
        "type": "Fragment",
        "features": [{"id": "#a", "featureKind": "fold"}, {"id": "#a", "featureKind": "fold"}],
    },
    "no object": [],
}


def refused(document: object) -> InvalidRecord:
    with pytest.raises(InvalidRecord) as caught:
        from_document(document)
    return caught.value


def told(fault: Fault) -> tuple[str, str]:
    return fault.expected, fault.mend


@pytest.mark.parametrize("case", WRONG)
def test_what_was_expected_and_the_mend_are_in_the_language_of_the_reader(case: str) -> None:
    in_english = refused(WRONG[case])
    with marking():
        found = refused(WRONG[case])
    assert "«" not in str(in_english)
    assert found.message.startswith("«")
    for fault, english in zip(found.faults, in_english.faults, strict=True):
        assert [text[:1] for text in told(fault)] == ["«" if text else "" for text in told(english)]
        said = [text.replace("«", "").replace("»", "") for text in told(fault)]
        assert said == list(told(english))


def test_a_graph_that_is_no_record_is_told_of_in_the_language_of_the_reader() -> None:
    with marking(), pytest.raises(InvalidRecord) as caught:
        from_quads([])
    assert caught.value.message == "«These triples are not one record.»"
    (fault,) = caught.value.faults
    assert (fault.where, fault.found) == ("«the graph»", "«none»")
    assert fault.expected == "«exactly one record with its type»"

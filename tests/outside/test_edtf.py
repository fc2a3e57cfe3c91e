"""EDTF dates against the standard's own examples, the `edtf` package's tests and npm `edtf`.

Sources: ISO 8601-2:2019 Annex A examples as given in the Library of Congress EDTF specification
(https://www.loc.gov/standards/datetime/, from memory); every example in the tests of PyPI `edtf`
5.0.2 (`tests/test_parser.py`, strict bounds, copied to `edtf_package_values.json`; MIT licence, (c) 2015
The Interaction Consortium, 2023 SAW Leipzig); npm `edtf` 4.11 as a second opinion.
"""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from guardbook.records.dates import Bounds, Day, bounds

NODE = Path(__file__).parent / "node"
PACKAGE: dict[str, list[str]] = json.loads((Path(__file__).parent / "edtf_package_values.json").read_text())

STATED = {
    "15XX": ((1500, 1, 1), (1599, 12, 31)),
    "156X": ((1560, 1, 1), (1569, 12, 31)),
    "[1667,1668,1670..1672]": ((1667, 1, 1), (1672, 12, 31)),
    "../1600": (None, (1600, 12, 31)),
    "1510~/1520~": ((1510, 1, 1), (1520, 12, 31)),
    "1560~": ((1560, 1, 1), (1560, 12, 31)),
    "1985/": ((1985, 1, 1), None),
    "1984-1X": ((1984, 10, 1), (1984, 12, 31)),
    "1985-04-12": ((1985, 4, 12), (1985, 4, 12)),
    "1985-04": ((1985, 4, 1), (1985, 4, 30)),
    "Y170000002": ((170000002, 1, 1), (170000002, 12, 31)),
    "2004-06-XX": ((2004, 6, 1), (2004, 6, 30)),
    "1964/2008": ((1964, 1, 1), (2008, 12, 31)),
    "1984?/2004~": ((1984, 1, 1), (2004, 12, 31)),
    "{1667,1668,1670..1672}": ((1667, 1, 1), (1672, 12, 31)),
    "156X-12-25": ((1560, 12, 25), (1569, 12, 25)),
}
# Where we hold to the standard and not to the package: each with its reason.
DEPARTURES = {
    "/2006": "an unknown beginning is not ten years before the end",
    "2004-06-01/": "an unknown end is not ten years after the beginning",
    "1984-06-02?/": "as above",
    **dict.fromkeys(
        ("2001-21", "2003-22", "2000-23", "2010-24", "2001-29", "2001-34"), "a season bounds its whole year"
    ),
    **dict.fromkeys(
        ("1950S2", "1953S2", "1953S3", "Y17101E4S3", "Y3388E2S3", "Y171010000S3"),
        "significant digits say between which years it lies; the strict value of the package is the estimate",
    ),
}


@pytest.mark.parametrize("text", sorted(STATED))
def test_a_date_has_the_bounds_the_standard_gives_it(text: str) -> None:
    found = bounds(text)
    assert (found.earliest, found.latest) == STATED[text]


@pytest.mark.parametrize("text", ["1510/1505", "1985-13", "1985-02-30", "1560ish", "[1520..1510]", "../.."])
def test_what_is_no_date_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(ValueError, match=r"date|forwards"):
        bounds(text)


def _day(text: str) -> Day | None:
    if text in {"inf", "-inf"}:
        return None
    year, month, day = text.rsplit("-", 2)
    return (int(year), int(month), int(day))


@pytest.mark.parametrize("text", sorted(PACKAGE.keys() - DEPARTURES.keys()))
def test_bounds_agree_with_the_tests_of_the_package_we_parse_with(text: str) -> None:
    found = bounds(text)
    assert [found.earliest, found.latest] == [_day(side) for side in PACKAGE[text]]


@pytest.mark.parametrize("text", sorted(DEPARTURES))
def test_a_departure_from_the_package_is_a_wider_date_and_never_a_narrower_one(text: str) -> None:
    found, (low, high) = bounds(text), map(_day, PACKAGE[text])
    assert [found.earliest, found.latest] != [low, high], "it agrees now: take it off the list"
    assert found.earliest is None or (low is not None and found.earliest <= low)
    assert found.latest is None or (high is not None and found.latest >= high)


def test_significant_digits_give_the_years_between_which_it_lies() -> None:
    assert bounds("1953S2") == Bounds((1900, 1, 1), (1999, 12, 31))


@pytest.mark.parametrize(
    "text", ["15XX", "156X", "1560", "1985-04-12", "1985-04", "1964/2008", "../1600", "1560~"]
)
def test_a_second_reader_gives_the_same_bounds(text: str, needs: Callable[[str], Path]) -> None:
    needs("node readers")
    script = (
        "const {default: edtf} = await import('edtf'); const d = edtf(process.argv[1]);"
        "const iso = t => Number.isFinite(t) ? new Date(t).toISOString().slice(0, 10) : null;"
        "console.log(JSON.stringify([iso(d.min), iso(d.max)]))"
    )
    run = subprocess.run(
        ["node", "--input-type=module", "-e", script, text],
        cwd=NODE,
        capture_output=True,
        text=True,
        check=True,
    )
    found = bounds(text)
    ours = [
        None if day is None else "{:04}-{:02}-{:02}".format(*day) for day in (found.earliest, found.latest)
    ]
    assert json.loads(run.stdout) == ours

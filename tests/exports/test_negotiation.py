"""Which media type a reader would rather have (RFC 9110, section 12.5.1)."""

import pytest

from guardbook.exports.negotiation import preferred

OFFERED = ("text/html", "application/ld+json", "text/turtle", "application/rdf+xml")


@pytest.mark.parametrize(
    ("accept", "chosen"),
    [
        (None, "text/html"),
        ("", "text/html"),
        ("*/*", "text/html"),
        ("text/turtle", "text/turtle"),
        ("TEXT/Turtle", "text/turtle"),
        ("application/*", "application/ld+json"),
        ("text/*;q=0.5, application/rdf+xml;q=0.4", "text/html"),
        ("text/turtle;q=0.9, application/ld+json;q=0.8", "text/turtle"),
        ("text/turtle;q=0.3, application/ld+json; q = 0.8", "application/ld+json"),
        ("text/html;q=0, */*", "application/ld+json"),
        ("text/*;q=0.1, text/turtle;q=0.7, */*;q=0.5", "text/turtle"),
        ('application/ld+json;profile="http://www.w3.org/ns/json-ld#expanded,x"', "application/ld+json"),
        ("text/html,application/xhtml+xml,application/xml;q=0.9,image/avif,*/*;q=0.8", "text/html"),
        ("nonsense, text/turtle", "text/turtle"),
    ],
)
def test_the_reader_gets_the_form_that_suits_best(accept: str | None, chosen: str) -> None:
    assert preferred(accept, OFFERED) == chosen


@pytest.mark.parametrize("accept", ["image/png", "text/html;q=0", "*/*;q=0", "nonsense", ","])
def test_a_form_nobody_asked_for_is_not_given(accept: str) -> None:
    assert preferred(accept, OFFERED) is None

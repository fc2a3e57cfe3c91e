"""A catalogue of many invented pieces, all alike but for their numbers, for measuring."""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.records.base import Record
from guardbook.records.documents import from_document
from guardbook.records.identifiers import CHECK_SYMBOLS, DIGITS, check_symbol

PIECES_A_VOLUME = 20


def identifier(number: int) -> str:
    """Give the identifier with a speakable check symbol that this number leads to."""
    value = number * 37 + 1  # leaves 1 modulo 37, so every check symbol is '1'
    digits = "".join(DIGITS[value >> shift & 31] for shift in (25, 20, 15, 10, 5, 0))
    assert check_symbol(digits) == CHECK_SYMBOLS[1]
    return f"{digits}-{CHECK_SYMBOLS[1]}"


def piece(number: int) -> Record:
    """Make one piece with two series of three holes."""
    features = [
        {
            "featureKind": "sewing-hole",
            "x": "4.0",
            "y": f"{20 + 30 * at}.5",
            "inSeries": f"#series-{at % 2 + 1}",
        }
        for at in range(6)
    ]
    return from_document(
        {
            "type": "Fragment",
            "id": f"fragment/{identifier(number)}",
            "title": f"Strip {number} of an invented psalter",
            "workshopNumber": f"W.{number}",
            "extent": "strip",
            "material": "parchment",
            "height": "180.5",
            "width": f"{20 + number % 40}.0",
            "dateMade": f"{1100 + number % 500}~",
            "firstWords": "Arma virumque cano, Troiae qui primus ab oris",
            "features": features,
            "series": [{"use": "first-use"}, {"use": "second-use"}],
        }
    )


def volume(number: int) -> Record:
    """Make one volume of two stages."""
    return from_document(
        {
            "type": "HostVolume",
            "id": f"host/{identifier(number)}",
            "title": f"Invented register {number}",
            "stages": [
                {"number": 1, "stageKind": "bound", "when": "1610~"},
                {"number": 2, "stageKind": "after-treatment", "when": "2024"},
            ],
        }
    )


def events(number: int) -> Iterator[Record]:
    """Make the placing and the separation of one piece."""
    host = f"host/{identifier(number // PIECES_A_VOLUME)}"
    fragment = f"fragment/{identifier(number)}"
    at = {
        "plane": "textblock-spine",
        "x": "-20.0",
        "y": f"{10 * (number % PIECES_A_VOLUME)}.0",
        "layer": number % PIECES_A_VOLUME,
        "certainty": "measured",
    }
    yield from_document(
        {
            "type": "Placing",
            "id": f"placing/{identifier(number)}",
            "piece": fragment,
            "host": host,
            "stage": f"{host}#stage-1",
            "function": "spine-lining-panel",
            "fixings": ["adhered-starch"],
            "positions": [at],
        }
    )
    yield from_document(
        {
            "type": "Separation",
            "id": f"separation/{identifier(number)}",
            "piece": fragment,
            "host": host,
            "stage": f"{host}#stage-2",
            "separationKind": "lifted-in-treatment",
            "when": "2024-05-03",
        }
    )


def records(pieces: int) -> Iterator[Record]:
    """Make this many pieces, their volumes and events."""
    yield from (volume(number) for number in range(-(-pieces // PIECES_A_VOLUME)))
    for number in range(pieces):
        yield piece(number)
        yield from events(number)

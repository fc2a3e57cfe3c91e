"""The query endpoint described for programs.

Source: *SPARQL 1.1 Service Description* (W3C Recommendation, 2013), from memory; the formats are those of
https://www.w3.org/ns/formats/.
"""

from __future__ import annotations

import pyoxigraph as ox

from guardbook.exports.dataset.triples import node, told

_FORMATS = (
    "SPARQL_Results_JSON", "SPARQL_Results_XML", "SPARQL_Results_CSV", "SPARQL_Results_TSV",
    "Turtle", "N-Triples", "N-Quads", "TriG", "RDF_XML", "JSON-LD",
)  # fmt: skip


def described(at: str) -> list[ox.Triple]:
    """Give what the endpoint at an address takes, in which forms it answers, what its default dataset is."""
    endpoint = f"{at}sparql"
    return [
        *told(
            endpoint,
            ("sd:Service",),
            sd_endpoint=node(endpoint),
            sd_supportedLanguage=node("sd:SPARQL11Query"),
            sd_feature=node("sd:UnionDefaultGraph"),
            sd_resultFormat=tuple(node(f"formats:{name}") for name in _FORMATS),
            sd_defaultDataset=node(f"{endpoint}#dataset"),
        ),
        *told(f"{endpoint}#dataset", ("sd:Dataset",), sd_defaultGraph=node(f"{endpoint}#union")),
        *told(f"{endpoint}#union", ("sd:Graph",)),
    ]

"""Answer a question in SPARQL."""

from __future__ import annotations

from collections.abc import Sequence

from guardbook.catalogue.access import Access
from guardbook.catalogue.sparql.question import GRAPH_FORMS, SOLUTION_FORMS, Answer, Question
from guardbook.errors import Fault, WrongUse
from guardbook.wording import _

FORMS = (*SOLUTION_FORMS, *GRAPH_FORMS)


def ask_sparql(
    access: Access,
    text: str,
    *,
    default_graphs: Sequence[str] = (),
    named_graphs: Sequence[str] = (),
    solutions_as: str | None = "json",
    graph_as: str | None = "turtle",
) -> Answer:
    """Answer a query over what this viewer may see; the graphs are IRIs, none: everything.

    `solutions_as` is the form of what SELECT and ASK give, `graph_as` of what CONSTRUCT and DESCRIBE give.
    Raises QueryRefused for what is no query, reaches beyond this catalogue or would change it, QueryStopped
    at a limit, NotAcceptable where the form does not fit the question, Busy, TooLarge and WrongUse.
    """
    faults = [
        Fault(where=where, found=repr(iri), expected=_("an absolute IRI"))
        for where, iris in (("default-graph-uri", default_graphs), ("named-graph-uri", named_graphs))
        for iri in iris
        if not _is_iri(iri)
    ]
    if faults:
        raise WrongUse(message=_("The dataset of the query cannot be understood."), faults=tuple(faults))
    return access.ask(
        Question(
            text=text,
            default_graphs=tuple(default_graphs),
            named_graphs=tuple(named_graphs),
            solutions_as=solutions_as,
            graph_as=graph_as,
        )
    )


def ask_in_form(access: Access, text: str, form: str) -> Answer:
    """Answer a query in one form by its name. Raises WrongUse for an unknown form, otherwise as the other."""
    if form not in FORMS:
        raise WrongUse(message=f"There is no form {form!r}. The forms are: {', '.join(FORMS)}.")
    return ask_sparql(
        access,
        text,
        solutions_as=form if form in SOLUTION_FORMS else None,
        graph_as=form if form in GRAPH_FORMS else None,
    )


def _is_iri(text: str) -> bool:
    scheme, colon, rest = text.partition(":")
    return bool(scheme and colon and rest) and not any(sign in ' <>"{}|\\^`' or sign < " " for sign in text)

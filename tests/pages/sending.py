"""A form of a page as a browser without scripts would send it."""

from __future__ import annotations

from html.parser import HTMLParser

import httpx

from tests.api.client import Client

Sent = dict[str, list[str]]


class FormOf(HTMLParser):
    """Reads the controls of the form of a page, but not those of its templates, which are not sent."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.action = ""
        self.sent: Sent = {}
        self.ids: set[str] = set()
        self._inside = False
        self._templates = 0
        self._select = ""
        self._textarea: str | None = None
        self._text = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag == "form":
            self._inside = "record-form" in given.get("class", "")
            self.action = given["action"] if self._inside else self.action
        self._templates += tag == "template"
        if not self._inside or self._templates:
            return
        self.ids.add(given.get("id", ""))
        if tag == "input":
            self._input(given)
        elif tag == "select":
            self._select = given["name"]
            self.sent.setdefault(self._select, [])
        elif tag == "option" and self._select:
            self._option(given)
        elif tag == "textarea":
            self._textarea, self._text = given["name"], ""

    def _input(self, given: dict[str, str]) -> None:
        kind = given.get("type", "text")
        if given.get("name") and kind != "file" and (kind not in {"checkbox", "radio"} or "checked" in given):
            self.sent.setdefault(given["name"], []).append(given.get("value", "on"))

    def _option(self, given: dict[str, str]) -> None:
        # the first option is sent where none is chosen
        if "selected" in given or not self.sent[self._select]:
            self.sent[self._select] = [given["value"]]

    def handle_data(self, data: str) -> None:
        self._text += data

    def handle_endtag(self, tag: str) -> None:
        self._templates -= tag == "template"
        if tag == "form":
            self._inside = False
        elif tag == "select":
            self._select = ""
        elif tag == "textarea" and self._textarea is not None:
            # a browser leaves out the new line that follows the tag
            self.sent.setdefault(self._textarea, []).append(self._text.removeprefix("\n"))
            self._textarea = None


def send(
    client: Client, form: FormOf, files: list[tuple[str, tuple[str, bytes, str]]] | None = None, **typed: str
) -> httpx.Response:
    """Send a form with what was typed over it; in the names `__` stands for a dot."""
    over = {name.replace("__", "."): [text] for name, text in typed.items()}
    data = {**form.sent, **over}
    # an empty file field makes it multipart, as the page asks
    return client.request("POST", form.action, data=data, files=files or [("nothing", ("", b"", ""))])

"""Fetching from other catalogues: politely, within limits, and never where nobody meant to go.

Only http and https; every address a name stands for must be public (RFC 6890) unless private ones are
allowed, and the connection goes to the address that was looked at. Redirects are followed a few times and
judged anew.
"""

from __future__ import annotations

import http.client
import ipaddress
import socket
import ssl
import time
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from urllib.parse import SplitResult, urljoin, urlsplit

import guardbook
from guardbook import settings
from guardbook.errors import SourceFailed, UnreadableFile

_REDIRECTS = frozenset((301, 302, 303, 307, 308))
_MOST_REDIRECTS = 5
_PIECE_BYTES = 64 * 1024
# we are another site: an instance on this very machine is to show us what the public sees
_ALWAYS = {"Accept-Encoding": "identity", "Sec-Fetch-Site": "cross-site"}


@dataclass(frozen=True, kw_only=True)
class Fetched:
    """What was fetched: from which address in the end, and how."""

    address: str
    status: int
    body: bytes
    media_type: str
    etag: str | None
    retry_after: str | None


@dataclass(kw_only=True)
class Remote:
    """Fetches one thing after the other, each within `timeout_seconds`, with a pause before the next.

    There is no pause where private addresses are allowed: one's own machines are not in anybody's way.
    """

    allow_private: bool = False
    timeout_seconds: float = 30
    pause_seconds: float = 0.1
    _open: dict[tuple[str, str, int], http.client.HTTPConnection] = field(default_factory=dict)
    _last: float = 0.0

    def get(
        self,
        address: str,
        *,
        accept: str,
        most_bytes: int,
        etag: str | None = None,
        sites: frozenset[str] | None = None,
    ) -> Fetched:
        """Fetch an address, and tell of whatever status it answers with but a redirect, which is followed.

        With `sites` (first parts of addresses) everything must lie at one of them. Raises SourceFailed where
        it cannot be reached or answers too slowly, UnreadableFile where it is too long, lies elsewhere or
        leads nowhere.
        """
        headers = {"Accept": accept, **({"If-None-Match": etag} if etag else {})}
        for _ in range(_MOST_REDIRECTS + 1):
            parts = _allowed(address)
            if sites is not None and site_of(address) not in sites:
                raise UnreadableFile(message=f"{address} is not at {' or '.join(sorted(sites))}.")
            fetched, location = self._once(parts, headers, most_bytes)
            if location is None:
                return fetched
            address = urljoin(address, location)
        raise UnreadableFile(message=f"{address} leads from one address to the next without end.")

    def _once(
        self, parts: SplitResult, headers: Mapping[str, str], most_bytes: int
    ) -> tuple[Fetched, str | None]:
        address = parts.geturl()
        pause_seconds = 0.0 if self.allow_private else self.pause_seconds
        time.sleep(max(0.0, self._last + pause_seconds - time.monotonic()))
        started = time.monotonic()
        try:
            response = self._answer(parts, headers)
            body = self._read(response, address, most_bytes, started)
        except (OSError, http.client.HTTPException) as error:
            self.close()
            raise SourceFailed(message=f"{address} could not be read: {_reason(error)}.") from error
        finally:
            self._last = time.monotonic()
        is_redirect = response.status in _REDIRECTS
        fetched = Fetched(
            address=address,
            status=response.status,
            body=body,
            media_type=(response.getheader("Content-Type") or "").partition(";")[0].strip().lower(),
            etag=response.getheader("ETag"),
            retry_after=response.getheader("Retry-After"),
        )
        return fetched, response.getheader("Location") if is_redirect else None

    def _answer(self, parts: SplitResult, headers: Mapping[str, str]) -> http.client.HTTPResponse:
        """Ask over the open connection; one that was closed meanwhile is opened once more."""
        key = (parts.scheme, parts.hostname or "", parts.port or (443 if parts.scheme == "https" else 80))
        target = parts._replace(scheme="", netloc="", fragment="").geturl() or "/"
        said = {**_ALWAYS, "User-Agent": _who_we_are(), **headers}
        is_reused = key in self._open
        for attempt in (is_reused, False):
            connection = self._open.setdefault(key, self._connection(key))
            try:
                connection.request("GET", target, headers=said)
                return connection.getresponse()
            except (ConnectionError, http.client.BadStatusLine):
                connection.close()
                del self._open[key]
                if not attempt:
                    raise
        raise ConnectionError

    def _connection(self, key: tuple[str, str, int]) -> http.client.HTTPConnection:
        scheme, host, port = key
        kind = _Https if scheme == "https" else _Http
        return kind(host, port, timeout=self.timeout_seconds, allow_private=self.allow_private)

    def _read(
        self, response: http.client.HTTPResponse, address: str, most_bytes: int, started: float
    ) -> bytes:
        pieces = bytearray()
        while piece := response.read1(_PIECE_BYTES):
            pieces += piece
            if len(pieces) > most_bytes:
                self.close()
                raise UnreadableFile(message=f"{address} is longer than {most_bytes} bytes.")
            if time.monotonic() - started > 2 * self.timeout_seconds:
                raise TimeoutError
        # the connection takes no further request before
        response.close()
        return bytes(pieces)

    def close(self) -> None:
        """Close what is open."""
        for connection in self._open.values():
            with suppress(OSError):
                connection.close()
        self._open.clear()


class _Http(http.client.HTTPConnection):
    """Connects to the very address that was found to be allowed."""

    def __init__(self, host: str, port: int, *, timeout: float, allow_private: bool) -> None:
        super().__init__(host, port, timeout=timeout)
        self._allow_private = allow_private

    def connect(self) -> None:
        self.sock = _connected(self.host, self.port, self.timeout or 0, allow_private=self._allow_private)


class _Https(_Http):
    """The same, within TLS, the certificate held to the name."""

    def connect(self) -> None:
        super().connect()
        self.sock = ssl.create_default_context().wrap_socket(self.sock, server_hostname=self.host)


def _connected(host: str, port: int, timeout: float, *, allow_private: bool) -> socket.socket:
    found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)
    addresses = [str(one[4][0]) for one in found]
    if not allow_private and not all(
        ipaddress.ip_address(one.partition("%")[0]).is_global for one in addresses
    ):
        raise SourceFailed(
            message=f"{host} is {', '.join(sorted(set(addresses)))}, which is not on the public internet. "
            "If you mean a machine of your own, say --allow-private."
        )
    return socket.create_connection((addresses[0], port), timeout)


def _allowed(address: str) -> SplitResult:
    strange = UnreadableFile(message=f"Expected an address with http:// or https://, found {address!r}.")
    try:
        parts = urlsplit(address)
        is_web = parts.scheme in {"http", "https"} and bool(parts.hostname) and parts.port != 0
    except ValueError as error:
        raise strange from error
    if not is_web or not address.isascii() or any(sign <= " " for sign in address):
        raise strange
    if parts.username is not None or parts.password is not None:
        raise UnreadableFile(message=f"{address} holds a name or password; neither is sent.")
    return parts


def site_of(address: str) -> str:
    """Give scheme, host and port of an address, as far as they are written.

    >>> site_of("https://books.example/activity/page-1")
    'https://books.example'
    """
    parts = urlsplit(address)
    return f"{parts.scheme}://{parts.netloc}".lower()


def _who_we_are() -> str:
    return f"Guardbook/{guardbook.__version__} (+{settings.current().base})"


def _reason(error: Exception) -> str:
    if isinstance(error, TimeoutError):
        return "it answers too slowly"
    return str(error).rstrip(".") or type(error).__name__

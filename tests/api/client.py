"""A browser or program that asks the application directly, without a network."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass, field
from typing import Any

import httpx
from starlette.types import ASGIApp

HERE = "http://localhost:8000"


@dataclass(frozen=True)
class Client:
    """Asks as the machine the catalogue runs on, unless told otherwise."""

    app: ASGIApp
    base_url: str = HERE
    address: str = "127.0.0.1"
    headers: dict[str, str] = field(default_factory=dict)

    def request(self, method: str, path: str, **words: Any) -> httpx.Response:
        """Ask once; redirects are not followed."""
        return asyncio.run(self._request(method, path, words))

    async def _request(self, method: str, path: str, words: dict[str, Any]) -> httpx.Response:
        transport = httpx.ASGITransport(self.app, client=(self.address, 50000))
        headers = {**self.headers, **words.pop("headers", {})}
        async with httpx.AsyncClient(transport=transport, base_url=self.base_url) as client:
            return await client.request(method, path, headers=headers, **words)

    def get(self, path: str, **words: Any) -> httpx.Response:
        """Ask to be given something."""
        return self.request("GET", path, **words)

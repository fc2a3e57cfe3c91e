"""`guardbook serve`."""

from __future__ import annotations

import contextlib
import errno
import signal
import socket
from collections.abc import Callable
from typing import Annotated, Any, Protocol

import typer
import uvicorn

from guardbook.actions.load_demo import load_demo
from guardbook.actions.open_catalogue import opened_for_all
from guardbook.catalogue.access import Access, Viewer
from guardbook.cli.options import Data, folder_or_default
from guardbook.cli.printing import say
from guardbook.errors import WrongUse


class Application(Protocol):
    """Makes what is served, from the catalogue as each viewer sees it."""

    def __call__(self, access_for: Callable[[Viewer], Access], *, public_only: bool) -> Any:
        """Make it; with `public_only` everybody is the public."""


def serve(
    context: typer.Context,
    *,
    demo: Annotated[bool, typer.Option("--demo", help="Load the demo, if the catalogue is empty.")] = False,
    host: Annotated[str, typer.Option(metavar="ADDRESS", help="The address to listen on.")] = "127.0.0.1",
    port: Annotated[
        int, typer.Option(metavar="N", min=0, max=65535, help="The port; 0 takes a free one.")
    ] = 8000,
    public: Annotated[
        bool, typer.Option("--public", help="Treat everybody as the public: nothing can be changed.")
    ] = False,
    data: Data = None,
) -> None:
    """Serve the catalogue to browsers and programs until Ctrl-C.

    Only this machine may see what is not public, and change things. Behind a proxy, use --public.
    """
    with opened_for_all(folder_or_default(data)) as access_for, _listening(host, port) as listener:
        if demo and (count := load_demo(access_for(Viewer.WORKSHOP), if_empty=True)):
            say(f"{count} records of the demo are loaded.")
        application = context.obj(access_for, public_only=public)
        # a proxy's word on who asks is not taken: it is for the application to see that there is one
        config = uvicorn.Config(application, log_level="warning", proxy_headers=False, server_header=False)
        # asked to stop, by Ctrl-C or by the system, it closes the catalogue and ends well
        signal.signal(signal.SIGTERM, signal.default_int_handler)
        with contextlib.suppress(KeyboardInterrupt):
            _Server(config).run(sockets=[listener])


class _Server(uvicorn.Server):
    """Prints its address once it answers, and can be asked to stop."""

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        for listener in sockets or ():
            say(f"The catalogue is at {_address(listener)} (Ctrl-C ends it).")


def _listening(host: str, port: int) -> socket.socket:
    """Take the port. Raises WrongUse where it is taken, or the address is not one of this machine."""
    try:
        family, _, _, _, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        return socket.create_server((address[0], address[1]), family=family)
    except OSError as error:
        if error.errno == errno.EADDRINUSE:
            message = f"Port {port} is taken, perhaps by another server. Try --port {port + 1}, or --port 0."
        else:
            message = f"Cannot listen on {host} port {port}: {error.strerror}."
        raise WrongUse(message=message) from error


def _address(listener: socket.socket) -> str:
    host, port = listener.getsockname()[:2]
    return f"http://[{host}]:{port}/" if ":" in host else f"http://{host}:{port}/"

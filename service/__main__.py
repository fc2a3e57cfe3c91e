"""Starts the catalogue from a folder that holds nothing but its source.

`python3 service` installs what is needed, loads the demo on first start and serves it;
`python3 service WORDS...` runs the `guardbook` command.
"""

import sys
from typing import List

import launcher


def main(words: List[str]) -> None:
    """Set up `.venv` where that is still to do, and become the `guardbook` command."""
    environment = launcher.Environment(launcher.TOP)
    environment.prepare("service.lock")
    launcher.start(environment.program("-m", "guardbook", *(words or ["serve", "--demo"])))


if __name__ == "__main__":
    main(sys.argv[1:])

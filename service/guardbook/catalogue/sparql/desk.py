"""Where questions are answered: a few at once, each by a process of its own that is ended at its limit."""

from __future__ import annotations

import json
import subprocess  # a process can be stopped whatever the engine is doing, a thread cannot
import sys
import tempfile
import threading
from dataclasses import asdict
from pathlib import Path
from typing import Any, BinaryIO, cast

from guardbook import settings
from guardbook.catalogue.sparql import outcomes, refusals
from guardbook.catalogue.sparql.question import Answer, Question
from guardbook.errors import Busy
from guardbook.records.values import XSD
from guardbook.wording import _, said_later

WAITING = 8
MOST_BYTES = 128 * 1024**2
# beyond its own limit, for starting and writing on a busy machine
_GRACE_SECONDS = 5
_PACKAGE_ROOT = Path(__file__).resolve().parents[3]
_BUSY = said_later("Too many queries are being answered. Ask again in a little while.")


class Desk:
    """Answers questions within limits, a few at once; some more may wait."""

    def __init__(self, limits: settings.SparqlLimits) -> None:
        self._limits = limits
        self._places = threading.Semaphore(limits.at_once + WAITING)
        self._free = threading.Semaphore(limits.at_once)

    def answer(self, question: Question, folder: Path) -> Answer:
        """Answer a question from the store in a folder.

        Raises QueryRefused, QueryStopped at a limit, NotAcceptable for a form that does not fit the kind of
        question, TooLarge, and Busy where too many are waiting.
        """
        refusals.check(question.text)
        if not self._places.acquire(blocking=False):
            raise Busy(message=_(_BUSY))
        try:
            if not self._free.acquire(timeout=self._limits.seconds):
                raise Busy(message=_(_BUSY))
            try:
                return self._asked(question, folder)
            finally:
                self._free.release()
        finally:
            self._places.release()

    def _asked(self, question: Question, folder: Path) -> Answer:
        file = cast(BinaryIO, tempfile.TemporaryFile())  # noqa: SIM115  # closed by whoever reads it
        try:
            said = self._run(question, folder, file)
            outcomes.raise_error(said, question.text, self._limits)
        except BaseException:
            file.close()
            raise
        file.seek(0)
        return Answer(form=said["form"], file=file, rows=said["rows"], cut=said["cut"])

    def _run(self, question: Question, folder: Path, output: BinaryIO) -> dict[str, Any]:
        asked = {
            **asdict(question),
            **asdict(self._limits),
            "has_dataset": refusals.has_dataset(question.text),
            "folder": str(folder),
            "base": settings.current().base,
            "prefixes": {"gb": settings.NAMESPACE, "xsd": XSD},
            "most_bytes": MOST_BYTES,
        }
        words = [sys.executable, "-P", "-s", "-m", "guardbook.catalogue.sparql.child"]
        # it is told nothing of our surroundings; with one arena the memory it takes is near what it uses
        surroundings = {"PYTHONPATH": str(_PACKAGE_ROOT), "MALLOC_ARENA_MAX": "1"}
        process = subprocess.Popen(  # noqa: S603  # our own words
            words, stdin=subprocess.PIPE, stdout=output, stderr=subprocess.PIPE, env=surroundings
        )
        try:
            _output, said = process.communicate(
                json.dumps(asked).encode(), timeout=self._limits.seconds + _GRACE_SECONDS
            )
        except subprocess.TimeoutExpired:
            return {"error": "time"}
        finally:
            process.kill()
            process.wait()
        return outcomes.told(process.returncode, said)

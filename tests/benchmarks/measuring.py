"""Time two things in turn and print the ratio; nothing here judges."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Timed:
    """Times in seconds of what is measured and of its baseline, taken in turn."""

    ours: tuple[float, ...]
    baseline: tuple[float, ...]

    @property
    def ratio(self) -> float:
        """Give the ratio of the medians."""
        return statistics.median(self.ours) / statistics.median(self.baseline)


def seconds(work: Callable[[], object]) -> float:
    """Time one call."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def percentile(times: Sequence[float], share: float) -> float:
    """Give the time that this share of the calls stayed within."""
    return sorted(times)[min(len(times) - 1, int(len(times) * share))]


def in_turn(name: str, ours: Callable[[], object], baseline: Callable[[], object], runs: int) -> Timed:
    """Run both in turn after one warm-up, print the medians and their ratio."""
    ours(), baseline()
    pairs = [(seconds(ours), seconds(baseline)) for _ in range(runs)]
    timed = Timed(tuple(a for a, _ in pairs), tuple(b for _, b in pairs))
    tell(
        name,
        f"{_ms(timed.ours)} against {_ms(timed.baseline)}: {timed.ratio:.2f}x ({runs} runs in turn)",
    )
    return timed


def _ms(times: Sequence[float]) -> str:
    return f"{statistics.median(times) * 1000:.2f} ms (p99 {percentile(times, 0.99) * 1000:.2f})"


def tell(name: str, figures: str) -> None:
    """Print a line of figures, past pytest's capture when run with `-s`."""
    print(f"\nMEASURED {name}: {figures}")  # noqa: T201  # figures are what a benchmark is for

"""How often somebody may ask: a bucket that empties with each request and fills with time."""

from __future__ import annotations

from dataclasses import dataclass, field

from spares.errors import Stopped

MOST_KEPT = 10_000


@dataclass
class Rate:
    """At most `burst` at once and `a_minute` in the long run, for each key apart."""

    burst: int
    a_minute: int
    _left: dict[str, tuple[float, int]] = field(default_factory=dict)

    def spend(self, key: str, now_ms: int, cost: int = 1) -> None:
        """Take *cost* of *key* at *now_ms* of a clock that never goes back [ms].

        Raises:
            Stopped: slow_down, with `retry_after_s` [s].
        """
        left, then = self._left.pop(key, (float(self.burst), now_ms))
        left = min(self.burst, left + (now_ms - then) * self.a_minute / 60_000)
        spent = left >= cost
        self._left[key] = (left - cost if spent else left, now_ms)
        if len(self._left) > MOST_KEPT:
            del self._left[next(iter(self._left))]      # asked longest ago
        if not spent:
            wait_s = int((cost - left) * 60 / self.a_minute) + 1
            raise Stopped("too many requests; wait a little", stop="slow_down",
                          retry_after_s=wait_s)

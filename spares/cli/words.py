"""Words on the screen for the codes in answers."""

from __future__ import annotations

from typing import Any

COUNTS = {"enough": "Enough", "low": "Low", "none": "None", "not-counted": "Not counted"}
TAGS = {
    "stranded": "Stranded", "out-of-date": "Out of date", "dropped": "Dropped by its maker",
    "fits-not-recorded": "Fits not recorded", "lent": "Lent", "ashore": "Ashore",
    "suspect": "Suspect", "used-good": "Used, good", "no-date": "No date",
    "not-reachable": "Not reachable under way", "in-doubt": "In doubt", "negative": "Below zero",
}
VERDICTS = {
    "fits": "Fits", "fits-with-changes": "Fits with changes", "does-not-fit": "Does not fit",
    "not-known-yet": "Not known yet",
}
OUTCOMES = {"match": "match", "change": "change", "stop": "STOP", "advisory": "advice",
            "unknown": "not known"}
SERVICES = {
    "done": "Done", "coming": "Coming", "due": "Due", "overdue": "Overdue",
    "history-unknown": "History unknown", "not-wanted": "Not wanted here",
}
PROOFS = {
    "makers-list": "maker's list", "measured": "measured", "fitted-before": "fitted before",
    "hearsay": "hearsay", "candidate": "candidate", "tried-no": "tried: no",
}
FLAGS = {"negative": "below zero: count again", "doubt": "in doubt", "rivals": "two counts differ"}


def word(words: dict[str, str], code: Any) -> str:
    """Give the word for *code*; a code without one is shown as it is."""
    return words.get(code, str(code)) if code else ""


def line_state(line: dict[str, Any]) -> str:
    """Give the words for the state of a line of a trip."""
    state = line["state"]
    if state == "order-by":
        return f"Order by {line['order_by']}"
    if state == "short":
        return f"Short {line['short']:g}"
    return {"enough": "Enough", "too-late": "Too late", "cannot-say": "Cannot say",
            "accepted": "Accepted"}.get(state, str(state))

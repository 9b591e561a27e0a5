"""A page that records one change after the other while something happens to it."""

from __future__ import annotations

from playwright.sync_api import Page

AT = "#/part/P061?at=L03"
#: Puts one after the other, with a pause of random length; of each it says when it was saved, or
#: that it was not.
PUTS = """async ([round, many, pauseMs = 0]) => {
  const { record } = await import("/outbox.js");
  for (let i = 0; i < many; i += 1) {
    const note = `${round}-${i}`;
    const body = { part: "P061", locker: "L03", quantity: 1, note };
    const { state, error } = await record("do/put", body, note);
    console.info(state === "recorded" ? `saved ${note}` : `unsaved ${note} ${error?.code}`);
    if (pauseMs) await new Promise((done) => setTimeout(done, Math.random() * pauseMs));
  }
}"""
#: What waits, and what the copy has of this phone: number and note of each.
THERE = """async () => {
  const { keeper } = await import("/kept/kept.js");
  const of = ({ n, body }) => [n, body.note];
  const waits = keeper.value.waiting();
  const ids = new Set(waits.map((change) => change.id));
  const taken = keeper.value.aboard().entries().filter((entry) =>
    !ids.has(entry.id) && /^\\d+-\\d+$/.test(entry.body.note ?? ""));
  return [waits.map(of), taken.map(of)];
}"""


def hear(page: Page, said: set[str]) -> None:
    """Note what the page says to be saved."""
    page.on("console", lambda message: said.add(message.text.removeprefix("saved "))
            if message.text.startswith("saved ") else None)


def check_there(page: Page, said: set[str]) -> None:
    """See that all that was said to be saved is there once, under numbers without a hole."""
    waits, taken = page.evaluate(THERE)
    notes = [note for _, note in (*waits, *taken)]
    assert said <= set(notes), f"called saved, and gone: {said - set(notes)}"
    assert len(notes) == len(set(notes))
    numbers = sorted(n for n, _ in (*waits, *taken))
    assert numbers == list(range(1, len(numbers) + 1)), "a number is lost, or stands for two"

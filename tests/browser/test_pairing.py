"""A phone joins the crew by a code, and leaves it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from urllib.request import Request, urlopen

import pytest
from playwright.sync_api import expect

from tests.browser.keeping import IN_BOX, RECORD, ROWS, keep_here, meet, until

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_a_phone_joins_by_a_code_after_both_screens_show_the_same_digits(
        make_phone: Callable[..., Any], own_address: str) -> None:
    skipper, anna = (make_phone(own_address, service_workers="block") for _ in range(2))
    page = skipper.open("#/aboard/people")
    page.get_by_role("button", name="Make a code").tap()
    code = page.locator("[data-pairing] .code").inner_text()
    assert len(code.replace("-", "")) == 13
    there = anna.open("#/aboard")
    there.evaluate("""async (code) => {
      const { postJson } = await import("/api.js");
      window.claim = await postJson("pair", { code, name: "Anna's phone" });
    }""", code)
    digits = there.evaluate("() => window.claim.digits")
    expect(page.locator("[data-pairing]")).to_contain_text(digits, timeout=15000)
    page.get_by_role("button", name="Yes, let it in").tap()
    until(there, """async () => {
      const { postJson } = await import("/api.js");
      window.told = await postJson("pair/collect", { claim: window.claim.claim });
      return window.told.state !== "waiting";
    }""")
    told = there.evaluate("() => window.told")
    assert (told["state"], told["role"]) == ("paired", "crew")
    there.reload()
    there.goto(f"{own_address}/#/aboard/phone")
    expect(there.locator("main")).to_contain_text("Anna's phone, crew")
    expect(there.locator("main")).to_contain_text("Last met the boat's computer", timeout=20000)
    page.reload()
    line = page.locator("[data-dev]", has_text="Anna's phone")
    expect(line).to_contain_text("crew · paired")
    line.get_by_text("Give it a role aboard another vessel").tap()
    line.get_by_role("button", name="Give it", exact=True).tap()
    expect(line).to_contain_text("Also aboard HRE (crew)")
    line.get_by_role("button", name="Left the crew").tap()
    page.wait_for_timeout(700)     # a touch that follows at once is taken for wet glass
    line.get_by_role("button", name="Really?").tap()
    expect(page.locator("[data-dev]", has_text="Anna's phone")).to_contain_text("left the crew")


def test_the_address_of_a_code_asks_for_a_name_only_and_shows_the_digits(
        make_phone: Callable[..., Any], own_address: str) -> None:
    skipper, bo = (make_phone(own_address, service_workers="block") for _ in range(2))
    made = skipper.open("#/aboard/people").evaluate("""async () => {
      const { postJson } = await import("/api.js");
      return postJson("pairings", { role: "guest", name: "", grants: [] });
    }""")
    page = bo.open(f"#/pair/{made['secret']}")
    page.locator('[name="name"]').fill("Bo's phone")
    expect(page.locator('[name="code"]')).to_have_count(0)
    page.get_by_role("button", name="Join").tap()
    expect(page.locator("main")).to_contain_text("Say these digits to the skipper:",
                                              timeout=15000)
    skipper.page.evaluate("""async (id) => {
      const { postJson } = await import("/api.js");
      await postJson(`pairings/${id}/confirm`, {});
    }""", made["pairing"])
    expect(page.locator("main")).to_contain_text("Bo's phone, guest", timeout=15000)


ASK = """async ([method, path, body]) => {
  const { getJson, postJson } = await import("/api.js");
  return method === "GET" ? getJson(path) : postJson(path, body, method);
}"""


def turned_down(aboard: Any, page: Any) -> None:
    """The skipper turns down the one change that waits; its phone hears of it, with the words."""
    page.get_by_role("button", name="Meet").tap()
    expect(page.locator('[data-kept="held"]')).to_have_count(1, timeout=15000)
    waits, = aboard.evaluate(ASK, ["GET", "held", None])["held"]
    aboard.evaluate(ASK, ["POST", f"held/{waits['id']}", {"decide": "reject", "say": "no"}])
    page.get_by_role("button", name="Meet").tap()
    expect(page.locator('[data-kept="refused"]')).to_contain_text("(no)", timeout=15000)


def test_a_lost_phone_wipes_its_copy_and_keeps_what_only_it_has(
        make_phone: Callable[..., Any], own_address: str) -> None:
    skipper, lost = make_phone(own_address, service_workers="block"), make_phone(own_address)
    aboard, page = skipper.open("#/aboard/people"), keep_here(lost)
    dev = page.evaluate("async () => (await import('/kept/kept.js')).device.value.dev")
    took = ["do/took", {"part": "P034", "locker": "L17"}]
    # What an earlier role allowed waits; what is turned down is recorded anew once, or given up.
    lost.context.set_offline(True)
    assert page.evaluate(RECORD, took) == "recorded"
    aboard.evaluate(ASK, ["PATCH", f"devices/{dev}", {"role": "guest"}])
    lost.context.set_offline(False)
    turned_down(aboard, page)
    page.get_by_role("button", name="Record it again").dblclick()
    turned_down(aboard, page)
    page.get_by_role("button", name="Give it up").tap()
    page.wait_for_timeout(700)     # a touch that follows at once is taken for wet glass
    page.get_by_role("button", name="Give this change up for good?").tap()
    expect(page.locator('[data-kept="none"]')).to_be_visible()
    aboard.evaluate(ASK, ["PATCH", f"devices/{dev}", {"role": "skipper"}])
    meet(page)
    # Lost for good: the copy goes, what only this phone has stays.
    lost.context.set_offline(True)
    assert page.evaluate(RECORD, took) == "recorded"
    assert len(page.evaluate(ROWS)) > 100
    aboard.evaluate(ASK, ["POST", f"devices/{dev}/revoke", {"how": "lost"}])
    lost.context.set_offline(False)
    page.get_by_role("button", name="Meet").tap()
    expect(page.locator("main")).to_contain_text("This phone has left the crew", timeout=15000)
    until(page, f"async () => (await ({ROWS})()).length === 1")
    assert [change["kind"] for change in page.evaluate(IN_BOX)] == ["took"]
    # What it cannot send itself another brings as a file; of a lost phone the skipper decides.
    with page.expect_download() as saved:
        page.get_by_role("button", name="Hand over as a file").tap()
    skipper.open("#/aboard/phone")
    choose = aboard.locator('[name="handed-over"]')
    choose.set_input_files({"name": "x.json", "mimeType": "application/json", "buffer": b"{}"})
    expect(aboard.get_by_text("no file of another phone's changes")).to_be_visible()
    for said in ("1 waiting for the skipper", "1 known already"):
        choose.set_input_files(saved.value.path())
        expect(aboard.locator('[data-piece="bring-file"] .answer')).to_have_text(said)
    waits, = aboard.evaluate(ASK, ["GET", "held", None])["held"]
    assert (waits["why"], waits["kind"]) == ("handed over", "took")


def test_one_who_left_hands_in_what_was_made_before_as_soon_as_the_app_is_opened(
        make_phone: Callable[..., Any], own_address: str) -> None:
    phone = make_phone(own_address, service_workers="block")
    page = phone.open("#/aboard/phone")
    page.get_by_role("button", name="Keep her records on this phone").tap()
    expect(page.get_by_text("Last met the boat's computer")).to_be_visible(timeout=20000)
    dev = page.evaluate("async () => (await import('/kept/kept.js')).device.value.dev")
    phone.context.route("**/api/**", lambda route: route.abort())
    assert page.evaluate(RECORD, ["do/took", {"part": "P034", "locker": "L17"}]) == "recorded"
    # A request that is still under way when the page is left reaches her all the same.
    until(page, """async () => {
      const { isSyncing, stop } = (await import("/kept/kept.js")).exchange.value;
      return !isSyncing && stop === "no-answer";
    }""")
    assert [change["as"] for change in page.evaluate(IN_BOX)] == ["waiting"]
    page.goto("about:blank")
    phone.context.unroute_all()
    asked = Request(f"{own_address}/api/devices/{dev}/revoke", b'{"how": "retired"}',
                    {"Content-Type": "application/json", "X-Spares": "1"})
    urlopen(asked).close()
    phone.open("#/aboard/phone")
    expect(page.locator('[data-kept="held"]')).to_have_count(1, timeout=20000)

"""What tests of pages in a browser share: wait until a page is settled, and what is too wide or too small on it."""

from __future__ import annotations

from typing import Any

LONG = 60_000
"""How long a plan, a night or the papers may take on a busy machine [ms]."""
TOO_WIDE = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
SMALL_TARGETS = """() => ['button', '.button', 'input:not([type=hidden])', 'select', 'summary', 'nav a']
  .flatMap(kind => [...document.querySelectorAll(kind)])
  .filter(each => each.offsetParent !== null && !each.matches('[type=checkbox], [type=radio], .why > summary'))
  .map(each => [each.outerHTML.slice(0, 80), each.getBoundingClientRect().height])
  .filter(([, height]) => height < 47.5)"""


def settled(page: Any, address: str = "") -> None:
    """Go to an address, and wait until nothing on the page is still being worked out."""
    if address:
        page.goto(address)
    page.wait_for_selector(".progress[hx-get], [hx-trigger=load]", state="detached", timeout=LONG)
    page.wait_for_selector(".htmx-request", state="detached", timeout=LONG)
    if page.locator(".looking").count():
        page.wait_for_selector(".looking[data-frames]")
        page.wait_for_selector("text=Working it out.", state="detached")


def faults_of_size(page: Any) -> list[str]:
    """Return what is wider than the screen (drawings and tables are pushed sideways by themselves) or too small."""
    wide = page.evaluate(TOO_WIDE)
    found = [f"{wide} px wider than the screen"] if wide else []
    return found + [f"{height:g} px high: {words}" for words, height in page.evaluate(SMALL_TARGETS)]

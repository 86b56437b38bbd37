"""The office under load: time of each page with 1 and with 20 users and 500 properties, bytes, a frame of the look.

A server process (waitress, SQLite in a temporary folder) is asked over the loopback; the time is from the question to
the last byte of the answer, so that with 20 users it holds the waiting for others. Plans are there before the clock
starts; the first plan of a property is benchmarks/plan.py. Bars: a first page under 150 kB without photographs, and a
frame of the live look under 100 ms (95 of 100) on the demo with one user; the processor's own time of a frame
stands beside it, for on a busy machine the clock counts what others do. Run: ``./run bench office``.
"""

from __future__ import annotations

import http.client
import json
import math
import os
import random
import re
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

ROOT = Path(__file__).parents[1]
DEMO = ROOT / "examples" / "demo"
PORT = 8479
PROPERTIES, USERS = 500, 20
ALONE, EACH = 15, 6
"""Asks of each page by one user alone, and by each of many."""
FIRST_PAGE, FRAME = 150.0, 100.0
"""The bars: kB of a first page, milliseconds of a frame."""
READY_SECONDS = 120.0
WIDTHS = (12, 8, 15, 8, 9, 13)


def fill() -> None:
    """Fill the database with a firm, its people and its properties, and print what a client needs."""
    import django

    django.setup()
    from datetime import date

    from django.core.management import call_command
    from django.test import Client

    from sightwash.office.bridge.documents import canonical
    from sightwash.office.firms import new_firm
    from sightwash.office.models import FirmDocument, Person, Property, Visit
    from sightwash.site.conditions import Conditions
    from sightwash.site.model import Site
    from sightwash.site.rates import Rates
    from sightwash.site.rig import Rig

    call_command("migrate", verbosity=0, interactive=False)
    kinds: dict[str, Any] = {"site": Site, "rig": Rig, "rates": Rates, "conditions": Conditions}
    texts = {kind: canonical((DEMO / f"{kind}.yaml").read_text(encoding="utf-8"), kinds[kind]) for kind in kinds}
    firm = new_firm("Alder Wash")
    for kind in ("rig", "rates"):
        FirmDocument.objects.filter(firm=firm, kind=kind).update(text=texts[kind])
    made = [
        Property(firm=firm, name=f"Corner shops {k:03}", address=f"{k} Mill Road", site=texts["site"])
        for k in range(PROPERTIES)
    ]
    Property.objects.bulk_create(made)
    first = Property.objects.order_by("pk")[0]
    visits = [Visit(property=first, on=date(2026, 7, 11), conditions=texts["conditions"])]
    visits += [Visit(property=each, on=date(2026, 7, 12), state="offered", conditions="") for each in made[1:120]]
    Visit.objects.bulk_create(visits)
    cookies = []
    for k in range(USERS):
        client = Client()
        client.force_login(Person.objects.create_person(firm, f"p{k}@example.org", f"Person {k}", None, "owner"))
        cookies.append(client.cookies["office_session"].value)
    print(json.dumps({"property": first.pk, "visit": first.visits.get().pk, "cookies": cookies}))


@contextmanager
def server(home: str) -> Iterator[dict[str, Any]]:
    """Start the office on the loopback over a filled database; stop it afterwards."""
    environment = {
        **os.environ, "SIGHTWASH_HOME": home, "SIGHTWASH_SECRET": "a benchmark's own secret", "SIGHTWASH_DATABASE": "",
        "DJANGO_SETTINGS_MODULE": "sightwash.office.settings", "PYTHONPATH": str(ROOT / "src"),
    }  # fmt: skip
    filled = subprocess.run(
        [sys.executable, __file__, "fill"], env=environment, check=True, capture_output=True, text=True
    )
    command = [sys.executable, "-m", "sightwash.office", "--port", str(PORT)]
    process = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        yield {**json.loads(filled.stdout.splitlines()[-1]), "process": process.pid}
    finally:
        process.terminate()
        process.wait(20)


class Asker:
    """One user with one connection."""

    def __init__(self, cookie: str) -> None:
        self.headers = {"Cookie": f"office_session={cookie}", "Accept-Encoding": "gzip", "Accept": "text/html"}
        self.line = http.client.HTTPConnection("127.0.0.1", PORT, timeout=60)

    def ask(self, address: str, **headers: str) -> tuple[float, int, bytes, str]:
        """Return seconds to the last byte, status, the bytes as sent, and their encoding."""
        start = time.perf_counter()
        self.line.request("GET", address, headers={**self.headers, **headers})
        answer = self.line.getresponse()
        content = answer.read()
        return time.perf_counter() - start, answer.status, content, answer.headers.get("Content-Encoding", "")


def ready(asker: Asker, addresses: dict[str, str]) -> None:
    """Wait until the server answers and every page has its plan and its night."""
    end = time.monotonic() + READY_SECONDS
    while True:
        try:
            waiting = [name for name, each in addresses.items() if b'class="progress"' in plain(asker.ask(each))]
        except OSError:
            asker.line.close()
            waiting = ["the server"]
        if not waiting:
            return
        if time.monotonic() > end:
            raise TimeoutError(f"not ready: {', '.join(waiting)}")
        time.sleep(0.5)


def plain(answer: tuple[float, int, bytes, str]) -> bytes:
    """Return an answer's content as it was before it was packed."""
    import gzip

    return gzip.decompress(answer[2]) if answer[3] == "gzip" else answer[2]


def pages(found: dict[str, Any]) -> dict[str, str]:
    """Return the addresses that are measured, by name."""
    place, visit = f"/properties/{found['property']}", f"/visits/{found['visit']}"
    return {
        "properties": "/", "search": "/?q=corner+41", "property": f"{place}/", "who sees it": f"{place}/who-sees-it/",
        "who reaches it": f"{place}/who-reaches-it/", "with what": f"{place}/with-what/",
        "how long": f"{place}/how-long/", "the night": f"{place}/how-long/night/",
        "cost": f"{place}/what-does-it-cost/", "options": f"{place}/what-does-it-cost/options/",
        "is it done": f"{place}/is-it-done/", "a part": f"{place}/part/?part=row-front",
        "a wall": f"{place}/wall/?part=row-front",
        "assumptions": f"{place}/assumptions/", "visits": f"{place}/visits/", "visit": f"{visit}/",
        "rates": "/figures/rates/", "api list": "/api/properties", "api site": f"/api{place}/site",
    }  # fmt: skip


def alone(asker: Asker, addresses: dict[str, str]) -> dict[str, list[float]]:
    """Return the times of each page with one user."""
    return {name: [asker.ask(address)[0] for _ in range(ALONE)] for name, address in addresses.items()}


def together(cookies: list[str], addresses: dict[str, str]) -> dict[str, list[float]]:
    """Return the times of each page with many users who ask all pages in an order of their own, without a pause."""
    times: dict[str, list[float]] = {name: [] for name in addresses}
    wrong: list[str] = []

    def use(cookie: str, seed: int) -> None:
        asker, order = Asker(cookie), list(addresses) * EACH
        random.Random(seed).shuffle(order)
        for name in order:
            seconds, status, _, _ = asker.ask(addresses[name])
            times[name].append(seconds)
            if status != 200:
                wrong.append(f"{name}: {status}")

    threads = [threading.Thread(target=use, args=(cookie, seed)) for seed, cookie in enumerate(cookies)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if wrong:
        raise RuntimeError(f"refused under load: {sorted(set(wrong))}")
    return times


def share(times: list[float], level: float) -> float:
    """Return the time [ms] that a share of the asks stays below."""
    return statistics.quantiles(times, n=100, method="inclusive")[round(level * 100) - 1] * 1000


def whole_page(asker: Asker, address: str) -> float:
    """Return the kB that a first visit to a page fetches: the page, its styles, scripts, faces; no photographs."""
    answer = asker.ask(address)
    total, seen = len(answer[2]), set()
    waiting = re.findall(r'(?:href|src)="(/static/[^"]+)"', plain(answer).decode())
    while waiting:
        each = waiting.pop()
        if each not in seen:
            seen.add(each)
            got = asker.ask(each)
            total += len(got[2])
            if urlsplit(each).path.endswith(".css"):
                waiting += re.findall(r'url\("?(/[^)"]+)"?\)', plain(got).decode())
    return total / 1000


def frames(asker: Asker, found: dict[str, Any]) -> list[float]:
    """Return the times of frames of the live look: an eye that walks along the front."""
    place = f"/properties/{found['property']}/who-sees-it/frame/"
    asked = [f"{place}?x={step}&y={-12 - step % 40}&z=1.6" for step in range(0, 120, 2)]
    for each in asked[:3]:
        asker.ask(each, Accept="application/json")
    return [asker.ask(each, Accept="application/json")[0] for each in asked]


def processor(found: dict[str, Any]) -> float:
    """Return the seconds of the processor that the server took so far; nothing where the system does not tell."""
    try:
        fields = Path(f"/proc/{found['process']}/stat").read_text(encoding="ascii").rsplit(")", 1)[1].split()
    except OSError:
        return math.nan
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def main() -> None:
    """Measure everything and print the table and the verdict."""
    with tempfile.TemporaryDirectory() as home, server(home) as found:
        asker, addresses = Asker(found["cookies"][0]), pages(found)
        ready(asker, addresses)
        begun = processor(found)
        look = frames(asker, found)
        worked = (processor(found) - begun) / (len(look) + 3) * 1000
        one = alone(asker, addresses)
        many = together(found["cookies"], addresses)
        print(f"{PROPERTIES} properties; milliseconds to the last byte; bytes as sent")
        heads = ("1 user p50", "p95", f"{USERS} users p50", "p95", "bytes", "first visit")
        print("page".ljust(16) + "".join(head.rjust(width) for head, width in zip(heads, WIDTHS, strict=True)))
        sizes = {}
        for name, address in addresses.items():
            sizes[name] = whole_page(asker, address)
            figures = (share(one[name], 0.5), share(one[name], 0.95), share(many[name], 0.5), share(many[name], 0.95))
            cells = "".join(f"{each:{width}.0f}" for each, width in zip(figures, WIDTHS, strict=False))
            print(f"{name:16}{cells}{len(asker.ask(address)[2]):9,}{sizes[name]:10.1f} kB")
    value = {
        "first_page_kb": round(max(sizes.values()), 1),
        "look_p95_ms": round(share(look, 0.95), 1),
        "look_p50_ms": round(share(look, 0.5), 1),
        "look_processor_ms": None if math.isnan(worked) else round(worked, 1),
        "one_user_p50_ms": round(max(share(times, 0.5) for times in one.values())),
        "one_user_p95_ms": round(max(share(times, 0.95) for times in one.values())),
        "twenty_users_p50_ms": round(max(share(times, 0.5) for times in many.values())),
        "twenty_users_p95_ms": round(max(share(times, 0.95) for times in many.values())),
    }
    bar = {"first_page_kb": FIRST_PAGE, "look_p95_ms": FRAME}
    holds = value["first_page_kb"] < FIRST_PAGE and value["look_p95_ms"] < FRAME
    print(json.dumps({"name": "office", "value": value, "bar": bar, "holds": holds}))


if __name__ == "__main__":
    if sys.argv[1:] == ["fill"]:
        fill()
    else:
        main()

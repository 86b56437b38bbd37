"""The proposal and agreement: what was seen, what is washed and what not, what it costs, terms, acceptance."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Final

from sightwash.papers.drawings.lettering import length_words
from sightwash.papers.drawings.views import strip_letters
from sightwash.papers.job import Job, set_paper
from sightwash.papers.offers import extra_rows, option_rows
from sightwash.papers.scope_lines import capital, patch_words, scope_lines
from sightwash.papers.terms import agreement_terms, all_rewritten, deposit
from sightwash.papers.typesetter import JSON
from sightwash.planning.extras import Exclusion
from sightwash.planning.missed import MissedStrip
from sightwash.site.eyes import Eye

MOST_STRIPS: Final = 6
LEAST_MISSED: Final = 0.02
"""Share of a patch below which it is not named as missed [-]."""
ENOUGH: Final = 0.9
"""Share of a strip's height that is enough for a look at it [-]."""


def agreement(job: Job) -> bytes:
    """Return the proposal and agreement as a PDF."""
    words = job.words("agreement")
    eye = road_eye(job)
    title = words["title"].format(property=job.plan.name)
    data: dict[str, JSON] = {
        "words": words,
        "head": _head(job, words),
        "price": _price(job, words),
        "seen": {
            "text": words["seen_text"].format(eye=eye.name or eye.id) if eye else words["seen_no_view"],
            "picture": words["picture_page"].format(eye=eye.name or eye.id) if eye else None,
            "strips": list(_strips(job, words)),
        },
        "scope": [[line.name, "\n".join(line.work), line.area, job.money(line.amount)] for line in scope_lines(job)],
        "excluded": [list(_excluded(job, each, words)) for each in job.plan.exclusions],
        "extras": extra_rows(job),
        "options": option_rows(job),
        "terms": [list(term) for term in agreement_terms(job)],
        "draft": None if job.firm.terms_read or all_rewritten(job) else words["draft"],
        "orders": list(_orders(job, words)),
        "signing": words["for_firm"].format(firm=job.firm.name) if job.firm.name else words["for_us"],
    }
    pictures = {"road": job.drawings.view(eye.id)} if eye else {}
    return set_paper(job, "agreement", title, data, pictures)


def road_eye(job: Job) -> Eye | None:
    """Return the public eye whose view stands on the paper: a road before others, then the one most people share."""
    public = [eye for eye in job.site.eyes if eye.kind != "crew"]
    return max(public, key=lambda eye: (eye.kind == "road", eye.per_day or 0.0), default=None)


def _head(job: Job, words: dict[str, str]) -> JSON:
    firm, plan, address = job.firm, job.plan, job.site.place.address
    days = firm.terms.validity_days
    rows = [[words["for"], "\n".join(job.customer)]] if job.customer else []
    rows.append([words["property"], "\n".join((plan.name, *([address] if address else [])))])
    rows.append([words["visit"], job.day(plan.on)])
    if days and job.dated:
        rows.append([words["valid"], job.day(job.dated + timedelta(days=days))])
    elif days:
        rows.append([words["valid"], words["valid_days"].format(days=days)])
    small = [*firm.licences, *([f"{words['tax_number']} {firm.tax_number}"] if firm.tax_number else [])]
    return {
        "number": words["number"].format(number=job.number) if job.number else None,
        "date": job.day(job.dated) if job.dated else None,
        "rows": rows,
        "small": small,
    }


def _price(job: Job, words: dict[str, str]) -> JSON:
    price, terms = job.plan.price, job.firm.terms
    taxes = [f"{tax.name}, {tax.rate}: {job.money(tax.amount)}" for tax in price.taxes]
    if taxes:
        with_tax = words["price_with_tax"].format(tax="; ".join(taxes), total=job.money(price.total))
    else:
        with_tax = words["price_no_tax"]
    due = ""
    if terms.deposit > 0 and terms.payment_days:
        first = deposit(job)
        due = words["deposit_line"].format(
            deposit=job.money(first), rest=job.money(price.total - first), days=terms.payment_days
        )
    elif terms.payment_days:
        due = words["due_line"].format(days=terms.payment_days)
    totals = [[words["scope_total"], "", "", job.money(price.price)]]
    totals += [[f"{tax.name}, {tax.rate}", "", "", job.money(tax.amount)] for tax in price.taxes]
    totals += [[words["scope_with_tax"], "", "", job.money(price.total)]] if price.taxes else []
    return {"figure": job.money(price.price), "tax": with_tax, "due": due, "totals": totals}


def _strips(job: Job, words: dict[str, str]) -> Iterator[str]:
    letters = strip_letters(job.plan)
    for strip in job.plan.missed[:MOST_STRIPS]:
        yield _strip_words(job, strip, letters[strip.id], words)
    left = len(job.plan.missed) - MOST_STRIPS
    if left > 0:
        yield words["strips_more"].format(count=left)
    names = {patch.id: patch for takeoff in job.plan.walls for patch in takeoff.patches if patch.given}
    for line in job.plan.soiled_and_missed:
        patch = names.get(line.patch)
        if patch is not None and line.public > 0 and line.missed > LEAST_MISSED * line.public:
            what, share = capital(patch_words(job, patch)), f"{line.missed / line.public:.0%}"
            yield words["patch_missed"].format(patch=what, share=share)


def _strip_words(job: Job, strip: MissedStrip, letter: str, words: dict[str, str]) -> str:
    units = job.plan.units
    walls = {wall.id: wall for wall in job.site.walls}
    eyes = {eye.id: eye.name or eye.id for eye in job.site.eyes}
    seen = [
        words["seconds"].format(eye=eyes.get(notice.eye, notice.eye), seconds=f"{notice.seconds:.0f}")
        for notice in strip.notices
    ]
    under = [item for item in walls[strip.wall].projections if item.id == strip.over]
    over = words["strip_over"].format(what=job.words("kinds")[under[0].kind]) if under else ""
    text = words["strip"].format(
        letter=letter,
        wall=walls[strip.wall].name or strip.wall,
        bottom=length_words(strip.bottom, units),
        top=length_words(strip.top, units),
        length=length_words(strip.right - strip.left, units),
        over=over,
        eyes=", ".join(seen) or words["everyone"],
    )
    ways = [remedy for remedy in strip.remedies if remedy.kind != "ladder" and remedy.allowed]
    best = max(ways, key=lambda remedy: (min(remedy.share, ENOUGH), -remedy.distance), default=None)
    return text if best is None else f"{text} {words['strip_check'].format(remedy=best.words)}"


def _excluded(job: Job, each: Exclusion, words: dict[str, str]) -> Iterator[str]:
    """Yield what is not included and why: the site's own reason, ours for its kind, or the rule of the plan."""
    walls = {f"not-{wall.id}": wall for wall in job.site.walls if wall.excluded is not None}
    if each.id in walls:
        wall = walls[each.id]
        yield from (wall.name or wall.id, wall.excluded or "")
        return
    kind = "gum-doors" if each.id.startswith("gum-doors-") else each.id.split("-", 1)[0]
    offered = {f"ground-{add.id.removeprefix('pad-')}" for add in job.plan.add_ons if add.id.startswith("pad-")}
    yield capital(each.words)
    yield words["why_ground_offered"] if each.id in offered else words.get(f"why_{kind}", each.why.rule)


def _orders(job: Job, words: dict[str, str]) -> Iterator[str]:
    yield words["order_base"].format(price=job.money(job.plan.price.price))
    options = job.night.options if job.night else ()
    for option in options:
        if option.repeat is not None and option.scope == options[0].scope:
            count = option.visits_a_year
            visits = words.get(f"visits_{count}", words["visits_n"].format(count=count))
            yield words["order_repeat"].format(visits=visits, price=job.money(option.repeat))
    for extra in job.plan.add_ons:
        yield words["order_extra"].format(what=capital(extra.words), price=job.money(extra.price))

"""The entries of a book by what they are called, kept along as entries are added."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TypeVar

from sightwash.book.entries import Credit, Entry, Invoice, Job, LateCharge, Payment, Returned, Waiver

Kept = TypeVar("Kept")


@dataclass(frozen=True, slots=True)
class BookIndex:
    """Jobs, invoices, credit notes and payments by name, the entries of each job."""

    jobs: Mapping[str, Job] = field(default_factory=dict)
    invoices: Mapping[str, Invoice] = field(default_factory=dict)
    credits: Mapping[str, Credit] = field(default_factory=dict)
    payments: Mapping[str, Payment] = field(default_factory=dict)
    of_job: Mapping[str, tuple[Entry, ...]] = field(default_factory=dict)

    def job_of(self, entry: Entry) -> str:
        """Return the job that an entry belongs to, by the invoice or the payment that it names."""
        if isinstance(entry, Returned):
            return self.payments[entry.payment].job
        if isinstance(entry, (Credit, LateCharge, Waiver)):
            return self.invoices[entry.invoice].job
        return entry.job

    def plus(self, entry: Entry) -> BookIndex:
        """Return the index with one entry more."""
        job = self.job_of(entry)
        found = replace(self, of_job=_with(self.of_job, job, (*self.of_job.get(job, ()), entry)))
        if isinstance(entry, Job):
            return replace(found, jobs=_with(self.jobs, entry.job, entry))
        if isinstance(entry, Invoice):
            return replace(found, invoices=_with(self.invoices, entry.number, entry))
        if isinstance(entry, Credit):
            return replace(found, credits=_with(self.credits, entry.number, entry))
        if isinstance(entry, Payment):
            return replace(found, payments=_with(self.payments, entry.id, entry))
        return found


def _with(held: Mapping[str, Kept], name: str, value: Kept) -> Mapping[str, Kept]:
    return {**held, name: value}

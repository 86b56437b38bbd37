"""``accounts``: the account book on the command line, one verb for each thing that is written into it."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path

from sightwash.cli.account_papers import add_paper_verbs
from sightwash.cli.account_runs import (
    run_agree,
    run_change,
    run_credit,
    run_invoice,
    run_late,
    run_new,
    run_payment,
    run_refund,
    run_returned,
    run_waive,
)
from sightwash.cli.account_words import agreed_line, amount_of_line, money, paper_options, part
from sightwash.cli.output import Commands
from sightwash.cli.plan import read_day

Run = Callable[[argparse.Namespace], int]


def add_accounts(commands: Commands) -> None:
    """Add the ``accounts`` command with its verbs."""
    parser = commands.add_parser("accounts", help="agreements, invoices, payments, credit notes, statements")
    verbs: Commands = parser.add_subparsers(dest="verb", required=True, parser_class=type(parser))
    _add_new(verbs)
    _add_agreements(verbs)
    _add_invoices(verbs)
    _add_money(verbs)
    add_paper_verbs(verbs)


def _verb(verbs: Commands, name: str, help_text: str, run: Run) -> argparse.ArgumentParser:
    """Return the parser of one verb that writes into the book on a day."""
    parser: argparse.ArgumentParser = verbs.add_parser(name, help=help_text)
    parser.add_argument("--book", type=Path, required=True, metavar="FILE", help="the account book")
    parser.add_argument(
        "--on", type=read_day, required=True, metavar="DATE", help="day of the entry, such as 2026-07-12"
    )
    parser.set_defaults(run=run, json=False)
    return parser


def _add_new(verbs: Commands) -> None:
    parser = verbs.add_parser("new", help="open an account book")
    parser.add_argument("--book", type=Path, required=True, metavar="FILE", help="the file to write")
    parser.add_argument("--currency", default="USD")
    parser.add_argument("--invoice-numbers", default="{year}-{number:04}", metavar="PATTERN")
    parser.add_argument("--credit-numbers", default="C{year}-{number:04}", metavar="PATTERN")
    parser.add_argument("--first-invoice", type=int, default=1, metavar="N", help="count of the first invoice")
    parser.set_defaults(run=run_new, json=False)


def _add_agreements(verbs: Commands) -> None:
    agree = _verb(verbs, "agree", "take an agreement into the book, from a plan or from a document", run_agree)
    agree.add_argument("job", metavar="JOB", help="short id of the job, such as larkspur-2026")
    given = agree.add_mutually_exclusive_group(required=True)
    given.add_argument("--plan", type=Path, metavar="FILE", help="plan.json, whose scope and price are agreed")
    given.add_argument("--from", type=Path, dest="document", metavar="FILE", help="lines and terms, JSON or YAML")
    agree.add_argument("--customer", metavar="ID", help="short id that all jobs of a customer share (with --plan)")
    agree.add_argument("--name", help="name of the customer (with --plan)")
    agree.add_argument("--address", action="append", default=[], metavar="LINE", help="a line of the address")
    agree.add_argument("--extra", action="append", default=[], metavar="ID", help="an extra of the plan")
    agree.add_argument("--firm", type=Path, metavar="FILE", help="the firm, whose terms are agreed (with --plan)")
    agree.add_argument("--agreement", metavar="WORDS", help="number or date of the agreement")
    agree.add_argument("--reference", metavar="WORDS", help="the customer's own reference")

    change = _verb(verbs, "change", "add approved lines to an agreement", run_change)
    change.add_argument("job", metavar="JOB")
    change.add_argument("--line", type=agreed_line, action="append", required=True, metavar="ID=AMOUNT:WORDS")
    change.add_argument("--tax", action="append", default=[], metavar="ID", help="a tax on these lines")
    change.add_argument("--approved-by", required=True, metavar="NAME")
    change.add_argument("--how", required=True, metavar="WORDS", help="such as: message at 02:10")


def _add_invoices(verbs: Commands) -> None:
    invoice = _verb(verbs, "invoice", "invoice what is left of a job, some lines, or a part", run_invoice)
    invoice.add_argument("job", metavar="JOB")
    invoice.add_argument("--line", action="append", default=[], metavar="ID", help="only this line; may be repeated")
    invoice.add_argument("--part", type=part, metavar="SHARE", help="only this part of each line, such as `50 %%`")
    invoice.add_argument("--note")
    paper_options(invoice)

    credit = _verb(verbs, "credit", "credit an invoice, whole or in part", run_credit)
    credit.add_argument("invoice", metavar="INVOICE")
    credit.add_argument("--reason", required=True)
    credit.add_argument(
        "--line", type=amount_of_line, action="append", default=[], metavar="ID=AMOUNT",
        help="an amount before tax; without it all that is left of the invoice",
    )  # fmt: skip
    credit.add_argument("--again", action="store_true", help="the credited lines may be invoiced anew")
    paper_options(credit)


def _add_money(verbs: Commands) -> None:
    payment = _verb(verbs, "payment", "write down money that came in", run_payment)
    payment.add_argument("job", metavar="JOB")
    payment.add_argument("--amount", type=money, required=True)
    payment.add_argument("--by", required=True, metavar="WORDS", help="such as: check 1042")
    payment.add_argument("--invoice", metavar="NUMBER", help="without it the money is held, as a deposit is")

    returned = _verb(verbs, "returned", "mark a payment as come back, or as written down in error", run_returned)
    returned.add_argument("payment", metavar="PAYMENT")
    returned.add_argument("--reason", required=True)

    refund = _verb(verbs, "refund", "pay money back that is held for a job", run_refund)
    refund.add_argument("job", metavar="JOB")
    refund.add_argument("--amount", type=money, required=True)
    refund.add_argument("--by", required=True, metavar="WORDS")

    late = _verb(verbs, "late", "charge what was agreed for late payment, up to the day", run_late)
    late.add_argument("invoice", metavar="INVOICE")

    waive = _verb(verbs, "waive", "let late charges go", run_waive)
    waive.add_argument("invoice", metavar="INVOICE")
    waive.add_argument("--amount", type=money, required=True)
    waive.add_argument("--reason", required=True)

"""Which figures of a document the short form asks for, and in what words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: where it stands in the document, its name, and what it does."""

    path: str
    words: str
    help: str
    long: bool = False


RIG: Final = (
    Figure("machine.flow", "Flow of the machine", "From its plate, such as 5.5 gal/min."),
    Figure("machine.pressure", "Pressure of the machine", "From its plate, such as 3500 psi."),
    Figure(
        "hoses.0.length", "Length of the hose", "In feet, or with a unit. It decides what pressure is left at the tip."
    ),
    Figure("hoses.0.bore", "Bore of the hose", "Inside width, such as 3/8 in."),
    Figure("bleach.strength", "Strength of the bleach when dated", "As on the label, such as 12.5 trade %."),
    Figure("bleach.dated", "Date on the bleach", "It weakens from then on, such as 2026-06-26."),
    Figure("bleach.storage_temperature", "Where the bleach stands, how warm", "Such as 84 F: warmth weakens it."),
    Figure("crew.people", "People on the crew", "Two is usual: one washes, one minds the public."),
)
RATES: Final = (
    Figure("labour.wage", "Wage an hour", "What you pay, before what you add to it, such as 24.00."),
    Figure("labour.burden", "Payroll burden", "Taxes and insurance on wages, such as 22 %."),
    Figure("machine_hour", "An hour of the machine", "Fuel, wear and repair with the pump running, such as 28.00."),
    Figure("travel.miles", "Miles of the drive", "Out and back."),
    Figure("travel.a_mile", "A mile of the rig", "Fuel and wear, such as 1.10."),
    Figure("travel.time", "Time of the drive", "Out and back for the whole crew, such as 70 min."),
    Figure("overhead", "Overhead", "Share on direct cost for all that no job pays by itself, such as 18 %."),
    Figure("margin", "Margin", "Share of the price that is left for you, such as 32 %."),
    Figure("minimum_charge", "Least charge", "No visit costs less than this."),
    Figure("rounding", "Rounded up to", "The price goes up to a multiple of it. Empty: 5."),
    Figure("currency", "Currency", "Three letters. Empty: USD."),
)
FIRM: Final = (
    Figure("name", "Name on the papers", "As customers know it."),
    Figure("address", "Address", "Lines as they stand on a letter.", long=True),
    Figure("phone", "Telephone", "For customers by day."),
    Figure("night_phone", "Telephone at night", "For the crew sheet."),
    Figure("email", "E-mail", "For customers."),
    Figure("pay_to", "Payment to", "As it stands on the invoice.", long=True),
    Figure("insurance", "Insurance", "Printed as written.", long=True),
    Figure("tax_number", "Tax number", "Printed as written."),
    Figure("paper", "Paper", "letter or a4. Empty: letter."),
    Figure("terms.validity_days", "An offer stands for, days", "Such as 30."),
    Figure("terms.payment_days", "Payment within, days", "Such as 14."),
    Figure("terms.deposit", "Deposit", "Share of the price at acceptance, such as 25 %. Empty for none."),
)
ASKED: Final = {"rig": RIG, "rates": RATES, "firm": FIRM}
TITLES: Final = {"rig": "Rig", "rates": "Rates", "firm": "Firm on paper"}
"""The documents in the order in which a new firm fills them in."""

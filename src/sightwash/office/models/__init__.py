"""What the office keeps: firms, their people, properties, visits, offers. Each query begins with its firm."""

from sightwash.office.models.firm import Firm, FirmDocument
from sightwash.office.models.people import Invitation, Person
from sightwash.office.models.property import Picture, Property, SiteOperation
from sightwash.office.models.trail import AuditLine
from sightwash.office.models.visit import Offer, OfferPaper, Visit

__all__ = [
    "AuditLine",
    "Firm",
    "FirmDocument",
    "Invitation",
    "Offer",
    "OfferPaper",
    "Person",
    "Picture",
    "Property",
    "SiteOperation",
    "Visit",
]

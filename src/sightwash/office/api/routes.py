"""What the API does: properties, their sites, operations on them, plans, schemas."""

from __future__ import annotations

import json
from typing import Annotated, Any, Literal

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe
from ninja import NinjaAPI, Path, Query, Status
from ninja.errors import HttpError

from sightwash import __version__
from sightwash.office.access import firm_object_or_404
from sightwash.office.api import schemas
from sightwash.office.api.faults import add_faults
from sightwash.office.api.sign_in import KeyAuth, SessionAuth, person_of, planner_of
from sightwash.office.bridge.documents import canonical
from sightwash.office.bridge.papers import documents_of
from sightwash.office.bridge.planning import inputs_of, plan_soon
from sightwash.office.draw.saving import Asked, do_operation
from sightwash.office.models import Property
from sightwash.papers.plan_document import OUTPUTS, output_schema, output_text
from sightwash.site.conditions import Conditions
from sightwash.site.operations import operation_from
from sightwash.site.site_file import KINDS, document_schema

A_PAGE = 100
LONGEST_WAIT = 25.0
"""How long a program waits for a plan before it is told to ask again [s]."""
Number = Annotated[int, Path(ge=1, le=2**63 - 1)]
SchemaName = Literal["site", "rig", "rates", "conditions", "firm", "plan", "check", "error"]
REFUSALS: dict[int, Any] = {401: schemas.Errors, 403: schemas.Errors, 422: schemas.Errors}
OF_RECORD: dict[int, Any] = {**REFUSALS, 404: schemas.Errors}

api = NinjaAPI(
    title="Sightwash",
    version=__version__,
    description="Properties of a firm, their measured sites, operations on them, and plans. Every answer is JSON.",
    urls_namespace="api",
    docs_url=None,
    docs_decorator=require_safe,
    auth=[KeyAuth(), SessionAuth()],
)
add_faults(api)


@api.get("/properties", response={200: schemas.PropertyList, **REFUSALS}, url_name="properties")
def properties(
    request: HttpRequest,
    search: Annotated[str, Query(max_length=100)] = "",
    after: Annotated[int, Query(ge=0, le=10_000_000)] = 0,
) -> dict[str, Any]:
    """List the firm's properties by name; ``after`` leaves that many out."""
    found = Property.objects.of(person_of(request).firm).filter(archived=False).defer("site")
    for word in search.replace("\x00", "").split():
        found = found.filter(name__icontains=word)
    rows = list(found[after : after + A_PAGE + 1])
    return {"properties": [_line(row) for row in rows[:A_PAGE]], "more": len(rows) > A_PAGE}


def _line(row: Property) -> dict[str, Any]:
    return {"id": row.pk, "name": row.name, "address": row.address, "revision": row.revision, "next_due": row.next_due}


@api.get("/properties/{number}", response={200: schemas.PropertyLine, **OF_RECORD}, url_name="property")
def one_property(request: HttpRequest, number: Number) -> dict[str, Any]:
    """Read what is written on the folder of a property."""
    return _line(firm_object_or_404(request, Property, number))


@api.get("/properties/{number}/site", response={200: schemas.SiteOut, **OF_RECORD}, url_name="site")
def site(request: HttpRequest, number: Number) -> dict[str, Any]:
    """Read the site document of a property."""
    record = firm_object_or_404(request, Property, number)
    return {"property": record.pk, "revision": record.revision, "site": json.loads(record.site)}


@api.post(
    "/properties/{number}/operations",
    response={200: schemas.OperationOut, **OF_RECORD, 409: schemas.ConflictOut},
    url_name="operations",
)
def operations(request: HttpRequest, number: Number, sent: schemas.OperationIn) -> dict[str, Any]:
    """Do an operation to a site against a revision; where somebody else's stands in the way, both sides come back."""
    person = planner_of(request)
    record = firm_object_or_404(request, Property, number)
    if "\\u0000" in json.dumps([sent.token, sent.operation]):
        raise HttpError(422, "an operation holds no nought characters")
    done = do_operation(record, person, Asked(operation_from(sent.operation), sent.base, sent.token))
    return {"revision": done.revision, "words": done.words, "back": done.back}


@api.post(
    "/properties/{number}/plan",
    response={200: schemas.PlanOut, **OF_RECORD, 202: schemas.Waiting},
    url_name="plan",
)
def plan(request: HttpRequest, number: Number, sent: schemas.PlanIn) -> Any:
    """Plan a visit to a property with the firm's rig and rates; 202 where the plan is not there yet: ask again."""
    person = planner_of(request)
    record = firm_object_or_404(request, Property, number)
    record.firm = person.firm
    conditions = None if sent.conditions is None else canonical(json.dumps(sent.conditions), Conditions)
    inputs = inputs_of(record, sent.on, conditions)
    inputs.documents()
    planning = plan_soon(inputs, LONGEST_WAIT)
    if planning.error is not None:
        raise planning.error
    if planning.fault is not None:
        raise planning.fault
    if planning.plan is None:
        return Status(202, {"step": planning.step, "share": planning.share})
    text = output_text("plan", documents_of(inputs, planning.plan, None), indent=None)
    return HttpResponse(text, content_type="application/json; charset=utf-8")


@api.get("/schema/{name}", response={200: dict[str, Any], **OF_RECORD}, url_name="schema")
def schema(request: HttpRequest, name: SchemaName) -> dict[str, Any]:
    """Read the JSON schema of a document or of an output."""
    del request
    return document_schema(name) if name in KINDS else output_schema(name)


assert set(SchemaName.__args__) <= {*KINDS, *OUTPUTS}  # type: ignore[attr-defined]  # a Literal names its words so

"""The parts of SARIF 2.1.0 that we write, as JSON Schema: our own, written from the standard's text (OASIS, errata 01, sections
in brackets), because no package carries the OASIS schema. Properties that the standard does not define are refused."""

from typing import Any


def obj(required: list[str], **properties: Any) -> dict[str, Any]:
    return {"type": "object", "properties": properties, "required": required, "additionalProperties": False}


def many(items: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": items}


TEXT = {"type": "string"}
POSITIVE = {"type": "integer", "minimum": 1}
INDEX = {"type": "integer", "minimum": -1}
BAG = {"type": "object"}  # 3.8
MESSAGE = obj(["text"], text={"type": "string", "minLength": 1})  # 3.11
LEVEL = {"enum": ["none", "note", "warning", "error"]}  # 3.27.10
ARTIFACT_LOCATION = obj([], uri={"type": "string", "format": "uri-reference"}, uriBaseId=TEXT, index=INDEX)  # 3.4
REGION = obj(  # 3.30
    ["startLine"], startLine=POSITIVE, startColumn=POSITIVE, endLine=POSITIVE, endColumn=POSITIVE
)
LOCATION = obj(  # 3.28
    [],
    id={"type": "integer", "minimum": -1},
    physicalLocation=obj(["artifactLocation"], artifactLocation=ARTIFACT_LOCATION, region=REGION),  # 3.29
    logicalLocations=many(obj([], name=TEXT, fullyQualifiedName=TEXT, kind=TEXT, index=INDEX)),  # 3.33
    message=MESSAGE,
)
COMPONENT_REFERENCE = obj([], name=TEXT, index=INDEX)  # 3.54
DESCRIPTOR_REFERENCE = obj([], id=TEXT, index=INDEX, toolComponent=COMPONENT_REFERENCE, properties=BAG)  # 3.52
DESCRIPTOR = obj(  # 3.49
    ["id"],
    id=TEXT,
    shortDescription=MESSAGE,
    fullDescription=MESSAGE,
    help=MESSAGE,
    defaultConfiguration=obj([], level=LEVEL, rank={"type": "number", "minimum": -1, "maximum": 100}),  # 3.50
    properties=BAG,
)
RESULT = obj(  # 3.27
    ["message"],
    ruleId=TEXT,
    ruleIndex=INDEX,
    kind={"enum": ["notApplicable", "pass", "fail", "review", "open", "informational"]},  # 3.27.9
    level=LEVEL,
    rank={"type": "number", "minimum": -1, "maximum": 100},
    message=MESSAGE,
    locations=many(LOCATION),
    relatedLocations=many(LOCATION),
    partialFingerprints={"type": "object", "additionalProperties": TEXT},  # 3.27.17
    suppressions=many(  # 3.35
        obj(
            ["kind"],
            kind={"enum": ["inSource", "external"]},
            status={"enum": ["accepted", "underReview", "rejected"]},
            justification=TEXT,
            properties=BAG,
        )
    ),
    baselineState={"enum": ["new", "unchanged", "updated", "absent"]},  # 3.27.24
    taxa=many(DESCRIPTOR_REFERENCE),  # 3.27.8
    properties=BAG,
)
RESULT["if"] = {"properties": {"kind": {"not": {"const": "fail"}}}, "required": ["kind"]}
RESULT["then"] = {"properties": {"level": {"const": "none"}}, "required": ["level"]}  # 3.27.10
COMPONENT = obj(  # 3.19
    ["name"],
    name=TEXT,
    version=TEXT,
    semanticVersion=TEXT,
    rules=many(DESCRIPTOR),
    taxa=many(DESCRIPTOR),
    isComprehensive={"type": "boolean"},
    supportedTaxonomies=many(COMPONENT_REFERENCE),
)
NOTIFICATION = obj(  # 3.58
    ["message"], descriptor=obj(["id"], id=TEXT), level=LEVEL, message=MESSAGE, locations=many(LOCATION)
)
RUN = obj(  # 3.14
    ["tool"],
    tool=obj(["driver"], driver=COMPONENT),
    taxonomies=many(COMPONENT),
    columnKind={"enum": ["utf16CodeUnits", "unicodeCodePoints"]},
    artifacts=many(obj([], location=ARTIFACT_LOCATION, sourceLanguage=TEXT)),  # 3.24
    invocations=many(  # 3.20
        obj(["executionSuccessful"], executionSuccessful={"type": "boolean"}, toolExecutionNotifications=many(NOTIFICATION))
    ),
    results=many(RESULT),
)
SARIF = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    **obj(["version", "runs"], **{"$schema": TEXT, "version": {"const": "2.1.0"}, "runs": many(RUN)}),  # 3.13
}

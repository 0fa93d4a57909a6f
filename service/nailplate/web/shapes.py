"""Schemas of what only the service answers with; plans, reports and calculations are published by ``wire``."""

from typing import Any

from nailplate.batch.items import MOST_OPERATIONS
from nailplate.codes import EDITIONS
from nailplate.plan import FaultCode
from nailplate.web.described import refer
from nailplate.web.problems import MOST_ERRORS, PROBLEM_TYPES
from nailplate.web.submission import MOST_NAMES

TEXT = {"type": "string"}
WHOLE = {"type": "integer", "minimum": 0}
BY_CODE = {
    "type": "object",
    "additionalProperties": WHOLE,
    "description": "where not all are listed, how many there are of each code",
}


def an_object(needed: dict[str, Any], further: dict[str, Any] | None = None, **words: Any) -> dict[str, Any]:
    """An object whose first fields are always there; readers ignore fields they don't know."""
    return {"type": "object", "properties": {**needed, **(further or {})}, "required": list(needed), **words}


def _a_list(items: dict[str, Any], **words: Any) -> dict[str, Any]:
    return {"type": "array", "items": items, **words}


_CITATION = an_object(
    {
        "document": {"enum": ["NEC", "IRC"]},
        "edition": TEXT,
        "section": TEXT,
        "text_status": {"enum": ["verified", "memory", "assumed"], "description": "how sure the citation is"},
    },
    {"source": {**TEXT, "description": "the public source in which it was seen"}},
)

_ENTRY = {
    "name": {**TEXT, "examples": ["fan_heaviest"], "description": "as an amendment's `entry` begins: `fan_heaviest.value`"},
    "what": TEXT,
    "section": TEXT,
    "text_status": TEXT,
}
_LIMIT = {**_ENTRY, "figure": {**TEXT, "description": "the figure with its unit, for people"}}
_PROVISION = {**_ENTRY, "holds": {"type": "boolean", "description": "whether the edition asks or allows it"}}
_LIMIT_ALSO = {"value": {"type": "number"}, "unit": TEXT, "source": TEXT}
_OF_EDITION = {"edition": {"enum": list(EDITIONS)}}

_RULE_HEAD = {
    "id": {**TEXT, "examples": ["box-volume"]},
    "title": TEXT,
    "severity": {"enum": ["danger", "code", "advice"]},
    "family": TEXT,
    "subjects": _a_list(TEXT, description="what a report names as looked at"),
    "judges": {**TEXT, "description": "the maps of a plan whose parts it judges, with a comma between several, or `plan`"},
    "needs": _a_list(TEXT, description="facts of the part without which nothing is judged"),
    "dwelling_only": {"type": "boolean"},
    "hazards": _a_list(an_object({"name": TEXT, "caution": TEXT})),
    "citations": _a_list(_CITATION),
}

_CHANGE = an_object(
    {"edition": TEXT, "document": {"enum": ["NEC", "IRC"]}, "what": {**TEXT, "description": "what that edition changed"}}
)

_PROBLEM_TYPE = an_object({"type": TEXT, "status": WHOLE, "title": TEXT, "meaning": TEXT})

_CASE = an_object(
    {
        "description": TEXT,
        "editions": _a_list(TEXT, description="editions under which it is answered so: `nec-2023`"),
        "plan": {"type": "object", "description": "the parts of a plan that matter"},
        "expect": _a_list({"type": "object"}),
    },
    {"shown": {"type": "boolean", "description": "always true: a case that is not shown is not listed"}},
)

_OPERATION = an_object(
    {"op": {"enum": ["add", "replace", "remove", "move", "test"]}, "path": TEXT}, {"value": {}, "from": TEXT}
)
_OF_FIX = {"finding": {**TEXT, "description": "fingerprint"}, "rule": TEXT, "words": TEXT}
_FOUND = an_object({"fingerprint": TEXT, "rule": TEXT, "outcome": TEXT, "pointer": TEXT})
_PATCH = {"type": "array", "items": _OPERATION, "maxItems": MOST_OPERATIONS}
_HEAD = {
    "batch_format": {"const": 1},
    "bases": {"type": "object", "additionalProperties": refer("Plan"), "description": "plans by name"},
    "jurisdictions": {
        "type": "object",
        "additionalProperties": an_object({"jurisdiction": TEXT, "amendments": {"type": "object"}}),
        "description": "local amendments by name, as a plan's basis has them",
    },
    "editions": {"type": "array", "items": {"enum": list(EDITIONS)}, "description": "of every item that names none"},
    "options": refer("Options"),
    "detail": {"enum": ["report", "findings", "summary"], "description": "of each record; `findings` unless said"},
    "baseline": an_object(
        {"plans": {"type": "object", "additionalProperties": refer("Baseline")}},
        {"baseline_format": {"const": 1}},
        description="an earlier batch: its findings by the key of their record; a record it does not have is all new",
    ),
    "resume_after": {**TEXT, "description": "the key of the last record received; records up to it are left out"},
}
_NAMES = {"type": "array", "items": TEXT, "maxItems": MOST_NAMES}

SHAPES: dict[str, dict[str, Any]] = {
    "Options": {
        "type": "object",
        "description": "how to check",
        "properties": {
            "max_findings": {"type": "integer", "minimum": 1, "description": "the most findings to list"},
            "rules": {**_NAMES, "description": "run only these rules or families of rules"},
            "ignore": {**_NAMES, "description": "leave these rules or families out"},
            "severities": {
                **_NAMES,
                "items": {"enum": ["danger", "code", "advice"]},
                "description": "list only findings of these severities",
            },
            "rooms": {**_NAMES, "description": "list only findings in rooms of these ids"},
            "show_accepted": {"type": "boolean", "description": "let every finding stand, whoever accepted it"},
        },
        "additionalProperties": False,
    },
    "Baseline": an_object(
        {
            "findings": _a_list(
                an_object(
                    {"fingerprint": TEXT, "rule": TEXT},
                    {"pointer": TEXT, "severity": {"enum": ["danger", "code", "advice"]}},
                )
            )
        },
        description="an earlier report, or the part of it that tells its findings apart",
    ),
    "Submission": {
        "type": "object",
        "properties": {
            "plan": refer("Plan"),
            "options": refer("Options"),
            "baseline": refer("Baseline"),
            "suppressions": {
                "type": "object",
                "description": "accepted findings beside the plan, by ids that the plan's own suppressions do not have",
                "additionalProperties": refer("Suppression"),
            },
        },
        "required": ["plan"],
        "additionalProperties": False,
    },
    "ComparisonRequest": {
        "type": "object",
        "properties": {
            "old": refer("Plan"),
            "new": {**refer("Plan"), "description": "the second plan; left out: the first again"},
            "edition_of_second": {"enum": list(EDITIONS), "description": "the edition that the second is checked by"},
        },
        "required": ["old"],
        "anyOf": [{"required": ["new"]}, {"required": ["edition_of_second"]}],
        "additionalProperties": False,
    },
    "Fault": an_object(
        {
            "pointer": {**TEXT, "description": "a JSON Pointer (RFC 6901)"},
            "code": {"enum": [code.value for code in FaultCode]},
            "detail": TEXT,
        }
    ),
    "Lint": an_object(
        {
            "valid": {"type": "boolean"},
            "faults": _a_list(refer("Fault")),
            "total": {**WHOLE, "description": "how many faults there are; not all of very many are listed"},
        },
        {"by_code": BY_CODE},
    ),
    "Problem": an_object(
        {
            "type": {"enum": [kind.uri for kind in PROBLEM_TYPES.values()], "description": "address of what it means"},
            "title": TEXT,
            "status": {"type": "integer"},
            "detail": TEXT,
            "request_id": TEXT,
        },
        {
            "errors": _a_list(
                an_object({"pointer": {**TEXT, "description": "into the body as sent"}, "code": TEXT, "detail": TEXT}),
                maxItems=MOST_ERRORS,
            ),
            "total": {**WHOLE, "description": "how many errors there are"},
            "by_code": BY_CODE,
        },
        description="RFC 9457 problem details",
    ),
    "ProblemKind": _PROBLEM_TYPE,
    "ProblemTypes": an_object({"problems": _a_list(refer("ProblemKind"))}),
    "RuleHead": an_object(_RULE_HEAD),
    "Rules": an_object(
        {"rules": _a_list(refer("RuleHead")), "total": {**WHOLE, "description": "how many fit, listed here or not"}}
    ),
    "Rule": an_object(
        {
            **_RULE_HEAD,
            "why": TEXT,
            "fix": TEXT,
            "changes": _a_list(_CHANGE),
            "limits": _a_list(an_object({**_OF_EDITION, **_LIMIT}, _LIMIT_ALSO), description="its figures, by edition"),
            "provisions": _a_list(
                an_object({**_OF_EDITION, **_PROVISION}, {"source": TEXT}),
                description="what an edition asks and another does not",
            ),
            "cases": _a_list(_CASE),
        },
        {
            "trap": {**TEXT, "description": "where people go wrong"},
            "does_not_judge": {**TEXT, "description": "what nearby the rule leaves out"},
        },
    ),
    "Editions": an_object(
        {
            "editions": _a_list(
                an_object(
                    {
                        "edition": {"enum": list(EDITIONS)},
                        "id": TEXT,
                        "tables": _a_list(an_object({"name": TEXT, "section": TEXT, "text_status": TEXT, "source": TEXT})),
                        "limits": _a_list(an_object(_LIMIT, _LIMIT_ALSO)),
                        "provisions": _a_list(an_object(_PROVISION, {"source": TEXT})),
                    },
                    {"based_on": TEXT},
                )
            )
        }
    ),
    "Units": an_object(
        {
            "grammar": TEXT,
            "directions": an_object({"said": TEXT, "picture": TEXT}),
            "dimensions": _a_list(
                an_object({"name": TEXT, "canonical": TEXT, "spellings": _a_list(TEXT), "example": TEXT, "bare_number": TEXT})
            ),
        }
    ),
    "Calculation": an_object(
        {
            "name": TEXT,
            "edition": {"enum": list(EDITIONS)},
            "result": {"type": "object", "description": "figures by name; a quantity is a value and a unit"},
            "steps": _a_list(
                an_object({"what": TEXT, "value": {"type": "number"}, "unit": TEXT, "citation": TEXT}, {"note": TEXT})
            ),
            "citations": _a_list(TEXT),
            "cautions": _a_list(TEXT),
        }
    ),
    "FixRequest": {
        "type": "object",
        "properties": {
            "plan": refer("Plan"),
            "findings": _a_list(
                {
                    "anyOf": [
                        {**TEXT, "description": "a finding's fingerprint"},
                        {
                            "type": "object",
                            "properties": {"fingerprint": TEXT, "remedy": {**WHOLE, "description": "among those with a patch"}},
                            "required": ["fingerprint"],
                            "additionalProperties": False,
                        },
                    ]
                },
                description="findings that the plan has",
            ),
            "patches": _a_list(_a_list(_OPERATION), description="JSON Patches, as a report has them or of the caller's own"),
        },
        "required": ["plan"],
        "additionalProperties": False,
    },
    "FixPreview": an_object(
        {
            "plan": refer("Plan"),
            "digest": {**TEXT, "description": "of the patched plan"},
            "verdict": {"enum": ["violations", "incomplete", "clear"]},
            "applied": _a_list(an_object({"patch": _a_list(_OPERATION)}, _OF_FIX)),
            "conflicts": _a_list(an_object({"patch": _a_list(_OPERATION), "why": TEXT}, _OF_FIX)),
            "cleared": _a_list(_FOUND, description="findings that are gone"),
            "still_open": _a_list(_FOUND, description="findings that their fix did not clear"),
            "introduced": _a_list(refer("Finding"), description="findings that were not there before"),
        }
    ),
    "BatchHead": {
        "type": "object",
        "properties": _HEAD,
        "additionalProperties": False,
        "description": "the first line of a batch",
    },
    "BatchItem": {
        "type": "object",
        "description": "one model; with `plan`, or a `base` of the head",
        "properties": {
            "key": {**TEXT, "description": "what names its records"},
            "plan": refer("Plan"),
            "base": {**TEXT, "description": "name of a base in the head"},
            "patch": {**_PATCH, "description": "what makes this model of its base"},
            "model_options": {"type": "object", "additionalProperties": refer("ModelOption")},
            "combinations": {
                "anyOf": [{"enum": ["base", "each", "pairs", "all"]}, _a_list(_a_list(TEXT))],
                "description": "of the options: none; each alone; up to two; every set; or the sets listed",
            },
            "editions": _a_list({"enum": list(EDITIONS)}),
            "jurisdictions": _a_list(TEXT, description="names of jurisdictions in the head"),
            "options": refer("Options"),
            "suppressions": {"type": "object", "additionalProperties": refer("Suppression")},
            "baseline": refer("Baseline"),
        },
        "additionalProperties": False,
    },
    "ModelOption": {
        "type": "object",
        "properties": {
            "title": TEXT,
            "patch": _PATCH,
            "needs": _a_list(TEXT, description="options that come with it"),
            "excludes": _a_list(TEXT, description="options that it does not go with"),
        },
        "required": ["patch"],
        "additionalProperties": False,
    },
    "Batch": {"anyOf": [_a_list(refer("BatchItem")), refer("BatchEnvelope")]},
    "BatchEnvelope": {
        "type": "object",
        "description": "a head with its items",
        "properties": {**_HEAD, "items": _a_list(refer("BatchItem"))},
        "required": ["items"],
        "additionalProperties": False,
    },
    "BatchRecord": an_object(
        {"status": {"enum": ["checked", "refused", "failed", "summary"], "description": "`summary` is the last record"}},
        {
            "key": {**TEXT, "description": "the item with its options, edition and jurisdiction"},
            "item": TEXT,
            "edition": TEXT,
            "jurisdiction": TEXT,
            "model_options": _a_list(TEXT),
            "plan": refer("PlanStamp"),
            "verdict": {"enum": ["violations", "incomplete", "clear"]},
            "summary": refer("Summary"),
            "baseline": {"type": "object", "description": "against the baseline: how many new and unchanged, and what is gone"},
            "new": {"type": "object", "additionalProperties": WHOLE, "description": "findings that the baseline does not have"},
            "nearest": _a_list({"type": "object"}, description="passes nearest to their limits"),
            "findings": _a_list(refer("Finding")),
            "accepted": _a_list(refer("Finding")),
            "report": refer("Report"),
            "faults": _a_list(refer("Fault")),
            "total": WHOLE,
            "detail": TEXT,
            "problem": TEXT,
            "records": {**WHOLE, "description": "of the summary: how many records came before it"},
            "digest": {**TEXT, "description": "of the summary: SHA-256 of the records' lines"},
            "resumed_after": TEXT,
            "statuses": {"type": "object"},
            "verdicts": {"type": "object"},
            "violated_most": _a_list({"type": "object"}),
        },
    ),
    "Home": an_object({"name": TEXT, "version": TEXT, "what": TEXT, "caution": TEXT, "links": {"type": "object"}}),
    "Names": an_object({"names": _a_list(TEXT)}),
    "Version": an_object(
        {
            "version": TEXT,
            "packs": _a_list(an_object({"name": TEXT, "version": TEXT, "rules": WHOLE})),
            "editions": _a_list(TEXT),
            "limits": an_object(
                {
                    "max_body": {**WHOLE, "description": "bytes of a plan"},
                    "max_findings": {**WHOLE, "description": "findings that one report lists"},
                    "max_batch": {**WHOLE, "description": "bytes of a batch"},
                    "max_records": {**WHOLE, "description": "records that one batch makes"},
                    "check_budget": {**WHOLE, "description": "steps of work that one check may take"},
                    "time_limit": {**WHOLE, "description": "seconds of computation that one check is given"},
                }
            ),
        }
    ),
}

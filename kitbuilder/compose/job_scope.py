"""The names that a kind's faces and expressions may use, for one job and one item of its list."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from kitbuilder.compose.jobs import Job
from kitbuilder.compose.ruling import ruling_mm


def scope_of(job: Job, item: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """Return item, options, unit, learner, kind, and `ruling`: mm from baseline to top line for this child."""
    learner = job.learner
    return {
        "item": item or {},
        "options": job.options,
        "unit": {"number": job.unit.unit, "title": str(job.unit.title)},
        "learner": {"code": str(learner.code) if learner else "", "left_handed": bool(learner and learner.left_handed)},
        "kind": {"name": job.kind.name, "title": job.kind.title},
        "ruling": ruling_of(job),
        "forms": job.forms,
    }


def ruling_of(job: Job) -> float:
    """Return mm from baseline to top line for the job's child: the kind's option `height`, or by age when it is 0."""
    return float(job.options.get("height") or ruling_mm(job.learner.age if job.learner else None))

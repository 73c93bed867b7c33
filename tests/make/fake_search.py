"""Searches that search nothing, for tests of what is around them; run in processes of their own."""

from __future__ import annotations

import os
import time
from typing import TYPE_CHECKING, Any

from nesting.errors import NestingError

if TYPE_CHECKING:
    from collections.abc import Callable


def task(
    kind: str, payload: dict[str, Any], emit: Callable[[dict[str, Any]], None], told_to_stop: Callable[[], bool]
) -> dict[str, Any]:
    """Do what the job of the fake says: count, hang, fail, end the process."""
    job = payload["job"]
    if job.get("fail"):
        raise NestingError("the cloth is\ntoo narrow")
    if job.get("break"):
        raise ZeroDivisionError("ours")
    if job.get("die"):
        os._exit(3)
    for number in range(job.get("steps", 3)):
        emit({"fabric": 0, "length_mm": 1000 - number} | ({"layout": []} if job.get("shows") else {}))
        if told_to_stop():
            return {"best": 1000 - number, "whole": False}
        time.sleep(job.get("pause", 0))
    while job.get("hang"):
        time.sleep(0.02)
    return {"best": 1000, "whole": True}


def check(kind: str, payload: dict[str, Any]) -> None:
    """Take anything."""

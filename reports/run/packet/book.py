"""The packet as one PDF: counted a second time before a page is drawn."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from reports.run.packet.packet import packet_of
from reports.run.packet.recount import recount

if TYPE_CHECKING:
    from pathlib import Path

    from reports.run.plan import RunPlan


def write_packet(run: RunPlan, path: Path, made: date | None = None) -> None:
    """Write the packet of a run; `made` is the day on its cover, by default today.

    Raises
    ------
    CountError
        If a number of it is not what is counted from the order and the markers.
    """
    from reports.draw.kit.files import save_pages
    from reports.run.packet.pages import packet_pages

    packet = packet_of(run)
    recount(packet, run.order, run.garments, run.lays, run.ribs)
    save_pages(packet_pages(run, packet, made or date.today()), path)

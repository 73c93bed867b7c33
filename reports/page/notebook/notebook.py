"""The notebook of a folder of saved work, gathered from the database, the ledger and the files beside them."""

from __future__ import annotations

import json
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from pieces.errors import PieceError
from pieces.garments.known import find_garment
from pieces.units import format_size
from reports.errors import LedgerFileError
from reports.ledger.journal import Journal
from reports.ledger.standing import standing_of
from reports.page.notebook.projects import asked_in, searches_of, uploads_of
from reports.page.notebook.thing import KeptThing, Notebook
from reports.page.store.patterns import Patterns
from reports.page.store.photos import Photos
from reports.page.store.shelf import Shelf
from reports.page.work_folder import UPLOADS

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from reports.ledger.orders import LedgerOrder
    from reports.page.notebook.thing import ThingKey, ThingKind
    from reports.page.store.store import Store
    from reports.stock.item import StockItem

GOODS: tuple[tuple[str, ThingKind], ...] = (("fabric", "cloth"), ("rib", "rib"), ("trim", "trim"))
"""Tables of a job, and what is on the shelf of it."""

HAND = """
    SELECT id, made, json_extract(result, '$.plan.fabrics') FROM searches
    WHERE kind = 'buy' AND result LIKE '%"stopped_by":"hand"%'
"""
"""Answers with a marker that was laid by hand."""

RUNS = "SELECT id, json_extract(result, '$.cutting_minutes') FROM searches WHERE kind = 'run' AND result IS NOT NULL"
"""What tells a run that was planned from others."""


def notebook_of(store: Store) -> Notebook:
    """All that is kept in a folder; what cannot be read is said."""
    made = Notebook()
    projects = store.rows("SELECT id, name, data, changed FROM projects")
    read = {id_: json.loads(data) for id_, _, data, _ in projects}
    made.add(KeptThing("project", id_, name, _on_project(read[id_]), changed) for id_, name, _, changed in projects)
    made.add(_clients(store))
    goods = Shelf(store).all()
    made.add(KeptThing(one["kind"], one["id"], one["name"], _on_goods(one), one["changed"]) for one in goods)
    made.add(_patterns(store))
    made.add(_layouts(store))
    photos = Photos(store).all()
    made.add(KeptThing("photo", one["id"], one["title"] or "Photo", "", one["made"]) for one in photos)
    for photo in photos:
        made.link(("photo", photo["id"]), (photo["kind"], photo["owner"]))
    orders = _add_ledger(made, store.folder)
    by_name = _by_name(made)
    clients = {thing.name: key for key, thing in made.things.items() if thing.kind == "client"}
    runs = dict(store.rows(RUNS))
    for key, order in orders.items():
        for cloth in {*order.cloth, *(order.data.planned.cloth if order.data.planned else ())}:
            for one in by_name.get(("cloth", _plain(cloth)), ()):
                made.link(key, one)
    for id_, name, _, _ in projects:
        _link_project(made, ("project", id_), read[id_], by_name, clients)
        _link_orders(made, ("project", id_), name, read[id_], orders, runs)
    return made


def _clients(store: Store) -> Iterator[KeptThing]:
    query = """
        SELECT clients.id, name, changed, count(measured.id), max(day) FROM clients
        LEFT JOIN measured ON measured.client = clients.id GROUP BY clients.id
    """
    for id_, name, changed, sets, last in store.rows(query):
        on = f"on {_day(last)}" if last else ""
        measured = f"measured {sets} times, last {on}" if sets > 1 else f"measured {on}" if on else ""
        yield KeptThing("client", id_, name, measured, changed)


def _day(day: str) -> str:
    """A day as people write it."""
    try:
        read = date.fromisoformat(day)
    except ValueError:
        return day
    return f"{read.day} {read:%b %Y}"


def _on_project(data: dict[str, Any]) -> str:
    whom = data.get("whom")
    words = [_garment(asked_in(data).get("garment")), f"for {whom}" if isinstance(whom, str) and whom else ""]
    return ", ".join(word for word in words if word)


def _garment(name: Any) -> str:
    """What a person calls a garment."""
    if name == "imported":
        return "pattern file"
    try:
        return find_garment(str(name)).title
    except PieceError:
        return ""


def _on_goods(thing: dict[str, Any]) -> str:
    data = thing["data"]
    if thing["kind"] == "style":
        return _garment(data.get("garment"))
    if thing["kind"] == "legend":
        rules = data.get("line")
        many = len(rules) if isinstance(rules, list) else 0
        return "1 rule" if many == 1 else f"{many} rules"
    width = next((data[key] for key in ("width", "opened", "lay_flat") if isinstance(data.get(key), str)), "")
    words = [f"{width} wide" if width else "", data.get("price"), data.get("colour")]
    return ", ".join(word for word in words if isinstance(word, str) and word)


def _patterns(store: Store) -> Iterator[KeptThing]:
    """Pieces of pattern files; those of a file that was read otherwise since only where a project has them."""
    now = Patterns(store.folder).pieces()
    used = {name for _, data in store.rows("SELECT id, data FROM projects") for name in uploads_of(json.loads(data))}
    for path in sorted((store.folder / UPLOADS).glob("*.json")):
        name, count, source = _pattern(path)
        if source == RULES:
            continue
        if source in now and now[source] != path.name and path.name not in used:
            continue
        yield KeptThing("pattern", path.name, name, f"{count} pieces" if count != 1 else "1 piece")


RULES = "grade rules"
"""What is said to be the source of a file that holds rules, and no pieces."""


@lru_cache(maxsize=1000)
def _pattern(path: Path) -> tuple[str, int, str]:
    """What an uploaded file is called, its number of pieces, and the file they are of; it is never changed."""
    try:
        held = json.loads(path.read_text(encoding="utf-8"))
        if "pieces" not in held and "sizes" in held:
            return "Grade rules", 0, RULES
        return str(held.get("garment") or "Pattern file")[:60], len(held["pieces"]), str(held.get("pattern", ""))
    except (OSError, ValueError, LookupError, TypeError, AttributeError):
        return "Pattern file that cannot be read", 0, ""


def _layouts(store: Store) -> Iterator[KeptThing]:
    for id_, made, fabrics in store.rows(HAND):
        by_hand = [str(one.get("name")) for one in json.loads(fabrics) if one.get("stopped_by") == "hand"]
        if by_hand:
            yield KeptThing("layout", id_, f"Laid by hand: {', '.join(by_hand)}", changed=made)


def _add_ledger(made: Notebook, folder: Path) -> dict[ThingKey, LedgerOrder]:
    """Put in what is on hand and the orders; the orders."""
    try:
        standing = standing_of(Journal(folder).entries())
    except LedgerFileError as error:
        made.faults.append(str(error))
        return {}
    items = [item for item in standing.items.values() if item.left > 0]
    made.add(KeptThing("stock", str(item.number), _called(item), _left(item), item.day.isoformat()) for item in items)
    for item in items:
        made.link(("stock", str(item.number)), ("stock", str(item.cut_from)))
    orders: dict[ThingKey, LedgerOrder] = {}
    for order in standing.orders.values():
        total = order.total
        about = f"{_garment(order.data.garment) or order.data.garment}, {total['ordered']} ordered, {total['cut']} cut"
        thing = KeptThing("order", str(order.number), order.name, about, order.day.isoformat())
        made.add([thing])
        orders[thing.key] = order
    return orders


def _called(item: StockItem) -> str:
    return f"{item.name} ({item.label})"


def _left(item: StockItem) -> str:
    width = f", {format_size(item.width, item.units)} wide" if item.width else ""
    words = ", ".join(word for word in (item.colour, f"lot {item.lot}" if item.lot else "") if word)
    return f"{item.write(item.left)} left{width}" + (f", {words}" if words else "")


def _by_name(made: Notebook) -> dict[tuple[ThingKind, str], list[ThingKey]]:
    """Goods by kind and name, and what there is of them; these are related to one another as well."""
    found: dict[tuple[ThingKind, str], list[ThingKey]] = {}
    for key, thing in made.things.items():
        if thing.kind in ("cloth", "rib", "trim"):
            found.setdefault((thing.kind, _plain(thing.name)), []).append(key)
    for key, thing in made.things.items():
        if thing.kind != "stock":
            continue
        name, _, label = thing.name.removesuffix(")").rpartition(" (")
        kind: ThingKind = "rib" if label.startswith("rib") else "trim" if label.startswith("trim") else "cloth"
        for other in found.setdefault((kind, _plain(name)), []):
            made.link(key, other)
        found[kind, _plain(name)].append(key)
    return found


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()


def _link_project(
    made: Notebook,
    project: ThingKey,
    data: dict[str, Any],
    by_name: dict[tuple[ThingKind, str], list[ThingKey]],
    clients: dict[str, ThingKey],
) -> None:
    client, whom = data.get("client"), data.get("whom")
    if isinstance(client, str):
        made.link(project, ("client", client))
    elif isinstance(whom, str) and whom in clients:
        made.link(project, clients[whom])
    if isinstance(style := data.get("own_style"), str):
        made.link(project, ("style", style))
    for job in (asked_in(data), data.get("order")):
        for table, kind in GOODS:
            for one in (job or {}).get(table) or [] if isinstance(job, dict) else []:
                name = one.get("name") if isinstance(one, dict) else None
                for held in by_name.get((kind, _plain(str(name))), ()):
                    made.link(project, held)
    for name in uploads_of(data):
        made.link(project, ("pattern", name))
    for search in searches_of(data):
        made.link(project, ("layout", search))


def _link_orders(
    made: Notebook,
    project: ThingKey,
    name: str,
    data: dict[str, Any],
    orders: dict[ThingKey, LedgerOrder],
    runs: dict[str, Any],
) -> None:
    """An order was entered under the project's name, or with what its run planned."""
    planned = {runs[search] for search in searches_of(data) if search in runs}
    for key, order in orders.items():
        is_planned = order.data.planned is not None and order.data.planned.cutting_minutes in planned
        if is_planned or _plain(order.name) == _plain(name):
            made.link(project, key)

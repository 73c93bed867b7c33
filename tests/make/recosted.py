"""A run or a job with its file changed and its plan as it was: the program's own answer to what a workbook shows."""

from __future__ import annotations

import copy
import re
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pieces.units import speaking
from reports.ask.order.order import Order
from reports.money.yardage import purchase
from reports.plan.answers import FabricPlan, RibAnswer, purchase_of
from reports.run.buying import buy_cloth, buy_rib, buy_trim
from reports.run.costing import cost_of

if TYPE_CHECKING:
    import random
    from collections.abc import Mapping

    from reports.ask.job import Job
    from reports.book.goods import LiveGood
    from reports.book.making import LiveMaking
    from reports.plan.plan import Plan
    from reports.run.plan import RunPlan

Data = dict[str, Any]


def file_with(text: str, making: LiveMaking, changes: Mapping[str, Any]) -> Data:
    """The data of a file with inputs of its workbook changed, by their keys."""
    data = copy.deepcopy(tomllib.loads(text))
    for key, value in changes.items():
        found = re.fullmatch(r"(\w+)\[(.*)\]", key)
        if found:  # ordered['rust', 'S']
            colour, size = eval(found[2])
            data["quantity"].setdefault(colour, {})[size] = value
        elif (found := re.fullmatch(r"trim\.(\d+)\.amount\[(.*)\]", key)) is not None:
            trim = data["trim"][int(found[1])]
            trim.setdefault("by_size", {})[eval(found[2])] = _amount(trim["amount"], value)
            if "sizes" in trim and eval(found[2]) not in trim["sizes"]:
                trim["sizes"].append(eval(found[2]))
        else:
            _put(data, key.split(".", 2 if "set_up." in key else -1), value, making)
    return data


def _amount(old: Any, value: float) -> Any:
    return value if isinstance(old, int) else f"{value} m"


def _put(data: Data, path: list[str], value: Any, making: LiveMaking) -> None:
    """Write a value in the place of an entry, in the units of the workbook."""
    of: Any = data
    *folders, last = path
    for name in folders:
        of = of[int(name)] if isinstance(of, list) else of.setdefault(name, {})
    good = next((one for one in making.goods if ".".join(path[:2]) == one.key), None)
    name = {"step": "sold_by", "from": "at_least"}.get(last, last)
    if good is not None and "breaks" in path and last == "price" and not good.by_step:
        of[name] = f"{making.currency}{value} {good.per}"
    elif last == "amount" and path[1] == "after":
        of[name] = f"{making.currency}{value}"
    elif path[:2] != ["pricing", "second"] and (
        last in ("price", "rate", *GIVEN) or path[:2] in (["pricing", "grades"], ["pricing", "set_up"])
    ):
        of[name] = re.sub(r"\d+(\.\d+)?", f"{value}", str(of.get(name, "0.01")), count=1)
    elif good is not None and last in ("step", "minimum", "from"):
        of[name] = value if good.unit == "piece" else f"{value} {good.unit}"
    else:
        of[name] = value


GIVEN = ("wholesale", "retail", "price_step")


def order_of(data: Data, folder: Path = Path()) -> Order:
    """The order of some data."""
    return Order.model_validate(data | {"name": "order.toml", "folder": folder})


def recosted(run: RunPlan, order: Order) -> RunPlan:
    """The same lays and rib plans, bought and costed by another order."""
    old = run.order
    with speaking(order.written_in):
        lots = []
        for plan in run.lots:
            cloths = {key: order.fabric[old.fabric.index(one)] for key, one in plan.lot.cloths.items()}
            lots.append(replace(plan, lot=replace(plan.lot, cloths=cloths)))
        sizes = tuple(
            replace(one, ordered={c: order.quantity.get(c, {}).get(one.name, 0) for c in run.garments.colours})
            if order.quantity
            else one
            for one in run.garments.sizes
        )
        garments = replace(run.garments, sizes=sizes)
        cloth = [
            (plan, key, buy_cloth(one, key, plan.plan.lays, on_pattern=plan.on_pattern))
            for plan in lots
            for key, one in plan.lot.cloths.items()
        ]
        of_rib = [replace(of, rib=order.rib[old.rib.index(of.rib)]) for of in run.ribs]
        ribs = [(of, buy_rib(of.rib, of.plan)) for of in of_rib]
        trims = [buy_trim(trim, trim.supply(run.cut), run.cut, order.written_in) for trim in order.trim]
        bought = (*(one for _, _, one in cloth), *(one for _, one in ribs), *trims)
        costing = cost_of(order, run.cut, garments.ordered, cloth, ribs)
    return replace(
        run, order=order, garments=garments, lots=tuple(lots), ribs=tuple(of_rib), bought=bought, costing=costing
    )


def recosted_plan(plan: Plan, text: str, changes: Mapping[str, Any], making: LiveMaking) -> Plan:
    """The same markers and rib plans, bought and costed by another job."""
    job = _job_of(file_with(text, making, changes), plan.job)
    fabrics = tuple(
        _fabric(job, number, one) if isinstance(one, FabricPlan) else one for number, one in enumerate(plan.fabrics)
    )
    ribs = tuple(_rib(job, number, one) if isinstance(one, RibAnswer) else one for number, one in enumerate(plan.ribs))
    return replace(plan, job=job, fabrics=fabrics, ribs=ribs)


def _job_of(data: Data, old: Job) -> Job:
    return type(old).model_validate(data | {"name": old.name, "folder": old.folder})


def _fabric(job: Job, number: int, one: FabricPlan) -> FabricPlan:
    offer = job.fabric[number]
    bought = purchase_of(offer, one.marker.problem, one.marker.length)
    return replace(one, offer=offer, purchase=bought, cost=offer.cost(bought.buy))


def _rib(job: Job, number: int, one: RibAnswer) -> RibAnswer:
    offer = job.rib[number]
    if one.purchase is None or isinstance(offer.step, str):
        return replace(one, offer=offer, cost=offer.cost(one.plan.count))
    bought = purchase(one.plan.length, offer.step, ends=offer.end_allowance, shrinkage=0.0, margin=0.0)
    return replace(one, offer=offer, purchase=bought, cost=offer.cost(bought.buy))


def random_changes(making: LiveMaking, keys: list[str], dice: random.Random, number: int) -> dict[str, Any]:
    """So many inputs with other values that a file may hold."""
    goods = {good.key: good for good in making.goods}
    chosen = dice.sample([key for key in keys if not key.startswith("cut[")], min(number, len(keys)))
    return {key: _random(key, goods.get(".".join(key.split(".")[:2])), dice) for key in chosen}


def _random(key: str, good: LiveGood | None, dice: random.Random) -> float:
    """A value for an input, by what it is."""
    last = key.rsplit(".", 1)[-1]
    counted = good is None or good.unit in ("piece", "strip")
    if key.startswith("ordered"):
        return dice.randint(1, 7)
    if ".breaks." in key and last == "price" and good is not None:
        return round(float(good.rate or 0) * dice.uniform(0.3, 0.8), 2)
    if last == "price" and good is not None:
        return round(float(good.rate or 1) * dice.uniform(1.0, 2.0), 2)
    if "amount" in key:
        return dice.randint(1, 4) if counted else dice.randint(5, 200)
    if last == "step" and good is not None:
        lengths = (250, 1000) if good.by_step else (0.125, 0.25, 0.3, 0.5, 1)
        return dice.choice((1, 2, 5, 12) if counted else lengths)
    if last in ("minimum", "from") and good is not None:
        most = max(1.0, 3 * good.needed)
        return dice.randint(1, int(most)) if counted else round(dice.uniform(0.1, most), 2)
    return _percent_or_money(last, dice)


def _percent_or_money(last: str, dice: random.Random) -> float:
    if last == "efficiency":
        return dice.choice((70, 85.5, 120))
    if last == "price_step":
        return dice.choice((0.01, 0.05, 0.5, 1, 5))
    if last in ("shrinkage", "margin"):
        return round(dice.uniform(0, 15), 1)
    return round(dice.uniform(0.5, 60), 2)

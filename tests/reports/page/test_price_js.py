"""Prices as people type them are read by the page so that the server takes them; Node runs the page's module."""

from __future__ import annotations

import json
import shutil
import subprocess
from importlib.resources import files
from pathlib import Path

import pytest

from reports.money.price import Price

MODULE = Path(str(files("reports.page"))) / "static" / "js" / "lib" / "price.js"

READ = {
    "12.80": "$12.80 / yd",
    "$12.80": "$12.80 / yd",
    "12,80": "$12.80 / yd",
    "12.80 per yd": "$12.80 / yd",
    "12.80/m": "$12.80 / m",
    "12,80 € / m": "12.80 € / m",
    "€ 12,80 a metre": "€12.80 / m",
    "12.80 EUR": "12.80 EUR / yd",
    "EUR 12.80 per kg": "EUR 12.80 / kg",
    "16.50 / yd": "$16.50 / yd",
    "1,234.50": "$1234.50 / yd",
    "1.234,50 the yard": "$1234.50 / yd",
}
UNREAD = ("", "cheap", "12.80 / bolt", "1,234", "-3", "12.80 per", "12 13")

SCRIPT = """
const price = await import(process.argv[1]);
const read = (text) => {
  try { return price.readPrice(text, { per: "yd", currency: "$" }); } catch (error) { return `! ${error.message}`; }
};
const texts = JSON.parse(process.argv[2]);
const priced = ["$12.80 / yd", "12.80 EUR / m", "12", "€5"];
console.log(JSON.stringify({ read: texts.map(read), currencies: priced.map(price.currencyOf) }));
"""

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="Node runs the page's module here")


def test_prices() -> None:
    """Each is read as meant, and the server reads what it comes to; what could be either is asked for anew."""
    ran = subprocess.run(
        ["node", "--input-type=module", "-e", SCRIPT, MODULE.as_uri(), json.dumps([*READ, *UNREAD])],
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    told = json.loads(ran.stdout)
    assert dict(zip(READ, told["read"], strict=False)) == READ
    for written in READ.values():
        Price.parse(written)
    assert all(words.startswith("! write ") for words in told["read"][len(READ) :]), told["read"][len(READ) :]
    assert told["currencies"] == ["$", "EUR", "", "€"]

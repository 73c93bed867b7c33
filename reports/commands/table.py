"""All commands, in the order in which they are listed, each with an example of its use."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from reports.commands.check import check
from reports.commands.convert import convert
from reports.commands.demo import demo
from reports.commands.draft import draft
from reports.commands.export import export
from reports.commands.garments import garments
from reports.commands.help import help as help_on
from reports.commands.import_pieces import import_pieces
from reports.commands.kit.asking import command_of
from reports.commands.launcher import launcher
from reports.commands.lay import lay
from reports.commands.ledger.looking import export as export_ledger
from reports.commands.ledger.looking import history, strike
from reports.commands.ledger.looking import show as show_ledger
from reports.commands.ledger.orders import cut, delivered, minutes, order, sewn
from reports.commands.ledger.stock import bought, remnant, used
from reports.commands.measures import measures
from reports.commands.new import new
from reports.commands.print import print as print_out
from reports.commands.report import report
from reports.commands.schema import schema
from reports.commands.serve import serve
from reports.commands.sew import sew
from reports.commands.sizes import sizes
from reports.commands.trace import trace
from reports.questions import QUESTIONS

if TYPE_CHECKING:
    from collections.abc import Callable


class CommandRow(NamedTuple):
    """A command: its name, what it does, and an example; one of several actions has a row for each."""

    name: str
    run: Callable[..., None]
    example: str
    actions: tuple[CommandRow, ...] = ()


def ledger() -> None:
    """Keep a ledger: what is on hand, how far orders are, minutes and cloth; nothing is overwritten."""


LEDGER_ACTIONS = (
    CommandRow("bought", bought, 'ellwand ledger bought cloth "rust canvas" "25 yd" --width "60 in" --lot A12'),
    CommandRow("remnant", remnant, 'ellwand ledger remnant "rust canvas" "1 1/4 yd" --width "58 in" --lot A12'),
    CommandRow("used", used, 'ellwand ledger used "roll 1" "2 1/2 yd" --for forty'),
    CommandRow("order", order, "ellwand ledger order forty.toml --run forty/run.json"),
    CommandRow("cut", cut, "ellwand ledger cut forty rust M=8 L=6"),
    CommandRow("sewn", sewn, "ellwand ledger sewn forty rust M=8"),
    CommandRow("delivered", delivered, "ellwand ledger delivered forty rust M=8 --date 2026-11-20"),
    CommandRow("minutes", minutes, "ellwand ledger minutes forty sewing 240 --garments 6"),
    CommandRow("strike", strike, 'ellwand ledger strike 12 --note "entered twice"'),
    CommandRow("show", show_ledger, "ellwand ledger show"),
    CommandRow("history", history, 'ellwand ledger history --item "roll 1"'),
    CommandRow("export", export_ledger, "ellwand ledger export --out ledger"),
)
"""What `ledger` does."""

COMMANDS = (
    CommandRow("new", new, "ellwand new jacket.toml --garment rib-jacket"),
    CommandRow("demo", demo, "ellwand demo"),
    CommandRow("draft", draft, "ellwand draft jacket.toml --out jacket-pieces"),
    CommandRow("sew", sew, "ellwand sew jacket.toml --out jacket-sewing"),
    CommandRow("lay", lay, "ellwand lay jacket.toml --out jacket-marker --seconds 10"),
)
"""Those that come before the questions."""

MORE_COMMANDS = (
    CommandRow("convert", convert, 'ellwand convert "2 1/2 yd" --from 45in --to 54in'),
    CommandRow("garments", garments, "ellwand garments --out garments"),
    CommandRow("sizes", sizes, "ellwand sizes women --job jacket.toml --out jacket-sizes"),
    CommandRow("measures", measures, "ellwand measures --out tape"),
    CommandRow("import", import_pieces, "ellwand import coat.dxf --out coat"),
    CommandRow("trace", trace, "ellwand trace front.jpg back.jpg --out blouse"),
    CommandRow("export", export, "ellwand export jacket.toml --what pieces --as dxf --as svg --out jacket-files"),
    CommandRow("print", print_out, "ellwand print jacket.toml --paper a4 --out jacket-print"),
    CommandRow("report", report, "ellwand report jacket.toml --out jacket.html"),
    CommandRow("check", check, "ellwand check jacket/marker-1.json --job jacket.toml"),
    CommandRow("ledger", ledger, "ellwand ledger show", LEDGER_ACTIONS),
    CommandRow("schema", schema, "ellwand schema buy"),
    CommandRow("serve", serve, "ellwand serve"),
    CommandRow("launcher", launcher, "ellwand launcher"),
    CommandRow("help", help_on, "ellwand help fits"),
)
"""Those that come after the questions."""


def all_commands() -> list[CommandRow]:
    """Every command: the questions are commands as well."""
    asked = [CommandRow(question.name, command_of(question), question.example) for question in QUESTIONS]
    return [*COMMANDS, *asked, *MORE_COMMANDS]

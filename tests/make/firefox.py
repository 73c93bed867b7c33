"""Firefox of the distribution, driven by its own remote control: commands of WebDriver (W3C) over a plain socket.

Playwright drives a Firefox of its own alone, and the usual bridge to WebDriver is in neither Debian 12 nor PyPI.
But the browser itself listens if asked to (`--marionette`): a message is its length, a colon, and a list in JSON.
"""

from __future__ import annotations

import base64
import json
import shutil
import socket
import subprocess
import time
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pathlib import Path

PROGRAMS = ("firefox-esr", "firefox")
"""What distributions call it."""

PREFERENCES = {
    "marionette.port": 0,  # any that is free
    "browser.shell.checkDefaultBrowser": False,
    "browser.startup.homepage_override.mstone": "ignore",
    "datareporting.policy.dataSubmissionEnabled": False,
    "datareporting.healthreport.uploadEnabled": False,
    "toolkit.telemetry.reportingpolicy.firstRun": False,
    "app.normandy.enabled": False,
    "app.update.enabled": False,
    "extensions.update.enabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "browser.safebrowsing.malware.enabled": False,
    "browser.safebrowsing.phishing.enabled": False,
    "services.settings.server": "data:,",
}
"""Nothing is fetched that was not asked for."""

ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
"""What WebDriver calls an element in JSON (12.1 of its recommendation)."""

CONTROL, TAB = "\ue009", "\ue004"
"""Keys, as WebDriver writes them (17.4.2 of its recommendation)."""

FAULTS = """
const base = arguments[0];
const held = Services.console.getMessageArray();
Services.console.reset();
return held
  .filter((said) => said instanceof Ci.nsIScriptError && said.sourceName.startsWith(base))
  .filter((said) => !(said.flags & Ci.nsIScriptError.warningFlag) || /Content-Security-Policy/.test(said.errorMessage))
  .map((said) => `${said.sourceName}:${said.lineNumber}: ${said.errorMessage}`);
"""
"""Errors of scripts and what a policy refused, as the browser's own console holds them."""


class FirefoxError(Exception):
    """What the browser says of a command that failed."""


class Firefox:
    """A browser without a window, with a profile of its own.

    Parameters
    ----------
    folder
        For the profile, and for what the process says.
    """

    def __init__(self, folder: Path) -> None:
        program = next(filter(None, map(shutil.which, PROGRAMS)), None)
        assert program, f"no Firefox here: install {PROGRAMS[0]}"
        profile = folder / "profile"
        profile.mkdir()
        lines = [f"user_pref({json.dumps(name)}, {json.dumps(value)});" for name, value in PREFERENCES.items()]
        (profile / "user.js").write_text("\n".join(lines))
        options = [
            "--headless",
            "--no-remote",
            "--marionette",
            "--remote-allow-system-access",
            "--profile",
            str(profile),
        ]
        self._line: socket.socket | None = None
        with (folder / "said").open("w") as out:
            self._process = subprocess.Popen([program, *options], stdout=out, stderr=out)
        try:
            self._line = socket.create_connection(("127.0.0.1", _port(profile)), timeout=120)
            self._read = self._line.makefile("rb")
            self._take()  # it greets first
            self._number = 0
            self.version = self.ask("WebDriver:NewSession")["capabilities"]["browserVersion"]
            self.ask("WebDriver:SetTimeouts", implicit=60_000, script=60_000)
        except BaseException:
            self.close()
            raise

    def ask(self, command: str, **sent: Any) -> Any:
        """Send a command, and wait for its answer."""
        self._number += 1
        text = json.dumps([0, self._number, command, sent]).encode()
        self._line.sendall(b"%d:%s" % (len(text), text))
        _, number, error, value = self._take()
        assert number == self._number
        if error:
            raise FirefoxError(f"{command}: {error['error']}: {error['message']}")
        return value

    def _take(self) -> Any:
        length = b""
        while (sign := self._read.read(1)) != b":":
            assert sign, "the browser has ended"
            length += sign
        return json.loads(self._read.read(int(length)))

    def open(self, address: str) -> None:
        """Go to a page."""
        self.ask("WebDriver:Navigate", url=address)

    def reload(self) -> None:
        """Load the page anew."""
        self.ask("WebDriver:Refresh")

    def run(self, script: str, *given: Any) -> Any:
        """What a script returns on the page, once its promise is kept."""
        return self.ask("WebDriver:ExecuteScript", script=script, args=list(given))["value"]

    def find(self, css: str) -> str:
        """An element, once it is there."""
        return str(self.ask("WebDriver:FindElement", using="css selector", value=css)["value"][ELEMENT])

    def find_called(self, role: str, name: str) -> str:
        """A button or a link by its words, once it is there."""
        tag = {"button": "button", "link": "a"}[role]
        path = f"//{tag}[normalize-space(.)={json.dumps(name)}]"
        return str(self.ask("WebDriver:FindElement", using="xpath", value=path)["value"][ELEMENT])

    def click(self, element: str) -> None:
        """Click on it as a person does: it must be in sight."""
        self.ask("WebDriver:ElementClick", id=element)

    def fill(self, element: str, text: str) -> None:
        """Type into a field in place of what stands there, and leave it."""
        for keys in (CONTROL + "a", text + TAB):  # what is held is let go after each
            self.ask("WebDriver:ElementSendKeys", id=element, text=keys)

    def press(self, key: str) -> None:
        """Press a key where the focus is, and let go."""
        acts = [{"type": kind, "value": key} for kind in ("keyDown", "keyUp")]
        self.ask("WebDriver:PerformActions", actions=[{"type": "key", "id": "keys", "actions": acts}])

    def wait_for(self, condition: str, *given: Any, seconds: float = 60) -> Any:
        """What a script returns, once it is true."""
        end = time.monotonic() + seconds
        while not (found := self.run(f"return {condition}", *given)):
            assert time.monotonic() < end, (
                f"{condition} does not come; shown: {self.run('return document.body.innerText')}"
            )
            time.sleep(0.05)
        return found

    def faults(self, base: str) -> list[str]:
        """Errors that its console holds of the scripts of a site, and what was refused to it; it holds them no more."""
        self.ask("Marionette:SetContext", value="chrome")
        try:
            return list(self.run(FAULTS, base))
        finally:
            self.ask("Marionette:SetContext", value="content")

    def picture(self, path: Path) -> None:
        """Write what is shown as a PNG."""
        path.write_bytes(base64.b64decode(self.ask("WebDriver:TakeScreenshot", full=False)["value"]))

    def close(self) -> None:
        """End it."""
        self._process.kill()
        self._process.wait()
        if self._line is not None:
            self._read.close()
            self._line.close()


def _port(profile: Path) -> int:
    """Where the browser listens, once it says so."""
    for _ in range(1200):
        try:
            return int((profile / "MarionetteActivePort").read_text())
        except (OSError, ValueError):
            time.sleep(0.05)
    raise AssertionError("Firefox does not listen")

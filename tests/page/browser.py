"""A headless Chromium, spoken to through its own pipes: one message of JSON after another, each
ended by a zero byte. Needs nothing but Python's standard library."""

import json
import os
import select
import shutil
import subprocess
import tempfile
import time

LONGEST_S = 60


class Browser:
    def __init__(self):
        self._folder = tempfile.mkdtemp(prefix="thickset-browser-")
        to_browser, from_us = os.pipe()
        from_browser, to_us = os.pipe()
        self._in, self._out = from_us, from_browser

        def hand_over():
            # The browser reads commands at 3 and writes answers at 4; the pipes may be there already.
            reads, writes = os.dup(to_browser), os.dup(to_us)
            os.dup2(reads, 3)
            os.dup2(writes, 4)

        program = shutil.which("chromium")
        if program is None:
            raise RuntimeError("chromium is not installed")
        self._process = subprocess.Popen(
            [program, "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
             "--hide-scrollbars", "--force-renderer-accessibility", "--remote-debugging-pipe",
             "--user-data-dir=" + self._folder, "about:blank"],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, close_fds=False,
            preexec_fn=hand_over)
        os.close(to_browser)
        os.close(to_us)
        self._number, self._rest, self.events = 0, b"", []
        target = self.ask("Target.createTarget", {"url": "about:blank"})["targetId"]
        self._session = None
        self._session = self.ask(
            "Target.attachToTarget", {"targetId": target, "flatten": True})["sessionId"]
        for domain in ("Page", "Runtime", "Network", "Accessibility"):
            self.ask(domain + ".enable")

    def _receive(self):
        end = time.monotonic() + LONGEST_S
        while b"\0" not in self._rest:
            if not select.select([self._out], [], [], max(0.0, end - time.monotonic()))[0]:
                raise RuntimeError("the browser does not answer")
            got = os.read(self._out, 1 << 20)
            if not got:
                raise RuntimeError("the browser has gone")
            self._rest += got
        message, self._rest = self._rest.split(b"\0", 1)
        return json.loads(message)

    def ask(self, method, parameters=None):
        self._number += 1
        message = {"id": self._number, "method": method, "params": parameters or {}}
        if getattr(self, "_session", None):
            message["sessionId"] = self._session
        data = json.dumps(message).encode() + b"\0"
        while data:
            data = data[os.write(self._in, data):]
        while True:
            answer = self._receive()
            if answer.get("id") == self._number:
                if "error" in answer:
                    raise RuntimeError(method + ": " + answer["error"]["message"])
                return answer["result"]
            self.events.append(answer)

    def open(self, path):
        self.events.clear()
        self.ask("Page.navigate", {"url": "file://" + path})
        while not any(event.get("method") == "Page.loadEventFired" for event in self.events):
            self.events.append(self._receive())

    def requests(self):
        """What the page has asked for since it was opened."""
        return [event["params"]["request"]["url"] for event in self.events
                if event.get("method") == "Network.requestWillBeSent"]

    def size(self, width, height, phone=False):
        self.ask("Emulation.setDeviceMetricsOverride",
                 {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": phone})

    def scheme(self, name, media=""):
        self.ask("Emulation.setEmulatedMedia",
                 {"media": media,
                  "features": [{"name": "prefers-color-scheme", "value": name}]})

    def evaluate(self, script):
        answer = self.ask("Runtime.evaluate", {"expression": script, "returnByValue": True})
        if "exceptionDetails" in answer:
            raise RuntimeError(str(answer["exceptionDetails"]))
        return answer["result"].get("value")

    def press_tab(self):
        for kind in ("keyDown", "keyUp"):
            self.ask("Input.dispatchKeyEvent",
                     {"type": kind, "key": "Tab", "code": "Tab", "windowsVirtualKeyCode": 9})

    def close(self):
        self._process.terminate()
        self._process.wait()
        os.close(self._in)
        os.close(self._out)
        shutil.rmtree(self._folder, ignore_errors=True)

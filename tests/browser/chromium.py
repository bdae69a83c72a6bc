"""A headless Chromium, spoken to over a pipe: no server, no other package than the browser."""
import base64
import json
import os
import shutil
import subprocess
import tempfile

FLAGS = [
    "--headless=new", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-sync",
    "--disable-component-update", "--disable-default-apps", "--disable-extensions", "--hide-scrollbars",
    "--disable-dev-shm-usage", "--remote-debugging-pipe",
]


class Chromium:
    def __init__(self):
        self.profile = tempfile.mkdtemp(prefix="sagband-browser-")
        to_child, self.write_end = os.pipe()
        self.read_end, from_child = os.pipe()
        flags = FLAGS + ["--user-data-dir=" + self.profile] + (["--no-sandbox"] if os.getuid() == 0 else [])

        def take_ends():  # the browser reads from 3 and writes to 4
            high_in, high_out = os.dup2(to_child, 20), os.dup2(from_child, 21)
            os.dup2(high_in, 3)
            os.dup2(high_out, 4)

        self.process = subprocess.Popen(["chromium"] + flags + ["about:blank"], preexec_fn=take_ends, close_fds=False,
                                        stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        os.close(to_child)
        os.close(from_child)
        self.buffer = b""
        self.number = 0
        self.events = []
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self.page = self.ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]

    def close(self):
        self.process.terminate()
        self.process.wait()
        os.close(self.write_end)
        os.close(self.read_end)
        shutil.rmtree(self.profile, ignore_errors=True)

    def _next(self):
        while b"\0" not in self.buffer:
            piece = os.read(self.read_end, 1 << 20)
            if not piece:
                raise RuntimeError("the browser is gone")
            self.buffer += piece
        text, self.buffer = self.buffer.split(b"\0", 1)
        return json.loads(text)

    def ask(self, method, page=None, **parameters):
        self.number += 1
        message = {"id": self.number, "method": method, "params": parameters}
        if page:
            message["sessionId"] = page
        data = json.dumps(message).encode() + b"\0"
        while data:
            data = data[os.write(self.write_end, data):]
        while True:
            answer = self._next()
            if answer.get("id") == self.number:
                if "error" in answer:
                    raise RuntimeError(method + ": " + str(answer["error"]))
                return answer["result"]
            self.events.append(answer)

    def tell(self, method, **parameters):
        return self.ask(method, self.page, **parameters)

    def size(self, wide, tall, dark=False, media=""):
        self.tell("Emulation.setDeviceMetricsOverride", width=wide, height=tall, deviceScaleFactor=1,
                  mobile=wide < 600)
        self.tell("Emulation.setEmulatedMedia", media=media,
                  features=[{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}])

    def open(self, path):
        """Everything that the page says or asks for from here on is in self.events."""
        self.events = []
        for domain in ("Page", "Runtime", "Log", "Network"):
            self.tell(domain + ".enable")
        self.tell("Page.navigate", url="file://" + os.path.abspath(path))
        while not any(e.get("method") == "Page.loadEventFired" for e in self.events):
            self.events.append(self._next())

    def evaluate(self, script):
        answer = self.tell("Runtime.evaluate", expression=script, returnByValue=True)
        if "exceptionDetails" in answer:
            raise RuntimeError(str(answer["exceptionDetails"]))
        return answer["result"].get("value")

    def picture(self, path):
        data = self.tell("Page.captureScreenshot", format="png", captureBeyondViewport=False)["data"]
        with open(path, "wb") as file:
            file.write(base64.b64decode(data))

    def paper(self, path, wide_inches, tall_inches):
        data = self.tell("Page.printToPDF", paperWidth=wide_inches, paperHeight=tall_inches, preferCSSPageSize=False,
                         printBackground=True)["data"]
        with open(path, "wb") as file:
            file.write(base64.b64decode(data))

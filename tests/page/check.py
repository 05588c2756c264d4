"""Holds the firing page to what a browser measures: nothing cut, nothing overlapping, nothing that
scrolls sideways, on a phone, a laptop and a wide screen, light and dark; two sheets at most in
print; names for all pictures and tables; keys reach what can be reached; nothing is fetched.

    python3 tests/page/check.py BUILD_FOLDER [PICTURE.png]

Prints "ok - ..." and "not ok - ..." lines. With a name the page's picture is written there anew."""

import base64
import hashlib
import os
import re
import struct
import subprocess
import sys
import tempfile
import zlib

sys.dont_write_bytecode = True  # nothing is left in the source folder
from browser import Browser  # noqa: E402

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))
PICTURE = os.path.join(ROOT, "notes", "pictures", "page.png")
SCREENS = {"phone": (390, 844, True), "laptop": (1366, 768, False), "wide": (1920, 1080, False)}
MARGIN_IN = 0.35
PAPERS = {"A4": (8.27, 11.69), "Letter": (8.5, 11.0)}

MANY_ROWS = ",".join("%dmm" % mm for mm in range(10, 250, 10))

# Name of a page, and the command that makes it: each form of steps, each command, both units, a long
# list of stretches, walls with all they assume, a title that is one long word.
PAGES = {
    "tail by time": ["tail", "--casting", "block-75x75x150", "--controller", "seven-steps-by-time"],
    "tail by rate, in a mould": [
        "tail", "--casting", "slab-60-open-face", "--controller", "twenty-steps-by-rate"],
    "tail by lines, F and inches": [
        "tail", "--glass", "lead-crystal-24", "--thickness", "4in", "--degrees", "F", "--lengths",
        "inch", "--controller", "ramp-and-hold-lines", "--start", "2026-11-27 18:00"],
    "tail that keeps no limits": [
        "tail", "--casting", "slab-50", "--grade", "1nm/cm", "--steps", "2"],
    "ball": ["tail", "--casting", "ball-90"],
    "program over the limits": [
        "check", "data/programs/slab-50-hurried.csv", "--casting", "slab-50", "--path", "400mm"],
    "log": ["check", "data/logs/slab-50-power-cut.csv", "--casting", "slab-50"],
    "now, in a log": [
        "now", "data/logs/slab-50-power-cut.csv", "--at", "736min", "--casting", "slab-50", "--plan",
        "data/programs/slab-50-gentle.csv"],
    "now, by the display, F": [
        "now", "--air", "750F", "--since-hold", "45min", "--off-for", "45min", "--plan",
        "data/programs/slab-50-gentle.csv", "--casting", "slab-50", "--degrees", "F"],
    "rewarm": ["rewarm", "--casting", "slab-50", "--retardation", "60nm/cm"],
    "twenty steps with long notes": [
        "check", "LONG", "--casting", "slab-80-in-mould", "--start", "2026-11-27 18:00"],
    "table": ["table", "--glass", "casting-soda-lime-9.0"],
    "table without a plan, F and inches": [
        "table", "--glass", "lead-crystal-24", "--mould", "plaster-silica 25mm", "--degrees", "F",
        "--lengths", "inch", "--rows", "1in,2in,4in,6in", "--grade", "2nm/cm", "--controller",
        "ramp-and-hold-lines", "--hold-at", "820F"],
    "table of one row": ["table", "--glass", "soda-lime-float", "--shape", "ball", "--rows", "60mm"],
    "table of 24 rows": ["table", "--glass", "soda-lime-float", "--rows", MANY_ROWS],
    "table of a hostile title": [
        "table", "--glass", "GLASS", "--rows", "20mm,40mm", "--top",
        "plaster-silica 25mm, air 5mm, fibre-blanket 25mm", "--bottom",
        "plaster-silica 25mm, cordierite-shelf 15mm"],
    "hostile title": ["check", "data/programs/slab-50-gentle.csv", "--casting", "HOSTILE"],
}
HOSTILE = ("title = <script>document.title='x'</script>" + "W" * 150 +
           "\nglass = casting-soda-lime-9.0\nshape = slab\nsize = 50 mm\n")
GLASS = ("title = <script>document.title='x'</script>" + "W" * 150 +
         "\nexpansion = 90e-7\nannealing_point = 516 C\nstrain_point = 480 C\n")
LONG = "target_C,rate_C_per_h,hold_min\n" + "".join(
    "%d,%d,%d\n" % (520 - 24 * i, i + 4, i) for i in range(1, 21))

failed = False


def say(holds, what, why=""):
    global failed
    failed = failed or not holds
    print(("ok - " if holds else "not ok - ") + what + ("" if holds else ": " + why), flush=True)


def make(program, folder):
    files = {}
    for word, text, name in (("HOSTILE", HOSTILE, "a.casting"), ("GLASS", GLASS, "a.glass"),
                             ("LONG", LONG, "a.csv")):
        files[word] = os.path.join(folder, name)
        with open(files[word], "w", encoding="utf-8") as file:
            file.write(text)
    made = {}
    for number, (name, words) in enumerate(PAGES.items()):
        page = os.path.join(folder, "page%d.html" % number)
        words = [files.get(word, word) for word in words]
        subprocess.run([program, *words, "--page", page], cwd=ROOT, stdout=subprocess.DEVNULL,
                       stderr=subprocess.DEVNULL, check=False)
        say(os.path.exists(page), name + ": the page is made")
        if os.path.exists(page):
            made[name] = page
    return made


def named(browser, role):
    """Names of all elements with a role, as a screen reader is told."""
    nodes = browser.ask("Accessibility.getFullAXTree")["nodes"]
    return [node.get("name", {}).get("value", "") for node in nodes
            if not node.get("ignored") and node.get("role", {}).get("value") == role]


def check_screens(browser, name):
    measure = open(os.path.join(HERE, "measure.js"), encoding="utf-8").read()
    for screen, (width, height, phone) in SCREENS.items():
        browser.size(width, height, phone)
        faults = []
        for scheme in ("light", "dark"):
            browser.scheme(scheme)
            for opened in ("false", "true"):
                browser.evaluate(
                    "for (const d of document.querySelectorAll('details')) d.open = %s" % opened)
                faults += browser.evaluate(measure)
        say(not faults, "%s, %s: nothing cut, overlapping, small or pale" % (name, screen),
            "; ".join(faults[:6]))
    browser.scheme("dark")
    dark = browser.evaluate("getComputedStyle(document.body).backgroundColor")
    browser.scheme("light")
    light = browser.evaluate("getComputedStyle(document.body).backgroundColor")
    say(dark != light, name + ": dark screens get a dark page", light)


def check_print(browser, name):
    measure = open(os.path.join(HERE, "measure.js"), encoding="utf-8").read()
    for paper, (width_in, height_in) in PAPERS.items():
        browser.size(round(96 * (width_in - 2 * MARGIN_IN)), round(96 * (height_in - 2 * MARGIN_IN)))
        browser.scheme("light", "print")
        # Paper is read from near and touched with a pencil: what is small on a screen is not there.
        faults = [fault for fault in browser.evaluate(measure) if not fault.startswith("small")]
        say(not faults, "%s, %s: nothing cut or overlapping" % (name, paper), "; ".join(faults[:6]))
        browser.scheme("dark")  # paper is white all the same
        pdf = base64.b64decode(browser.ask("Page.printToPDF", {
            "paperWidth": width_in, "paperHeight": height_in, "preferCSSPageSize": False,
            "marginTop": MARGIN_IN, "marginBottom": MARGIN_IN, "marginLeft": MARGIN_IN,
            "marginRight": MARGIN_IN,
            "printBackground": False})["data"])
        sheets = len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))
        say(1 <= sheets <= 2, "%s: one or two sheets of %s" % (name, paper), str(sheets))
    browser.scheme("light")


def check_access(browser, name):
    browser.evaluate("for (const d of document.querySelectorAll('details')) d.open = true")
    for tag, role in (("svg", "image"), ("table", "table"), ("input", "checkbox")):
        wanted = browser.evaluate("document.querySelectorAll('%s').length" % tag)
        names = named(browser, role) or (named(browser, "img") if role == "image" else [])
        say(len(names) == wanted and all(names) and len(set(names)) == wanted,
            "%s: every %s has a name of its own" % (name, role), "%d: %s" % (wanted, names))
    say("Cautions" in named(browser, "heading"), name + ": headings are headings")
    wanted = browser.evaluate(
        "document.querySelectorAll('input').length + document.querySelectorAll('summary').length")
    reached = 0
    for _ in range(wanted):
        browser.press_tab()
        reached += browser.evaluate(
            "['INPUT', 'SUMMARY'].includes(document.activeElement.tagName) && "
            "!document.activeElement.dataset.met && (document.activeElement.dataset.met = 'yes') "
            "? 1 : 0")
    say(reached == wanted, name + ": keys reach every box and every table",
        "%d of %d" % (reached, wanted))


def check_closed(browser, name, path):
    others = [url for url in browser.requests() if url != "file://" + path]
    scripts = browser.evaluate("document.scripts.length")
    say(not others and scripts == 0, name + ": nothing is fetched and nothing runs",
        "%s, %d scripts" % (others, scripts))
    say(browser.evaluate("document.title").startswith(("Firing page: ", "Hours against thickness: ")),
        name + ": has its title")


def size_of(png):
    return struct.unpack(">II", png[16:24])


def picture(browser, path):
    """The page down to the first two charts, and in the picture what words the page then had."""
    browser.open(path)
    browser.size(1100, 1540)
    browser.scheme("light")
    png = base64.b64decode(browser.ask("Page.captureScreenshot", {"format": "png"})["data"])
    words = hashlib.sha256(browser.evaluate("document.body.innerText").encode("utf-8")).hexdigest()
    chunk = b"tEXt" + b"Words\0" + words.encode("ascii")
    header = 8 + 25  # the signature and IHDR
    return (png[:header] + struct.pack(">I", len(chunk) - 4) + chunk
            + struct.pack(">I", zlib.crc32(chunk)) + png[header:])


def words_of(png):
    found = re.search(rb"tEXtWords\0([0-9a-f]{64})", png)
    return found.group(1) if found else None


def main():
    program = os.path.abspath(os.path.join(sys.argv[1], "thickset"))
    browser = Browser()
    try:
        with tempfile.TemporaryDirectory() as folder:
            made = make(program, folder)
            for name, path in made.items():
                browser.open(path)
                check_closed(browser, name, path)
                check_screens(browser, name)
                check_access(browser, name)
                check_print(browser, name)
            png = picture(browser, made["tail by time"])
            if len(sys.argv) > 2:
                with open(sys.argv[2], "wb") as file:
                    file.write(png)
            kept = open(PICTURE, "rb").read()
            say(size_of(png) == size_of(kept), "the page's picture is as large as in the notes",
                "%s, not %s" % (size_of(png), size_of(kept)))
            say(words_of(png) == words_of(kept), "the page says what its picture in the notes says",
                "make it anew: notes/page.md")
    finally:
        browser.close()
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())

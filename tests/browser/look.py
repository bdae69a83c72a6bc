"""The report in a real browser: look.py SAGBAND FOLDER. Pictures of it are left in FOLDER for people to look at."""
import os
import re
import shutil
import subprocess
import sys

from chromium import Chromium

PLANT = "motordata/cawdry-flats"
PHONE, DESK = 390, 1280
# paper in inches, and the pixels that are left between the margins of the style sheet
PAPERS = {"a4": (8.27, 11.69, 703), "letter": (8.5, 11, 725)}

# What sticks out on the right and is not inside a box that scrolls.
OVERFLOW = """(() => {
  const wide = document.documentElement.clientWidth, out = [];
  for (const e of document.querySelectorAll('body *')) {
    if (e.closest('svg') && e.tagName !== 'svg') continue;
    const box = e.parentElement.closest('.wide, .pic');
    if (!box && e.getBoundingClientRect().right > wide + 1)
      out.push(e.tagName + '.' + e.getAttribute('class') + ' ' + e.textContent.slice(0, 40));
  }
  if (document.documentElement.scrollWidth > wide + 1) out.push('the page itself');
  return out;
})()"""

# The same on paper, where nothing can scroll.
CUT = """(() => {
  const wide = document.documentElement.clientWidth, out = [];
  for (const e of document.querySelectorAll('table, svg, p, pre, h2'))
    if (e.getBoundingClientRect().right > wide + 1)
      out.push(e.tagName + ' ' + Math.round(e.getBoundingClientRect().right - wide) + ' px: ' +
               (e.querySelector('caption') || e).textContent.slice(0, 60));
  return out;
})()"""

# What someone who does not see the page, or has no mouse, is left without.
UNHEARD = """(() => {
  const out = [], ids = new Set();
  const miss = (what, e) => out.push(what + ': ' + e.outerHTML.slice(0, 120));
  if (!document.documentElement.lang) out.push('no language');
  if (document.querySelectorAll('h1').length !== 1) out.push('not one h1');
  for (const t of document.querySelectorAll('table')) {
    if (!t.caption || !t.caption.textContent.trim()) miss('no caption', t);
    for (const h of t.querySelectorAll('th')) if (!h.scope) miss('no scope', h);
    for (const r of t.tBodies[0].rows) if (!r.querySelector('th[scope=row]')) miss('no row head', r);
  }
  for (const s of document.querySelectorAll('svg'))
    if (s.getAttribute('role') !== 'img' || !s.getAttribute('aria-label')) miss('no words', s);
  for (const b of document.querySelectorAll('.wide, .pic'))
    if (b.tabIndex !== 0 || !b.getAttribute('aria-label')) miss('not reached by keys', b);
  for (const e of document.querySelectorAll('[id]')) ids.has(e.id) ? miss('twice', e) : ids.add(e.id);
  for (const a of document.querySelectorAll('a')) if (!ids.has(a.hash.slice(1))) miss('leads nowhere', a);
  for (const u of document.querySelectorAll('use')) if (!ids.has(u.href.baseVal.slice(1))) miss('draws nothing', u);
  return out;
})()"""

# Colours of words against what they stand on, WCAG 2.1 1.4.3 (from memory): at least 4.5 to 1.
PALE = """(() => {
  const out = [], seen = new Set();
  const rgb = c => c.match(/[\\d.]+/g).map(Number);
  const light = c => rgb(c).slice(0, 3).map(v => v / 255)
    .map(v => v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
    .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
  const ground = e => { for (; e; e = e.parentElement) { const c = getComputedStyle(e).backgroundColor;
    if (rgb(c).length < 4 || rgb(c)[3] > 0) return c; } return 'rgb(255, 255, 255)'; };
  for (const e of document.querySelectorAll('body *')) {
    if (e.closest('svg') || ![...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())) continue;
    const a = light(getComputedStyle(e).color), b = light(ground(e));
    const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    const key = getComputedStyle(e).color + ground(e);
    if (ratio < 4.5 && !seen.has(key)) { seen.add(key); out.push(ratio.toFixed(2) + ': ' + e.textContent.slice(0, 40)); }
  }
  return out;
})()"""

failures = []


def check(what, found):
    print(("ok      " if not found else "FAILED  ") + what)
    for line in found[:10]:
        print("        " + line)
    if found:
        failures.append(what)


def complaints(browser):
    """What the console was told, and what went wrong."""
    out = []
    for event in browser.events:
        name, p = event.get("method"), event.get("params", {})
        if name == "Log.entryAdded" and p["entry"]["level"] in ("error", "warning"):
            out.append(p["entry"]["text"])
        if name == "Runtime.exceptionThrown":
            out.append(p["exceptionDetails"]["text"])
        if name == "Runtime.consoleAPICalled":
            out.append(str(p["args"]))
        if name == "Page.javascriptDialogOpening":
            out.append("a dialog: " + p["message"])
    return out


def requests(browser, page):
    asked = [e["params"]["request"]["url"] for e in browser.events if e.get("method") == "Network.requestWillBeSent"]
    return [url for url in asked if url != "file://" + os.path.abspath(page)]


def sizes_of(browser, name, folder):
    for wide in (PHONE, DESK):
        for dark in (False, True):
            browser.size(wide, 1600, dark)
            check(f"{name}: nothing sticks out at {wide} px{' (dark)' if dark else ''}", browser.evaluate(OVERFLOW))
            check(f"{name}: words stand out at {wide} px{' (dark)' if dark else ''}", browser.evaluate(PALE))
            browser.picture(f"{folder}/{name}-{wide}{'-dark' if dark else ''}.png")


def papers_of(browser, name, folder):
    for paper, (wide, tall, pixels) in PAPERS.items():
        browser.size(pixels, 1000, media="print")
        check(f"{name}: nothing is cut on {paper}", browser.evaluate(CUT))
        pdf = f"{folder}/{name}-{paper}.pdf"
        browser.size(DESK, 1600)
        browser.paper(pdf, wide, tall)
        with open(pdf, "rb") as file:
            pages = len(re.findall(rb"/Type\s*/Page\b(?!s)", file.read()))
        check(f"{name}: prints on {paper} ({pages} pages)", [] if pages else ["no pages"])


def look_at(browser, name, page, folder):
    browser.size(DESK, 1600)
    browser.open(page)
    check(f"{name}: the console stays empty", complaints(browser))
    check(f"{name}: no request leaves the file", requests(browser, page))
    check(f"{name}: all can be heard and reached", browser.evaluate(UNHEARD))
    sizes_of(browser, name, folder)
    papers_of(browser, name, folder)
    check(f"{name}: the console stays empty to the end", complaints(browser))


HOSTILE = ["<script>window.hacked=1</script>", "<img src=x onerror=window.hacked=1>", "`id`", "\"; system('id') #",
           "=cmd()", "../../x", "' onload='window.hacked=1", "]]><script>window.hacked=1</script>", "a\u202eb", "&lt;b&gt;",
           "\u00e9" * 300, "x" * 5000]


def hostile_list(path):
    quoted = ['"' + tag.replace('"', '""') + '"' for tag in HOSTILE]
    with open(path, "w", encoding="utf-8") as file:
        file.write("tag,rated_volts,rated_hp,feeder\n")
        for i, tag in enumerate(quoted):
            file.write(f"{tag},440,{10 + i},{quoted[i % 2]}\n")


def run_report(program, arguments, folder):
    shutil.rmtree(folder, ignore_errors=True)
    done = subprocess.run([program, "report", "-q", "-o", folder] + arguments, check=False)
    if done.returncode not in (0, 1):
        sys.exit(f"sagband report ended with {done.returncode}")
    return folder + "/index.html"


def main():
    program, folder = sys.argv[1:]
    os.makedirs(folder, exist_ok=True)
    demo = run_report(program, ["-s", PLANT + "/supply.csv", PLANT + "/motors.csv"], folder + "/demo")
    plain = run_report(program, ["--no-pictures", "-v", "480", "motordata/examples/one-motor.csv"], folder + "/plain")
    hostile_list(folder + "/hostile.csv")
    hostile = run_report(program, ["-v", "480", folder + "/hostile.csv"], folder + "/hostile")
    browser = Chromium()
    try:
        look_at(browser, "demo", demo, folder)
        check("demo: it has pictures", [] if browser.evaluate("document.querySelectorAll('svg').length") > 30 else ["few"])
        browser.size(1000, 760)  # for docs/pictures
        browser.picture(folder + "/report.png")
        look_at(browser, "plain", plain, folder)
        look_at(browser, "hostile", hostile, folder)
        check("hostile: nothing ran", ["it did"] if browser.evaluate("'hacked' in window") else [])
        shown = browser.evaluate("document.body.textContent.includes('<script>window.hacked=1</script>')")
        check("hostile: the tag is shown as it is", [] if shown else ["it is not"])
    finally:
        browser.close()
    print(f"{len(failures)} failed; pictures and papers are in {folder}")
    sys.exit(1 if failures else 0)


main()

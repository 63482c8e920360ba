"""The page in a real browser, from a file: widths, what is kept, what leaves it, colours, keyboard, names.

Contrast is computed by the formula of WCAG 2.2 (relative luminance, 4.5 to 1 for text, 3 to 1 for the edges of controls;
from memory), names by the browser's own accessibility tree.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.benchpage.projects import EVIL, data, project

KEY = {"Tab": 9, "Enter": 13, "Space": 32}

CONTRAST = """
const parse = (text) => {
  const found = text.match(/[\\d.]+/g).map(Number);
  return found.length < 4 ? [...found, 1] : found;
};
const light = ([r, g, b]) => {
  const part = [r, g, b].map((v) => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; });
  return 0.2126 * part[0] + 0.7152 * part[1] + 0.0722 * part[2];
};
const ratio = (a, b) => {
  const [x, y] = [light(a), light(b)].sort((p, q) => q - p);
  return (x + 0.05) / (y + 0.05);
};
const behind = (at) => {
  for (; at; at = at.parentElement) {
    const colour = parse(getComputedStyle(at).backgroundColor);
    if (colour[3] === 1) return colour;
  }
  return parse(getComputedStyle(document.documentElement).backgroundColor);
};
const seen = (at) => at.getClientRects().length > 0;
const weak = [];
let n = 0;
for (const at of document.querySelectorAll("body *")) {
  if (!seen(at)) continue;
  const style = getComputedStyle(at);
  const own = Array.from(at.childNodes).some((c) => c.nodeType === 3 && c.textContent.trim());
  if (own || ["INPUT", "SELECT", "TEXTAREA"].includes(at.tagName)) {
    n += 1;
    const drawn = at instanceof SVGElement;
    const told = ratio(parse(drawn ? style.fill : style.color), behind(drawn ? at.closest("div") : at));
    if (told < 4.5) weak.push([at.tagName, at.textContent.slice(0, 40), told]);
  }
  if (["INPUT", "SELECT", "TEXTAREA", "BUTTON"].includes(at.tagName) && at.type !== "checkbox") {
    const told = ratio(parse(style.borderTopColor), behind(at.parentElement));
    if (told < 3) weak.push([at.tagName, "edge", told]);
  }
}
return [n, weak, getComputedStyle(document.body).backgroundColor];
"""


class Page:
    """What the tests do with the browser."""

    def __init__(self, browser: Any, file: Path) -> None:
        self.browser, self.file = browser, file

    def size(self, width: int, height: int = 800) -> None:
        self.cdp(
            "Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=width < 600
        )

    def scheme(self, name: str, media: str = "") -> None:
        self.cdp("Emulation.setEmulatedMedia", media=media, features=[{"name": "prefers-color-scheme", "value": name}])

    def cdp(self, command: str, **values: Any) -> Any:
        return self.browser.execute_cdp_cmd(command, values)

    def open(self, file: Path | None = None) -> None:
        self.browser.get((file or self.file).as_uri())

    def run(self, script: str, *values: Any) -> Any:
        return self.browser.execute_script(script, *values)

    def press(self, key: str) -> None:
        text = {"Enter": "\r", "Space": " "}.get(key, "")
        named = {"key": " " if key == "Space" else key, "code": key, "windowsVirtualKeyCode": KEY[key]}
        self.cdp("Input.dispatchKeyEvent", type="keyDown", text=text, **named)
        self.cdp("Input.dispatchKeyEvent", type="keyUp", **named)

    def tick(self, item: str, *numbers: int) -> None:
        for number in numbers:
            self.run(
                "document.querySelector(`[data-item='${arguments[0]}'] [data-no='${arguments[1]}']`).click()",
                item,
                number,
            )

    def fill(self, item: str, entry: str, field: str, value: str) -> None:
        self.run(
            """const at = document.querySelector(`[data-item='${arguments[0]}'] [data-entry='${arguments[1]}']
               [data-field=${arguments[2]}]`); at.value = arguments[3];
               at.dispatchEvent(new Event("change", {bubbles: true}));""", item, entry, field, value,
        )  # fmt: skip

    def exported(self) -> dict[str, Any]:
        self.run("document.getElementById('show').click()")
        found: dict[str, Any] = json.loads(self.run("return document.getElementById('copied').value"))
        return found

    def said(self) -> str:
        return str(self.run("return document.getElementById('said').textContent"))

    def bring(self, state: dict[str, Any]) -> str:
        self.run("document.getElementById('pasted').value = arguments[0]; document.getElementById('take').click()",
                 json.dumps(state))  # fmt: skip
        return self.said()


@pytest.fixture
def page(browser: Any, file: Path) -> Iterator[Page]:
    """The page open at the size of a desk, nothing ticked."""
    made = Page(browser, file)
    made.size(1280)
    made.scheme("light")
    made.open()
    made.run("localStorage.clear()")
    # what the page keeps as it closes must not come back: it is empty now
    made.open()
    yield made
    made.run("localStorage.clear()")


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_nothing_runs_off_sideways(page: Page, width: int) -> None:
    page.size(width)
    page.open()
    assert page.run("return document.documentElement.scrollWidth") <= width
    right = page.run(
        "return Math.max(...Array.from(document.querySelectorAll('body *')).filter((a) => !a.closest('.paper svg, .stack thead'))"
        ".map((a) => a.getBoundingClientRect().right))"
    )
    assert right <= width + 0.5
    small = page.run(
        "return Array.from(document.querySelectorAll('button, .ticks label, select, nav a'))"
        ".filter((a) => a.getClientRects().length && a.getBoundingClientRect().height < 43).length"
    )
    assert small == 0, "a thumb finds them"


def test_ticks_and_values_are_kept_over_a_reload_and_leave_as_json(page: Page) -> None:
    page.tick("S1", 1, 2, 10)
    page.tick("M1", 2)
    page.run("const by = document.getElementById('by'); by.value = 'A. B.';")
    page.fill("S1", "button", "measured", "5.7")
    page.fill("S1", "button", "accepted", "yes")
    held = page.run("return Object.entries(localStorage).filter(([k]) => k.endsWith('/metric')).map(([, v]) => v)")
    assert len(held) == 1
    assert json.loads(held[0])["items"]["M1"]["ticks"] == {"holes": ["2"]}, "kept at once, not when the page closes"
    page.open()
    ticked = page.run(
        "return Array.from(document.querySelectorAll('[data-no]:checked')).map((b) => "
        "[b.closest('[data-item]').dataset.item, b.dataset.no])"
    )
    assert sorted(ticked) == [["M1", "2"], ["S1", "1"], ["S1", "10"], ["S1", "2"]]
    state = page.exported()
    assert state["items"]["S1"]["ticks"] == {"row-1": ["1", "2", "10"]}
    assert state["items"]["M1"]["ticks"] == {"holes": ["2"]}
    line = state["items"]["S1"]["checklist"]["button"]
    assert (line["measured"], line["accepted"], line["by"]) == ("5.7", "yes", "A. B.")
    assert len(line["date"]) == 10
    assert set(state["items"]) == {"S1", "M1"}
    assert state["title"] == f"Bench {EVIL}"
    assert page.run("return document.querySelector(\"[data-item='S1'] [data-count]\").textContent") == "3 of 10"
    assert "1 of " in page.run("return document.querySelector(\"[data-item='S1'] [data-lines]\").textContent")
    done = page.run("return document.querySelector(\"[data-done='S1']\").textContent")
    assert done.startswith("3/10 spots, 1/")
    # taken away, then brought in again from the text
    page.run("window.confirm = () => true; document.getElementById('clear').click()")
    assert page.exported()["items"] == {}
    assert page.bring(state).startswith("Taken over: 2 items.")
    assert page.exported()["items"] == state["items"]


def test_what_is_saved_is_what_is_ticked(page: Page, tmp_path: Path) -> None:
    page.cdp("Browser.setDownloadBehavior", behavior="allow", downloadPath=str(tmp_path))
    page.tick("S1", 4)
    page.run("document.getElementById('download').click()")
    from selenium.webdriver.support.ui import WebDriverWait

    def whole(_: Any) -> list[Path]:
        return [one for one in tmp_path.glob("*.json") if one.stat().st_size]

    (saved,) = WebDriverWait(page.browser, 20, 0.05).until(whole)
    assert json.loads(saved.read_text(encoding="utf-8")) == page.exported()
    page.run("document.getElementById('download').click()")
    assert page.said() == f"Saved as {saved.name}, where this browser keeps downloads."


def test_a_changed_project_shows_no_old_tick_and_takes_over_what_is_the_same(page: Page, tmp_path: Path) -> None:
    from jointcalc.bench import make_bench
    from jointcalc.check import check

    page.tick("S1", 3)
    page.tick("M1", 1)
    old = page.exported()
    changed = project(pitch="38 mm")
    file = tmp_path / "later.html"
    file.write_bytes(make_bench(changed, [check(item) for item in changed.items]))
    page.open(file)
    assert page.run("return document.querySelectorAll('[data-no]:checked').length") == 0
    assert page.run("return document.getElementById('earlier').hidden") is False
    assert "They are not shown: the project has changed since." in page.run(
        "return document.getElementById('earlier-told').textContent"
    )
    page.run("document.getElementById('earlier-take').click()")
    assert page.said() == "Taken over: 1 item. Left out: 1 item that changed since or are not here."
    assert set(page.exported()["items"]) == {"M1"}
    assert "Left out: 1 item" in page.bring(old)
    for wrong, why in ((dict(old, project="another"), "another project"), (dict(old, units="inch"), "other units"),
                       (dict(old, format="x"), "no file of a bench page")):  # fmt: skip
        assert why in page.bring(wrong)
    page.run("document.getElementById('pasted').value = '{'; document.getElementById('take').click()")
    assert "no JSON" in page.said()
    page.run("window.confirm = () => true; document.getElementById('earlier-drop').click()")
    page.open()
    assert page.run("return document.querySelectorAll('[data-no]:checked').length") == 0, "the old ones are forgotten"


def test_a_page_left_open_follows_and_takes_nothing_away(page: Page) -> None:
    page.tick("S1", 1)
    first = page.browser.current_window_handle
    page.browser.switch_to.new_window("tab")
    page.open()
    page.tick("S1", 7)
    page.browser.close()
    page.browser.switch_to.window(first)
    from selenium.webdriver.support.ui import WebDriverWait

    WebDriverWait(page.browser, 20, 0.05).until(
        lambda _: page.run("return document.querySelectorAll('[data-no]:checked').length") == 2
    )
    page.open()
    assert page.exported()["items"]["S1"]["ticks"] == {"row-1": ["1", "7"]}


def test_what_is_being_typed_is_kept_when_the_page_goes(page: Page) -> None:
    page.run("document.querySelector(\"[data-item='S1'] [data-entry=pitch] [data-field=measured]\").focus()")
    page.cdp("Input.insertText", text="40.1")
    page.open()
    assert page.exported()["items"]["S1"]["checklist"]["pitch"]["measured"] == "40.1"


def test_what_was_filled_in_elsewhere_loses_nothing_that_stands_here(page: Page) -> None:
    page.tick("S1", 1)
    page.fill("S1", "pitch", "measured", "40.2")
    state = page.exported()
    state["items"]["S1"]["ticks"]["row-1"] = ["2"]
    state["items"]["S1"]["checklist"] = {"pitch": {"measured": "39.9"}, "end": {"measured": "<b>20</b>"}}
    assert "1 field held something else and kept it." in page.bring(state)
    found = page.exported()["items"]["S1"]
    assert found["ticks"] == {"row-1": ["1", "2"]}
    assert found["checklist"]["pitch"]["measured"] == "40.2"
    assert found["checklist"]["end"]["measured"] == "<b>20</b>"


def test_no_request_leaves_the_file_and_nothing_else_could_send_one(page: Page) -> None:
    page.browser.get_log("performance")
    page.browser.get_log("browser")
    page.open()
    page.tick("S1", 1)
    sent = []
    for entry in page.browser.get_log("performance"):
        message = json.loads(entry["message"])["message"]
        if message["method"] == "Network.requestWillBeSent":
            sent.append(message["params"]["request"]["url"])
    # what the browser draws its own controls with comes as data: and from nowhere
    assert {url for url in sent if not url.startswith("data:image/svg+xml")} == {page.file.as_uri()}
    assert page.run("return performance.getEntriesByType('resource').length") == 0
    assert page.browser.get_log("browser") == [], "no rule of the page was broken by the page itself"
    # the rule holds: were there markup that asks for something, the browser would refuse
    refused = page.browser.execute_async_script(
        """const done = arguments[0]; const found = [];
        document.addEventListener("securitypolicyviolation", (e) => {
          found.push(e.effectiveDirective);
          if (found.length === 2) done(found.sort());
        });
        const picture = new Image(); picture.src = "http://127.0.0.1:9/x.png"; document.body.append(picture);
        const script = document.createElement("script"); script.textContent = "window.ran = 1";
        document.body.append(script); setTimeout(() => done(found), 5000);"""
    )
    assert refused == ["img-src", "script-src-elem"]
    assert page.run("return window.ran === undefined")
    page.browser.get_log("browser")


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_stands_out_in_both_schemes(page: Page, scheme: str, width: int) -> None:
    page.size(width)
    page.scheme(scheme)
    page.open()
    page.run("document.querySelector('details').open = true")
    n, weak, ground = page.run(CONTRAST)
    assert n > 300
    assert weak == []
    assert (ground == "rgb(255, 255, 255)") == (scheme == "light")


def test_paper_is_white_whatever_the_screen(page: Page) -> None:
    page.scheme("dark", "print")
    page.open()
    n, weak, ground = page.run(CONTRAST)
    assert n > 200
    assert weak == []
    assert ground == "rgb(255, 255, 255)"
    assert page.run("return getComputedStyle(document.querySelector('nav')).display") == "none"
    assert (
        page.run("return getComputedStyle(document.querySelector('.keep').closest('[data-script]')).display") == "none"
    )
    page.scheme("light")


def test_the_keyboard_reaches_the_ticks_and_its_place_is_seen(page: Page) -> None:
    page.run("document.querySelector('nav a').focus()")
    name = page.run("return document.activeElement.textContent.split(':')[0]")
    page.press("Enter")
    assert page.run("return document.activeElement.closest('[data-item]').dataset.item") == name
    for _ in range(8):
        page.press("Tab")
        outline = page.run(
            "const s = getComputedStyle(document.activeElement); return [s.outlineStyle, s.outlineWidth]"
        )
        assert outline[0] == "solid"
        assert float(outline[1].removesuffix("px")) >= 2
        if page.run("return document.activeElement.type") == "checkbox":
            break
    assert page.run("return document.activeElement.dataset.no") == "1"
    page.press("Space")
    assert page.run("return document.activeElement.checked") is True
    assert page.said().startswith(f"{name}: 1 of ")
    assert page.run("const s = document.getElementById('said'); return [s.role, s.ariaLive]") == ["status", "polite"]
    page.press("Tab")
    page.press("Space")
    assert page.said().startswith(f"{name}: 2 of ")


def test_every_control_and_drawing_has_a_name(page: Page) -> None:
    page.run("document.querySelector('details').open = true")
    nodes = page.cdp("Accessibility.getFullAXTree")["nodes"]
    wanted = {"checkbox", "textbox", "combobox", "button", "link", "image", "table", "Date", "spinbutton"}
    found: dict[str, int] = {}
    for node in nodes:
        role = node.get("role", {}).get("value")
        if node.get("ignored") or role not in wanted:
            continue
        found[role] = found.get(role, 0) + 1
        assert node.get("name", {}).get("value", "").strip(), node
    assert found["checkbox"] == 17
    assert found["combobox"] > 30
    assert found["textbox"] > 60
    names = [node["name"]["value"] for node in nodes if node.get("role", {}).get("value") == "textbox"]
    assert any("Pitch" in name and "Measured" in name for name in names)
    ticks = [n["name"]["value"] for n in nodes if n.get("role", {}).get("value") == "checkbox"]
    assert "1 20 · 380" in ticks


def test_it_is_a_page_to_read_without_scripts(page: Page) -> None:
    page.cdp("Emulation.setScriptExecutionDisabled", value=True)
    try:
        page.open()
        tree = page.cdp("DOM.getDocument", depth=1)["root"]["nodeId"]
        shown = page.cdp("DOM.querySelector", nodeId=tree, selector="noscript p")["nodeId"]
        assert shown, "it says that nothing is kept"
        assert page.cdp("DOM.getBoxModel", nodeId=shown)["model"]["height"] > 10
        box = page.cdp("DOM.querySelector", nodeId=tree, selector="article input[type=checkbox]")["nodeId"]
        assert page.cdp("DOM.getBoxModel", nodeId=box)["model"]["height"] > 10
        button = page.cdp("DOM.querySelector", nodeId=tree, selector="#download")["nodeId"]
        with pytest.raises(Exception, match="box model"):
            page.cdp("DOM.getBoxModel", nodeId=button)  # nothing is offered that cannot work
    finally:
        page.cdp("Emulation.setScriptExecutionDisabled", value=False)


@pytest.mark.parametrize("width", [320, 390])
def test_a_unit_stands_whole_beside_what_is_measured(page: Page, width: int) -> None:
    page.size(width)
    page.open()
    lines = page.run(
        "return [...document.querySelectorAll('.value .soft')].map("
        "s => s.getClientRects().length && s.getBoundingClientRect().height / parseFloat(getComputedStyle(s).lineHeight))"
    )
    assert len(lines) > 20
    assert max(lines) < 1.5


def test_drawings_are_printed_so_that_their_lettering_is_read(page: Page) -> None:
    """Paper of 182 mm between its margins: lettering of 8 pt is no smaller than 6 pt, a pixel is 3/4 pt (CSS)."""
    page.size(688)
    page.scheme("light", "print")
    scales = page.run(
        "return [...document.querySelectorAll('.paper svg')].map("
        "s => s.getBoundingClientRect().width / s.viewBox.baseVal.width * 0.75)"
    )
    page.scheme("light")
    assert len(scales) > 5
    assert min(scales) * 8 >= 6.0


def test_it_prints(page: Page) -> None:
    import io
    from base64 import b64decode

    from pypdf import PdfReader

    made = page.cdp("Page.printToPDF", preferCSSPageSize=True)["data"]
    reader = PdfReader(io.BytesIO(b64decode(made)))
    text = [" ".join(one.extract_text().split()) for one in reader.pages]
    assert len(reader.pages) >= 1 + len(data()["seam"] + data()["plug"] + data()["bolts"]), "each item begins a page"
    assert "DOES NOT HOLD" in text[0]
    assert any("Inspection checklist" in one for one in text)
    assert not any("Save as JSON" in one for one in text)

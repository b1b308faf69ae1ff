"""The site asks no other host for anything, and its pages run nothing but their own."""

import base64
import hashlib
import re
import subprocess
from html.parser import HTMLParser

import pytest
from conftest import ROOT, wait_ready, wait_until
from serve import read_headers


class Outside(HTMLParser):
    """Collects addresses that a page would load, and inline scripts, styles, handlers."""

    def __init__(self, page):
        super().__init__(convert_charrefs=False)
        self.loads, self.scripts, self.inline, self._script = [], [], [], False
        self.policy = None
        self.feed(page.read_text(encoding="utf-8"))

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        for name in ("src", "srcset", "poster", "data", "action"):
            if given.get(name):
                self.loads.append(given[name])
        if tag == "link" and given.get("rel") not in ("canonical", "prev", "next"):
            self.loads.append(given["href"])
        self.inline += [name for name in given if name == "style" or name.startswith("on")]
        if tag == "style":
            self.inline.append("style element")
        if tag == "meta" and given.get("http-equiv") == "Content-Security-Policy":
            self.policy = given["content"]
        self._script = tag == "script" and "src" not in given and "type" not in given
        if self._script:
            self.scripts.append("")

    def handle_data(self, data):
        if self._script:
            self.scripts[-1] += data

    def handle_endtag(self, tag):
        if tag == "script":
            self._script = False


@pytest.fixture(scope="module")
def pages(site):
    return {page.relative_to(site): Outside(page) for page in site.rglob("*.html")}


def test_no_page_loads_anything_from_another_origin(pages):
    assert len(pages) >= 8
    for name, page in pages.items():
        outside = [one for one in page.loads if re.match(r"(?i)(?:[a-z][a-z0-9+.-]*:|//)", one)]
        assert outside == [], name


def test_no_page_has_inline_styles_or_handlers(pages):
    for name, page in pages.items():
        assert page.inline == [], name


def test_policy_permits_the_inline_scripts_by_hash_and_nothing_loose(pages, site):
    (from_header,) = [
        value for name, value in read_headers(site) if name == "Content-Security-Policy"
    ]
    for name, page in pages.items():
        assert page.policy, name
        assert from_header == f"{page.policy}; frame-ancestors 'none'"
        for script in page.scripts:
            digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
            assert f"'sha256-{digest}'" in page.policy, name
    rules = dict(rule.split(" ", 1) for rule in from_header.split("; "))
    assert rules["default-src"] == "'none'"
    assert rules["style-src"] == rules["connect-src"] == rules["font-src"] == "'self'"
    scripts = [one for one in rules["script-src"].split() if not one.startswith("'sha256-")]
    assert scripts == ["'self'", "'wasm-unsafe-eval'"]
    assert not re.search(r"'unsafe-(inline|eval)'|\*|https?:", from_header)
    assert rules["require-trusted-types-for"] == "'script'"
    assert rules["trusted-types"] == "worker reply look dompurify default"


def test_policy_comes_before_everything_it_must_cover(site):
    for page in site.rglob("*.html"):
        text = page.read_text(encoding="utf-8")
        assert text.index("Content-Security-Policy") < text.index("<script")
        assert text.index("Content-Security-Policy") < text.index("<link")


def test_policy_stops_a_script_that_got_in(context, served):
    context.watch.excused += ["Content Security Policy", "TrustedScript"]
    page = context.new_page()
    page.goto(served.url)
    page.evaluate(
        """() => {
            const script = document.createElement("script");
            // What stands in it is refused before the policy's hashes are asked.
            const words = "window.gotIn = true";
            try { script.textContent = words; } catch { script.append(words); }
            document.body.append(script);
            const image = document.createElement("img");
            try { image.setAttribute("onerror", words); } catch { window.isRefused = true; }
            image.addEventListener("error", () => { window.isOver = true; });
            image.src = "/none";
            document.body.append(image);
        }"""
    )
    wait_until(page, "window.isOver")
    context.watch.excused.append("404")
    assert page.evaluate("[window.gotIn, window.isRefused]") == [None, True]


PAYLOADS_IN_A_LINK = [
    "<img src=x onerror=window.gotIn=1>",
    '"><script>window.gotIn=1</script>',
    "'-alert(1)-'",
    "javascript:window.gotIn=1",
    "<svg/onload=window.gotIn=1>",
]


@pytest.mark.parametrize("payload", PAYLOADS_IN_A_LINK)
def test_a_hostile_link_shows_its_text_and_does_nothing(page, served, payload):
    from urllib.parse import quote

    text = quote(payload)
    page.goto(
        f"{served.url}coil-wiring/?coil-wiring.drivers={text}&coil-wiring.nix={text}"
        f"&meter-check.intended={text}"
    )
    page.wait_for_selector("#meter-check .error-summary:not([hidden])")
    wait_ready(page)
    assert page.evaluate("window.gotIn") is None
    assert page.query_selector(".calculator :is(script, img, [onerror], [onload])") is None
    assert payload[:20] in page.inner_text("#coil-wiring .notices")
    assert page.input_value("#meter-check--intended") == payload


def test_server_gives_the_headers_with_every_file(site, served):
    from urllib.request import urlopen

    wanted = dict(read_headers(site))
    for address in ("", "assets/runtime/worker.js", "sw.js"):
        with urlopen(served.url + address) as answer:
            assert {name: answer.headers[name] for name in wanted} == wanted


def test_server_gives_nothing_outside_the_site(served):
    import http.client

    for path in (
        "/../mkdocs.yml",
        "/%2e%2e/mkdocs.yml",
        "/..%2f..%2fmkdocs.yml",
        "//etc/passwd",
        "/assets/../../calc/app/page.py",
    ):
        connection = http.client.HTTPConnection("127.0.0.1", served.port)
        connection.request("GET", path)
        answer = connection.getresponse()
        body = answer.read()
        assert answer.status in (301, 404), path
        assert b"site_name" not in body and b"root:" not in body and b"def respond" not in body
        assert not (answer.getheader("Location") or "/x").startswith("//")


def committed():
    """Texts of all files that git holds or would hold, except pictures."""
    names = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    ).stdout.splitlines()
    for name in names:
        path = ROOT / name
        if path.is_file() and path.suffix not in (".png", ".woff2"):
            yield name, path.read_text(encoding="utf-8", errors="replace")


def test_no_file_names_a_package_registry_or_a_path_of_a_machine():
    hosts = "|".join(
        ["registry\\.npm" + "js", "py" + "pi\\.org", "python" + "hosted", "deb\\." + "debian"]
    )
    paths = "|".join(["/ro" + "ot/", "/wo" + "rk/", "/ho" + "me/(?!pyodide)"])
    for name, text in committed():
        assert not re.search(hosts, text), name
        assert not re.search(paths, text), name


def test_lock_files_hold_a_hash_for_every_package():
    import json

    for lock in ("requirements.txt", "requirements-test.txt"):
        text = (ROOT / "build" / lock).read_text(encoding="utf-8")
        pinned = re.findall(r"(?m)^[a-z0-9][^\s=]*==", text)
        blocks = re.split(r"(?m)^(?=[a-z0-9])", text)
        assert len(pinned) > 10
        for block in blocks:
            assert not re.match(r"[a-z0-9]", block) or "--hash=sha256:" in block
    for folder in ("web", "lighthouse"):
        lock = json.loads((ROOT / "build" / folder / "package-lock.json").read_text())
        for name, package in lock["packages"].items():
            assert name == "" or package.get("integrity", "").startswith("sha512-"), name
            assert "resolved" not in package

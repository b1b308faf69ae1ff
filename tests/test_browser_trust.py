"""What becomes part of a page is vouched for or cleaned (Trusted Types): the theme's texts too."""

import re

import pytest
from conftest import SITE_PAGES, sampled, wait_ready, wait_until

TRY = """([act, text]) => {
    const acts = {
        markup: () => {
            const box = document.createElement("div");
            box.innerHTML = text;
            return box.innerHTML;
        },
        page: () => {
            const page = new DOMParser().parseFromString(text, "text/html");
            return page.documentElement.outerHTML;
        },
        address: () => { document.createElement("script").src = text; return "taken"; },
        worker: () => { new Worker(text).terminate(); return "taken"; },
        script: () => { document.createElement("script").text = text; return "taken"; },
        handler: () => { document.body.setAttribute("onclick", text); return "taken"; },
        policy: () => { trustedTypes.createPolicy(text, {}); return "taken"; },
    };
    try {
        return acts[act]();
    } catch (error) {
        return `${error.name}`;
    }
}"""
REFUSED = (
    ("address", "https://example.org/other.js"),
    ("address", "data:text/javascript,1"),
    ("address", "blob:null/1"),
    ("address", "../../../none"),
    ("worker", "//example.org/worker.js"),
    ("worker", "javascript:1"),
    ("script", "window.gotIn = true"),
    ("handler", "window.gotIn = true"),
    ("policy", "another"),
    ("policy", "default"),
    ("policy", "reply"),
)
# What could run, and what must be left of it.
HOSTILE = {
    "<b>one</b><script>window.gotIn = 1</script>": "<b>one</b>",
    '<img src="none" onerror="window.gotIn = 1">': '<img src="none">',
    '<a href="javascript:window.gotIn = 1">x</a>': "<a>x</a>",
    '<a href="java\tscript:window.gotIn = 1">x</a>': "<a>x</a>",
    "<svg><animate onbegin=window.gotIn=1 attributeName=x /></svg>": "<svg></svg>",
    '<iframe srcdoc="<script>parent.gotIn = 1</script>"></iframe>': "",
    "<mark>bridge</mark>d &lt;power&gt;": "<mark>bridge</mark>d &lt;power&gt;",
}
RUNNING = (
    "<script>window.gotIn = 1</script>",
    "<script src='//example.org/other.js'></script>",
    "<img src=none onerror='window.gotIn = 1'>",
    "<a href='java\nscript:window.gotIn = 1'>x</a>",
    "<iframe src='//example.org'></iframe>",
    "<base href='//example.org/'>",
    "<object data='none'></object>",
    "<svg><script>window.gotIn = 1</script></svg>",
)


# Which pages would not be shown as they are, after a look at them.
AS_THEY_ARE = """async ([root, pages]) => {
    const changed = [];
    for (const page of pages) {
        const text = await (await fetch(root + page)).text();
        const sink = "DOMParser parseFromString";
        const clean = trustedTypes.defaultPolicy.createHTML(text, "TrustedHTML", sink);
        if (String(clean) !== text) changed.push(page);
    }
    return changed;
}"""


@pytest.fixture
def page(context, served):
    page = context.new_page()
    page.goto(f"{served.url}calculators/bridged-output/")
    yield page
    assert page.evaluate("window.gotIn") is None


def attempt(page, act, text):
    return page.evaluate(TRY, [act, text])


def test_no_script_address_policy_or_handler_is_made(page, context):
    context.watch.excused += ["Content Security Policy", "Trusted", "createPolicy"]
    for act, text in REFUSED:
        assert attempt(page, act, text) == "TypeError", (act, text)
    assert attempt(page, "address", "../../assets/page.js") == "taken"


def test_markup_of_others_is_cleaned(page, context):
    # The engine tells of handlers even where it parses for looking only.
    context.watch.excused += ["inline event handler", "404"]
    for text, left in HOSTILE.items():
        assert attempt(page, "markup", text) == left, text


@pytest.mark.parametrize("start", sampled(["calculators/bridged-output/", "basics/"], ["basics/"]))
def test_every_page_of_the_site_stays_as_it_is(page, served, start):
    """From a page with calculators and from one without."""
    page.goto(served.url + start)
    names = [*SITE_PAGES, "sitemap.xml"]
    assert page.evaluate(AS_THEY_ARE, [served.url, names]) == []


def test_all_pages_have_the_same_scripts_in_them(site):
    """One that the page before has not would have the next one cleaned, of its styles too."""
    pages = [site / page / "index.html" for page in SITE_PAGES] + [site / "404.html"]
    inline = re.compile(r"<script(?![^>]*(?: src=| type=))[^>]*>(.*?)</script>", re.DOTALL)
    found = [set(inline.findall(page.read_text(encoding="utf-8"))) for page in pages]
    assert len(found[0]) == 4
    assert [name for name, own in zip(pages, found, strict=True) if own != found[0]] == []


def test_a_page_without_calculators_leads_to_one_with_them(page, served):
    page.goto(served.url + "basics/")
    wait_until(page, "document.querySelector('[data-colours]').ariaLabel")
    page.evaluate("window.isSamePage = true")
    sheets = page.evaluate("document.styleSheets.length")
    page.click(".md-footer__link--next")
    assert wait_ready(page) == "image"
    assert page.evaluate("location.pathname.endsWith('/bridging/') && window.isSamePage")
    assert page.evaluate("document.styleSheets.length") == sheets


def test_a_page_that_could_run_something_is_cleaned(page, context):
    context.watch.excused += ["inline event handler", "base URI"]
    whole = "<!doctype html><html><head><title>x</title></head><body><p>text</p>%s</body></html>"
    for text in RUNNING:
        left = attempt(page, "page", whole % text)
        assert "<p>text</p>" in left
        for sign in ("gotIn", "example.org", "<object", "<script", "<iframe", "<base"):
            assert sign not in left, text


def test_the_search_and_the_next_page_come_without_a_load(page, context):
    wait_ready(page)
    page.evaluate("window.isSamePage = true")
    page.fill("input[name=query]", "<img src=none onerror=window.gotIn=1> bridge")
    wait_until(page, "document.querySelector('.md-search-result mark')")
    assert page.locator(".md-search-result img").count() == 0
    page.fill("input[name=query]", "")
    page.type("input[name=query]", "voice coil")  # the theme searches where a key is let go
    # Of the new words: a click on results that are just being replaced would be lost.
    link = ".md-search-result__link[href*=coil]:has(mark)"
    wait_until(
        page,
        f"""[...document.querySelectorAll("{link} mark")].some(
            ({{ textContent }}) => /coil/i.test(textContent))""",
    )
    page.click(f"{link} >> nth=0")
    wait_until(page, "location.pathname.includes('coil')")
    wait_until(page, "document.querySelector('[data-calculator=coil-wiring]')")
    assert page.evaluate("window.isSamePage")
